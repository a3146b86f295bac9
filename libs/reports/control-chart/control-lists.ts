/** Words over a control chart, of what to mind and what the limits stand on; and lists under it, of what signals and what was left out. */
import { brokenInto } from '../strip-chart/chart-cautions.js';
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Block, box, stacked } from '../strip-chart/shapes.js';
import type { ControlChartPicture } from './control-chart-data.js';
import { leftOutWords, signalWords, statusWords } from './control-words.js';
import { letterWords } from './rule-letters.js';
import { signalPlate } from './signal-strip.js';

const ROW_EM = 1.35;
const PLATE_GAP_EM = 0.6;
const BAR_EM = 0.5;
const HEADING_EM = 1.1;

/** What there is to see, large enough to be read first. */
export const statusBlock = (picture: ControlChartPicture, frame: ChartFrame): Block =>
  ({ heightPt: 2 * frame.emPt, shapes: [textAt(frame, statusWords(picture), 0, frame.emPt, { isBold: true, sizeEm: 1.3, roomPt: frame.widthPt })] });

/** A block a note; warnings come first. */
export const noteBlocks = ({ notes }: ControlChartPicture, frame: ChartFrame): Block[] => [
  ...notes.filter(({ isWarning }) => isWarning).map(({ text }) => warningBlock(text, frame)),
  ...notes.filter(({ isWarning }) => !isWarning).map(({ text }) => textBlock(text, 0, frame)), { heightPt: 0.6 * frame.emPt, shapes: [] },
];

/** What there is none of is left out. */
export function listsBlock(picture: ControlChartPicture, frame: ChartFrame): Block {
  const [signals, leftOut] = [signalWords(picture), leftOutWords(picture)];
  const letters = textBlock(letterWords(picture.signals), 0, frame);
  return stacked([
    ...(signals.length === 0 ? [] : [headingBlock('Signals', frame), ...signals.map(({ name, text }) => signalBlock(name, text, frame)), letters]),
    ...(leftOut.length === 0 ? [] : [headingBlock('Left out', frame), ...leftOut.map((text) => textBlock(text, 0, frame))]),
    headingBlock('Cautions', frame),
  ]);
}

const headingBlock = (text: string, frame: ChartFrame): Block =>
  ({ heightPt: 1.9 * frame.emPt, shapes: [textAt(frame, text, 0, 1.4 * frame.emPt, { isBold: true, sizeEm: HEADING_EM })] });

function textBlock(text: string, indentPt: number, frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  const rows = brokenInto(text, widthPt - indentPt, frame);
  return { heightPt: (rows.length * ROW_EM + 0.15) * emPt, shapes: rows.map((row, index) => textAt(frame, row.trimStart(), indentPt, (1 + index * ROW_EM) * emPt)) };
}

function signalBlock(name: string, text: string, frame: ChartFrame): Block {
  const plate = signalPlate(name, 0, frame);
  const words = textBlock(text, plate.widthPt + PLATE_GAP_EM * frame.emPt, frame);
  return { heightPt: words.heightPt + 0.35 * frame.emPt, shapes: [...plate.shapes, ...words.shapes] };
}

/** Set apart by a bar and the word. */
function warningBlock(text: string, frame: ChartFrame): Block {
  const { emPt } = frame;
  const indentPt = 1.3 * emPt;
  const word = textAt(frame, 'Warning', indentPt, emPt, { isBold: true });
  const words = textBlock(text, indentPt + word.widthPt + 0.6 * emPt, frame);
  return {
    heightPt: words.heightPt + 0.5 * emPt,
    shapes: [box({ xPt: 0, yPt: 0, widthPt: BAR_EM * emPt, heightPt: words.heightPt }, 'black'), word, ...words.shapes],
  };
}
