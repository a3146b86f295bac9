/** Small drawings, each told from the others by its shape alone; drawn about a point in a square of a side. */
import type { Point } from '../canvas.js';
import { box, type Shape, type StrokesShape } from './shapes.js';

export type SymbolName = 'check-failed' | 'check-void' | 'check-passed' | 'stop' | 'reversal' | 'set-up change' | 'inspection run' | 'check';

type Draw = (xPt: number, yPt: number, halfPt: number) => Shape[];

const square = (xPt: number, yPt: number, halfPt: number) => ({ xPt: xPt - halfPt, yPt: yPt - halfPt, widthPt: 2 * halfPt, heightPt: 2 * halfPt });
/** Strokes given as shares of half the side about the middle. */
const strokes = (xPt: number, yPt: number, halfPt: number, shares: readonly (readonly [number, number, number, number])[], ink: 'black' | 'white'): StrokesShape => ({
  kind: 'strokes', pen: { ink, widthPt: halfPt * 0.34 },
  segments: shares.map(([ax, ay, bx, by]) => [xPt + ax * halfPt, yPt + ay * halfPt, xPt + bx * halfPt, yPt + by * halfPt]),
});
const outline = (halfPt: number, dashPt?: number) => ({ ink: 'black' as const, widthPt: halfPt * 0.22, dashPt });

const OCTAGON = [[-1, -0.42], [-0.42, -1], [0.42, -1], [1, -0.42], [1, 0.42], [0.42, 1], [-0.42, 1], [-1, 0.42]] as const;
export const octagon = (xPt: number, yPt: number, halfPt: number): Point[] => OCTAGON.map(([shareX, shareY]) => [xPt + shareX * halfPt, yPt + shareY * halfPt]);

const DRAWINGS: Readonly<Record<SymbolName, Draw>> = {
  // As on the other papers: a white cross on black, and a tick in an open square.
  'check-failed': (x, y, half) => [box(square(x, y, half), 'black', outline(half)), strokes(x, y, half, [[-0.6, -0.6, 0.6, 0.6], [-0.6, 0.6, 0.6, -0.6]], 'white')],
  'check-passed': (x, y, half) => [box(square(x, y, half), 'white', outline(half)), strokes(x, y, half, [[-0.6, 0, -0.15, 0.5], [-0.18, 0.5, 0.62, -0.55]], 'black')],
  // Crossed out once, in a broken outline.
  'check-void': (x, y, half) => [box(square(x, y, half), 'white', outline(half, half * 0.45)), strokes(x, y, half, [[-0.7, 0.7, 0.7, -0.7]], 'black')],
  stop: (x, y, half) => [
    { kind: 'area', fill: 'black', pen: null, points: octagon(x, y, half) },
    strokes(x, y, half, [[-0.55, 0, 0.55, 0]], 'white'),
  ],
  reversal: (x, y, half) => [
    { kind: 'area', fill: 'black', pen: null, points: [[x - half, y], [x, y - 0.8 * half], [x, y + 0.8 * half]] },
    strokes(x, y, half, [[0, 0, 1, 0]], 'black'),
  ],
  'set-up change': (x, y, half) => [
    { kind: 'area', fill: 'white', pen: outline(half), points: [[x, y - half], [x + half, y + 0.85 * half], [x - half, y + 0.85 * half]] },
  ],
  // A post from which something begins.
  'inspection run': (x, y, half) => [
    { kind: 'area', fill: 'white', pen: outline(half), points: [[x, y - half], [x + half, y - 0.45 * half], [x, y + 0.1 * half]] },
    strokes(x, y, half, [[0, -1, 0, 1]], 'black'),
  ],
  // Whether it passed is said by its label.
  check: (x, y, half) => [box(square(x, y, half), 'white', outline(half)), strokes(x, y, half, [[-0.55, 0, 0.55, 0]], 'black')],
};

export const drawSymbol = (name: SymbolName, xPt: number, yPt: number, sidePt: number): Shape[] => DRAWINGS[name](xPt, yPt, sidePt / 2);

/** A bar with a foot at each end, over what it speaks of. */
export function bracket(leftPt: number, widthPt: number, topPt: number, heightPt: number): Shape[] {
  const barPt = heightPt * 0.42;
  const footPt = Math.min(1.2, widthPt / 3);
  return [
    box({ xPt: leftPt, yPt: topPt, widthPt, heightPt: barPt }, 'black'),
    box({ xPt: leftPt, yPt: topPt, widthPt: footPt, heightPt }, 'black'),
    box({ xPt: leftPt + widthPt - footPt, yPt: topPt, widthPt: footPt, heightPt }, 'black'),
  ];
}
