/** A report drawn with a record of everything on its pages, and what must never be found among it. */
import type { DrawnMark, Paper } from './canvas.js';
import { collectBytes } from './collect-bytes.js';
import type { NonconformanceReportData } from './nonconformance-data.js';
import { nonconformanceReport } from './nonconformance-report.js';
import { readPdf, type ReadPdf } from './pdf-text.reference.js';

export const PAPERS: readonly Paper[] = ['A4', 'Letter'];
export const PAPER_PT = { A4: [595.28, 841.89], Letter: [612, 792] } as const;
const MARGIN_PT = 42;
const SLACK_PT = 0.01;
/** Two texts may share a sliver, since rounding moves a box by less than this. */
const SLIVER_PT = 0.1;

export interface DrawnReport extends ReadPdf {
  readonly bytes: Buffer;
  readonly marks: readonly DrawnMark[];
}

export async function draw(data: NonconformanceReportData, paper: Paper = 'A4'): Promise<DrawnReport> {
  const marks: DrawnMark[] = [];
  const stream = nonconformanceReport(data, { paper, isCompressed: false, record: (mark) => marks.push(mark) });
  const bytes = await collectBytes(stream);
  return { bytes, marks, ...readPdf(bytes) };
}

/** Everything that reaches into a margin. */
export function marksOutside(marks: readonly DrawnMark[], paper: Paper): DrawnMark[] {
  const [widthPt, heightPt] = PAPER_PT[paper];
  return marks.filter((mark) => {
    const isInside =
      mark.xPt >= MARGIN_PT - SLACK_PT &&
      mark.yPt >= MARGIN_PT - SLACK_PT &&
      mark.xPt + mark.widthPt <= widthPt - MARGIN_PT + SLACK_PT &&
      mark.yPt + mark.heightPt <= heightPt - MARGIN_PT + SLACK_PT;
    return !isInside;
  });
}

/** Pairs of texts whose boxes share more than a sliver. */
export function collisions(marks: readonly DrawnMark[]): [string, string][] {
  const texts = marks.filter((mark) => mark.kind === 'text' && mark.text.trim() !== '');
  const pairs: [string, string][] = [];
  texts.forEach((a, i) => {
    for (const b of texts.slice(i + 1)) {
      const acrossPt = Math.min(a.xPt + a.widthPt, b.xPt + b.widthPt) - Math.max(a.xPt, b.xPt);
      const downPt = Math.min(a.yPt + a.heightPt, b.yPt + b.heightPt) - Math.max(a.yPt, b.yPt);
      if (a.pageIndex === b.pageIndex && acrossPt > SLIVER_PT && downPt > SLIVER_PT) pairs.push([a.text, b.text]);
    }
  });
  return pairs;
}

/** The text of a page without its white space, which the drawing does not keep. */
export const squeeze = (runs: readonly string[]): string => runs.join('').replace(/\s/g, '');
