/**
 * The state of a coil on its tag: in words, and in a shape of its own that shows from afar, in black and white and in
 * poor light. Common practice, no published source.
 */
import { type Box, type Canvas, lineHeightPt, type Rule } from './canvas.js';
import type { CoilTagState } from './coil-data.js';
import { fitText } from './fit-text.js';

/** Close lines are safe: the words are Latin capitals, without accents or descenders. */
const WORDS = { largestPt: 52, smallestPt: 20, isBold: true, leading: 1.1 };
/** How much further the middle of a capital stands below the top of such a line than half its height. */
const CAPITAL_DROP = 0.085;
const BAR_PT = 20;
const FRAME_PT = 4;
const PADDING_PT = 4;

function shrunk({ xPt, yPt, widthPt, heightPt }: Box, acrossPt: number, downPt = acrossPt): Box {
  return { xPt: xPt + acrossPt, yPt: yPt + downPt, widthPt: widthPt - 2 * acrossPt, heightPt: heightPt - 2 * downPt };
}

/** A frame whose outer edge is the box. */
function framed(canvas: Canvas, box: Box, rule: Rule & { widthPt: number }): Box {
  canvas.drawArea(shrunk(box, rule.widthPt / 2), 'blank', rule);
  return shrunk(box, rule.widthPt);
}

/** Each draws the shape and gives the room it leaves for the words. */
const SHAPES: Record<CoilTagState, (canvas: Canvas, box: Box) => Box> = {
  // Hatched all round.
  HOLD: (canvas, box) => {
    const inner = shrunk(box, BAR_PT, BAR_PT / 2);
    canvas.drawArea(shrunk(box, 0.75), 'hatched', { widthPt: 1.5 });
    canvas.drawArea(inner, 'blank', { widthPt: 1.5 });
    return inner;
  },
  // One thick frame.
  ACCEPTED: (canvas, box) => framed(canvas, box, { widthPt: FRAME_PT }),
  // Two frames, one in the other.
  'ACCEPTED UNDER CONCESSION': (canvas, box) => framed(canvas, shrunk(framed(canvas, box, { widthPt: 2 }), 2.5), { widthPt: 2 }),
  // Solid, the words in white.
  REJECTED: (canvas, box) => {
    canvas.drawSolid(box);
    return box;
  },
  // Solid bars left and right.
  RETURN: (canvas, box) => {
    const inner = framed(canvas, box, { widthPt: 1.5 });
    canvas.drawSolid({ ...box, widthPt: BAR_PT });
    canvas.drawSolid({ ...box, xPt: box.xPt + box.widthPt - BAR_PT, widthPt: BAR_PT });
    return shrunk(inner, BAR_PT, 0);
  },
  // A thin broken frame.
  'NOT DECIDED': (canvas, box) => framed(canvas, box, { widthPt: 1, dashPt: 6 }),
};

/** Draws a state as large as the box allows, in the middle of it. */
export function drawTagState(canvas: Canvas, state: CoilTagState, box: Box): void {
  const room = shrunk(SHAPES[state](canvas, box), PADDING_PT);
  const { lines, style, heightPt } = fitText(canvas, state, room, WORDS);
  const topPt = room.yPt + (room.heightPt - heightPt) / 2 - CAPITAL_DROP * style.sizePt;
  const ink = state === 'REJECTED' ? 'white' : 'black';
  lines.forEach((line, i) => {
    const yPt = topPt + i * lineHeightPt(style);
    canvas.drawLine(line, room.xPt + (room.widthPt - line.widthPt) / 2, yPt, style, ink);
  });
}
