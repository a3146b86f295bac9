import type { Box } from '../canvas.js';
import { type ChartFrame, textAt } from './chart-frame.js';
import type { Block, Shape } from './shapes.js';

/** A drawing and what it means. */
export interface KeyEntry {
  readonly words: string;
  readonly draw: (area: Box, emPt: number) => Shape[];
}

const SAMPLE_EM = 2.2;
const ROW_EM = 1.6;
const BETWEEN_EM = 1.6;
const WORDS_EM = 0.95;

/** Entries one beside the other, in as many rows as they take. */
export function keyRows(entries: readonly KeyEntry[], frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  const shapes: Shape[] = [];
  let [xPt, row] = [0, 0];
  for (const { words, draw } of entries) {
    const neededPt = (SAMPLE_EM + 0.5) * emPt + frame.ruler(words, WORDS_EM * emPt, false);
    if (xPt > 0 && xPt + neededPt > widthPt) [xPt, row] = [0, row + 1];
    const topPt = row * ROW_EM * emPt;
    shapes.push(...draw({ xPt, yPt: topPt + 0.2 * emPt, widthPt: SAMPLE_EM * emPt, heightPt: emPt }, emPt));
    shapes.push(textAt(frame, words, xPt + (SAMPLE_EM + 0.5) * emPt, topPt + emPt, { sizeEm: WORDS_EM }));
    xPt += neededPt + BETWEEN_EM * emPt;
  }
  return { heightPt: ((row + 1) * ROW_EM + 0.4) * emPt, shapes };
}
