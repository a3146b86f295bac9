/** Lists under a control chart: what signals, what to mind, what the limits stand on. */
import { brokenInto } from '../strip-chart/chart-cautions.js';
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Block, box, stacked } from '../strip-chart/shapes.js';
import type { ControlChartPicture } from './control-chart-data.js';
import { leftOutWords, signalWords, statusWords } from './control-words.js';
import { numberPlate } from './signal-strip.js';

const ROW_EM = 1.35;
const PLATE_GAP_EM = 0.6;
const BAR_EM = 0.5;
const HEADING_EM = 1.1;

/** What there is to see, large enough to be read first. */
export const statusBlock = (picture: ControlChartPicture, frame: ChartFrame): Block =>
  ({ heightPt: 2 * frame.emPt, shapes: [textAt(frame, statusWords(picture), 0, frame.emPt, { isBold: true, sizeEm: 1.3, roomPt: frame.widthPt })] });

/** Warnings come first; what there is none of is left out. */
export function listsBlock(picture: ControlChartPicture, frame: ChartFrame): Block {
  const { notes } = picture;
  const [warnings, others] = [notes.filter(({ isWarning }) => isWarning), notes.filter(({ isWarning }) => !isWarning)];
  const signals = signalWords(picture);
  const plain = [...leftOutWords(picture), ...others.map(({ text }) => text)];
  return stacked([
    ...warnings.map(({ text }) => warningBlock(text, frame)),
    ...(signals.length === 0 ? [] : [headingBlock('Signals', frame), ...signals.map(({ number, text }) => signalBlock(number, text, frame))]),
    ...(plain.length === 0 ? [] : [headingBlock('Limits', frame), ...plain.map((text) => textBlock(text, 0, frame))]),
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

function signalBlock(number: number, text: string, frame: ChartFrame): Block {
  const plate = numberPlate(String(number), 0, 0, frame);
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
