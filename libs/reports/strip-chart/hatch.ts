/** Fillings that are told apart without colour. Lines are cut at the box, so that no writer has to clip. */
import type { Box } from '../canvas.js';
import type { Pen, Segment, Shape } from './shapes.js';

/** Rising and falling lines of a pitch, at a slope of 45°, upright lines, and crosses. */
export type Hatch = 'rising' | 'falling' | 'wide-falling' | 'crossed' | 'upright' | 'crosses' | 'dots';

const PITCH_EM: Readonly<Record<Hatch, number>> = { rising: 0.55, falling: 0.55, 'wide-falling': 1.1, crossed: 0.36, upright: 0.3, crosses: 1.2, dots: 0.4 };
const PENS: Readonly<Record<Hatch, Pen>> = {
  rising: { ink: 'black', widthPt: 0.7 }, falling: { ink: 'black', widthPt: 0.7 }, 'wide-falling': { ink: 'dark', widthPt: 0.5 },
  crossed: { ink: 'black', widthPt: 0.9 }, upright: { ink: 'black', widthPt: 0.6 }, crosses: { ink: 'black', widthPt: 0.9 }, dots: { ink: 'black', widthPt: 1 },
};

/** The lines of a hatch in a box. They lie on one grid, so that boxes side by side go on into each other. */
export function hatched(area: Box, hatch: Hatch, emPt: number): Shape[] {
  const pitchPt = PITCH_EM[hatch] * emPt;
  const segments = linesOf(area, hatch, pitchPt);
  return segments.length === 0 ? [] : [{ kind: 'strokes', segments, pen: PENS[hatch] }];
}

function linesOf(area: Box, hatch: Hatch, pitchPt: number): Segment[] {
  switch (hatch) {
    case 'rising': return slanting(area, 1, pitchPt);
    case 'falling': case 'wide-falling': return slanting(area, -1, pitchPt);
    case 'crossed': return [...slanting(area, 1, pitchPt), ...slanting(area, -1, pitchPt)];
    case 'upright': return upright(area, pitchPt);
    case 'crosses': return crosses(area, pitchPt);
    case 'dots': return dots(area, pitchPt);
  }
}

const gridFrom = (fromPt: number, pitchPt: number): number => Math.ceil(fromPt / pitchPt);

/** Lines y = c − x (rising on paper) or y = x − c (falling), cut at the box. */
function slanting({ xPt, yPt, widthPt, heightPt }: Box, sign: 1 | -1, pitchPt: number): Segment[] {
  const segments: Segment[] = [];
  const [right, bottom] = [xPt + widthPt, yPt + heightPt];
  const [least, most] = sign === 1 ? [xPt + yPt, right + bottom] : [xPt - bottom, right - yPt];
  for (let step = gridFrom(least, pitchPt); step * pitchPt < most; step += 1) {
    const c = step * pitchPt;
    const [fromX, toX] = sign === 1 ? [Math.max(xPt, c - bottom), Math.min(right, c - yPt)] : [Math.max(xPt, c + yPt), Math.min(right, c + bottom)];
    if (toX > fromX) segments.push([fromX, sign === 1 ? c - fromX : fromX - c, toX, sign === 1 ? c - toX : toX - c]);
  }
  return segments;
}

function upright({ xPt, yPt, widthPt, heightPt }: Box, pitchPt: number): Segment[] {
  const segments: Segment[] = [];
  for (let step = gridFrom(xPt, pitchPt); step * pitchPt < xPt + widthPt; step += 1) {
    segments.push([step * pitchPt, yPt, step * pitchPt, yPt + heightPt]);
  }
  return segments;
}

/** A row of crosses in the middle, as many as fit whole. */
function crosses({ xPt, yPt, widthPt, heightPt }: Box, pitchPt: number): Segment[] {
  const halfPt = Math.min(heightPt * 0.3, pitchPt * 0.28);
  const middlePt = yPt + heightPt / 2;
  const segments: Segment[] = [];
  for (let step = gridFrom(xPt + halfPt, pitchPt); step * pitchPt <= xPt + widthPt - halfPt; step += 1) {
    const centrePt = step * pitchPt;
    segments.push([centrePt - halfPt, middlePt - halfPt, centrePt + halfPt, middlePt + halfPt]);
    segments.push([centrePt - halfPt, middlePt + halfPt, centrePt + halfPt, middlePt - halfPt]);
  }
  return segments;
}

/** Short dashes on a grid, every other row moved by half a pitch. */
function dots({ xPt, yPt, widthPt, heightPt }: Box, pitchPt: number): Segment[] {
  const segments: Segment[] = [];
  const dotPt = pitchPt / 4;
  for (let row = gridFrom(yPt + 0.5, pitchPt); row * pitchPt <= yPt + heightPt - 0.5; row += 1) {
    const shiftPt = row % 2 === 0 ? 0 : pitchPt / 2;
    for (let step = gridFrom(xPt - shiftPt, pitchPt); step * pitchPt + shiftPt + dotPt <= xPt + widthPt; step += 1) {
      segments.push([step * pitchPt + shiftPt, row * pitchPt, step * pitchPt + shiftPt + dotPt, row * pitchPt]);
    }
  }
  return segments;
}
