import type { ControlChartPicture, PicturePanel, PicturePoint, PictureSignal } from './control-chart-data.js';
import type { ControlChartReportData } from './control-chart-report.js';

/** A point at a place, with limits about 10. */
export const onePoint = (fromMm: number, value: number, changes: Partial<PicturePoint> = {}): PicturePoint => ({
  fromMm, toMm: fromMm + 1_000, value, centre: 10, lower: 7, upper: 13, standardError: 1, signals: [], leftOut: null, beginsAnew: false, ...changes,
});

/** A row of ten points. */
export const onePanel = (changes: Partial<PicturePanel> = {}): PicturePanel => ({
  shows: 'means', unit: 'mm', points: [10, 11, 9, 10.5, 9.5, 12, 8, 10, 9, 11].map((value, at) => onePoint(5_000 + at * 10_000, value)), specification: null, hasZones: false, ...changes,
});

/** A hundred metres of footage with one panel. */
export const oneControlChart = (changes: Partial<ControlChartPicture> = {}): ControlChartPicture => ({
  titles: ['Control chart S-1, bead height'],
  axis: { by: 'pipe', quantity: 'footage', fromMm: 0, toMm: 100_000, depth: null, unsure: [], seconds: [] },
  marks: [], coils: [], panels: [onePanel()], watch: [], signals: [], notes: [], ...changes,
});

/** A panel along an order of labels. */
export const orderedChart = (labels: readonly string[], points: readonly PicturePoint[], changes: Partial<ControlChartPicture> = {}): ControlChartPicture =>
  oneControlChart({ axis: { by: 'order', of: 'coils as received', labels }, panels: [onePanel({ points })], ...changes });

/** Signals of the same rule, from number 1 on. */
export const oneSignals = (count: number, changes: Partial<PictureSignal> = {}): PictureSignal[] =>
  Array.from({ length: count }, (_, index) => ({ number: index + 1, rule: 'oneBeyond3Sigma', text: `Means, point ${index + 1}. Not answered.`, ...changes }));

/** Numbers that look random and are the same each time, about 0 with a standard deviation of 1. */
export function scattered(count: number, seed: number): number[] {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: count }, () => Array.from({ length: 12 }, uniform).reduce((sum, one) => sum + one, -6));
}

const FROM_MM = 1_204_310;
const LENGTH_MM = 600_000;
const at = (share: number): number => Math.round(FROM_MM + share * LENGTH_MM);
const ANEW = [0.228, 0.36, 0.512, 0.62, 0.81];

/** Which signals stand at which point of the row. */
type SignalsAt = Readonly<Record<number, readonly number[]>>;

function rowOf(values: readonly number[], limits: Pick<PicturePoint, 'centre' | 'lower' | 'upper' | 'standardError'>, signals: SignalsAt, leftOut: readonly number[]): PicturePoint[] {
  return values.map((value, index) => {
    const share = index / values.length;
    const before = (index - 1) / values.length;
    return {
      ...limits, value: Number(value.toFixed(4)), fromMm: at(share), toMm: at(share) + 2_000, signals: signals[index] ?? [],
      leftOut: leftOut.includes(index) ? (index === leftOut[0] ? 'within 5.0 m of splice S-14' : 'the probe was lifted') : null, beginsAnew: index === 0 || ANEW.some((one) => one > before && one <= share),
    };
  });
}

/** A chart in which everything that there is to draw occurs: means and ranges of a number of subgroups along 600 m. */
export function fullControlChart(count = 60): ControlChartPicture {
  const near = (share: number): number => Math.floor(share * count);
  const drift = (index: number): number => (index >= near(0.82) ? 0.055 : 0);
  const means = scattered(count, 7).map((one, index) => 5.62 + 0.032 * one + drift(index) + (index === near(0.42) ? 0.16 : 0));
  const ranges = scattered(count, 21).map((one, index) => Math.abs(0.15 + 0.045 * one) + (index === near(0.7) ? 0.3 : 0));
  return {
    titles: ['Control chart S-1, bead height after trimming', 'Mean and range of subgroups of 4 readings, 2 m each · Well Sample 1 · as known at 2031-04-05 00:00 UTC'],
    axis: {
      by: 'pipe', quantity: 'footage', fromMm: FROM_MM, toMm: FROM_MM + LENGTH_MM, depth: null, unsure: [{ fromMm: at(0.86), toMm: at(1), words: 'assumed counter scale' }],
      seconds: [
        { quantity: 'outer-wall depth', depth: { datum: 'rotary table', uncertaintyMm: 1_250 }, pieces: [{ fromMm: at(0), toMm: at(0.9), startMm: 496_200, endMm: 979_000 }] },
        { quantity: 'inner-wall depth', depth: { datum: 'rotary table', uncertaintyMm: 2_100 }, pieces: [{ fromMm: at(0.1), toMm: at(1), startMm: 2_104_000, endMm: 1_620_000 }] },
      ],
    },
    marks: [
      { kind: 'splice', fromMm: at(0.228), toMm: at(0.2288), label: 'S-14' }, { kind: 'splice', fromMm: at(0.81), toMm: at(0.8108), label: 'S-15' },
      { kind: 'cut-out', fromMm: at(0.5), toMm: at(0.512), label: 'C-2' }, { kind: 're-join', fromMm: at(0.512), toMm: at(0.512), label: 'J-2' },
      { kind: 'stop', fromMm: at(0.62), toMm: at(0.62), label: '07:02, 14 min' }, { kind: 'set-up change', fromMm: at(0.36), toMm: at(0.36), label: 'rolls 3 and 4' },
      { kind: 'check', fromMm: at(0.02), toMm: at(0.02), label: '02:10 passed' }, { kind: 'inspection run', fromMm: at(0.04), toMm: at(0.04), label: 'R-7' },
    ],
    coils: [
      { fromMm: at(-0.1), toMm: at(0.228), label: 'LM-07' }, { fromMm: at(0.2288), toMm: at(0.5), label: 'LM-08' },
      { fromMm: at(0.512), toMm: at(0.81), label: 'LM-08' }, { fromMm: at(0.8108), toMm: at(1.2), label: 'LM-09' },
    ],
    panels: [
      {
        shows: 'means', unit: 'mm', hasZones: true, specification: { lower: null, upper: '5.85' },
        points: rowOf(means, { centre: 5.62, lower: 5.5106, upper: 5.7294, standardError: 0.03647 }, { [near(0.42)]: [1], [near(0.95)]: [3] }, [near(0.24), near(0.25)]),
      },
      {
        shows: 'ranges', unit: 'mm', hasZones: false, specification: null,
        points: rowOf(ranges, { centre: 0.1502, lower: null, upper: 0.3427, standardError: 0.0642 }, { [near(0.7)]: [2] }, [near(0.24), near(0.25)]),
      },
    ],
    watch: [{ fromMm: at(0.405), toMm: at(0.44) }, { fromMm: at(0.82), toMm: at(1) }],
    signals: [
      { number: 1, rule: 'oneBeyond3Sigma', text: 'Means, at footage 1,454.310 to 1,456.310 m, coil LM-08. Asked: repeat with another gauge, mark from the last good subgroup. Not answered.' },
      { number: 2, rule: 'beyondLimit', text: 'Ranges, at footage 1,624.310 to 1,626.310 m, coil LM-08. Answered 2031-04-02 07:40 UTC: gauge misread, repeated.' },
      { number: 3, rule: 'eightOnOneSide', text: 'Means, at footage 1,714.310 to 1,776.310 m, coil LM-09. Asked: check edge, speed and coil change. Not answered.' },
    ],
    notes: [
      { text: 'Limits CL-3, taken from 60 subgroups of 4 coils at footage 204.000 to 1,104.000 m, approved 2031-04-01 16:20 UTC by the materials engineer.', isWarning: false },
      { text: 'Lag-1 correlation of the means: 0.12 (95 % interval −0.13 to 0.36).', isWarning: false },
      { text: 'Coil LM-09 began after the limits were approved, and no reading of its heat went into them.', isWarning: true },
    ],
  };
}

/** Two panels with more to say beside them than they are high: limits that nearly meet, and specifications far from all of them. */
export function tightControlChart(): ControlChartPicture {
  const points = [onePoint(40_000, 10, { lower: 9.99, upper: 10.01 })];
  const panel = onePanel({ unit: 'micrometres in a metre', points, specification: { lower: '-9000.00', upper: '9000.00' } });
  return oneControlChart({ panels: [panel, panel] });
}

/** A full chart in which every word is as long and as strange as words get, and every other point signals or was left out. */
export function crowdedControlChart(): ControlChartPicture {
  const words = 'نص طويل جدا <b>&\u202e\u0000 溶接部 and words that go on for longer than any margin '.repeat(3);
  const { axis, panels, ...chart } = fullControlChart(240);
  if (axis.by === 'order') throw new Error('the full chart is along pipe');
  const crowded = (panel: PicturePanel): PicturePanel => ({
    ...panel, unit: words, points: panel.points.map((point, index) => ({ ...point, signals: index % 2 === 0 ? [1 + (index % 40)] : [], leftOut: index % 3 === 0 ? `${words} ${index % 30}` : null })),
  });
  return {
    ...chart, titles: [words, words], axis: { ...axis, unsure: axis.unsure.map((one) => ({ ...one, words })), seconds: axis.seconds.map((one) => ({ ...one, depth: { datum: words, uncertaintyMm: null } })) },
    marks: chart.marks.map((mark) => ({ ...mark, label: words })), coils: chart.coils.map((coil) => ({ ...coil, label: words })), panels: [...panels, ...panels.slice(0, 1)].map(crowded),
    signals: oneSignals(40, { text: words }).map((signal, index) => ({ ...signal, rule: index % 2 === 0 ? 'oneBeyond3Sigma' as const : 'fifteenWithin1Sigma' as const })),
    notes: [true, true, false, false].map((isWarning) => ({ text: words, isWarning })),
  };
}

/** A paper of a full chart. */
export const oneControlChartReport = (changes: Partial<ControlChartReportData> = {}): ControlChartReportData => ({
  well: 'Sample 1', string: 'S-1', revision: 'As known at 2031-04-05 00:00:00 UTC', picture: fullControlChart(),
  dataCutOff: '2031-04-05T00:00:00Z', generatedAt: '2031-04-05T07:08:09Z', fingerprintSha256: '0123456789abcdef'.repeat(4), ...changes,
});
