import type { Column } from '#libs/signals';
import { formatInterval, formatMetresShort, formatUncertainty } from '../instants-and-lengths.js';
import type { ChartDepth, StripChart } from './chart-data.js';
import { cutToFit, oneLine } from './ruler.js';
import { type ChartFrame, textAt } from './chart-frame.js';
import { gapOf } from './column-runs.js';
import type { Block, TextShape } from './shapes.js';

/**
 * What a reader must be told beside a strip chart, from what is on it. Sentences of our own. Common practice, no published source.
 */
export function stripChartCautions(chart: StripChart): string[] {
  const { depth } = chart.axis;
  return [
    'No indication means none beyond the threshold drawn, against that channel’s reference reflector, on the metres that are confirmed. It does not mean no defect.',
    ...withoutThreshold(chart),
    'Provisional, suspect and missing are different states. None of them is confirmed evidence, and a hatched gap is not a quiet signal.',
    ...(depth === null ? [] : [depthWords(depth)]),
    ...unsureWords(chart.axis),
    ...sharpnessWords(chart),
    NO_INTERLOCK,
  ];
}

/** Where positions rest on something that is not sure. */
export const unsureWords = ({ unsure }: Pick<StripChart['axis'], 'unsure'>): string[] => unsure.map((one) => `Marked ! from ${formatInterval(one)}: ${one.words}.`);

export const NO_INTERLOCK = 'This chart is a record and no interlock: it stops no line. Anyone on shift may stop the line.';

export const depthWords = ({ uncertaintyMm, datum }: ChartDepth): string =>
  `Depth is an estimate: ${formatUncertainty(uncertaintyMm)} at its widest here, measured from ${datum}. Read both before anyone perforates, sets or cuts.`;

function withoutThreshold({ tracks }: StripChart): string[] {
  const names = tracks.filter(({ threshold }) => threshold === null).map(({ channel }) => channel);
  return names.length === 0 ? [] : [`No threshold is set for ${names.join(', ')}: nothing there is called an indication.`];
}

function sharpnessWords({ axis, tracks }: StripChart): string[] {
  const columns = tracks.flatMap((track) => track.columns);
  const widthsMm = [...new Set(tracks.map((track) => Math.max(1, Math.round((axis.toMm - axis.fromMm) / track.columns.length))))].sort((a, b) => a - b);
  const count = (of: (column: Column) => boolean): number => columns.filter((column) => gapOf(column) === null && of(column)).length;
  const [shared, coarse] = [count(({ sharpness }) => sharpness === 'shared'), count(({ sharpness }) => sharpness === 'coarse')];
  const lengths = `${widthsMm.map((mm) => formatMetresShort(mm)).join(' or ')} m of ${axis.quantity === 'footage' ? 'pipe' : 'depth'}`;
  return [
    `One column is about ${lengths}. No extreme is left out${shared > 0 ? '; in places one may be drawn a column too far' : ''}.`,
    ...(coarse > 0 ? ['Striped columns are coarse: their values may belong to pipe beside them, and whether anything was read in them is not known.'] : []),
  ];
}

/** Cautions in rows under a chart, broken between words. */
export function cautionBlock(cautions: readonly string[], frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  const rows = cautions.flatMap((caution) => brokenInto(`• ${caution}`, widthPt, frame));
  const shapes: TextShape[] = rows.map((row, index) => textAt(frame, row, 0, (1 + index * 1.35) * emPt));
  return { heightPt: (rows.length * 1.35 + 0.5) * emPt, shapes };
}

/** Text in rows, broken between words; a word that is too long is cut. */
export function brokenInto(text: string, widthPt: number, { emPt, ruler }: ChartFrame): string[] {
  const rows: string[] = [];
  let row = '';
  for (const word of oneLine(text).split(' ')) {
    const longer = row === '' ? word : `${row} ${word}`;
    if (row !== '' && ruler(longer, emPt, false) > widthPt) {
      rows.push(row);
      row = `  ${word}`;
    } else row = longer;
  }
  return [...rows, row].map((one) => cutToFit(one, widthPt, emPt, false, ruler));
}
