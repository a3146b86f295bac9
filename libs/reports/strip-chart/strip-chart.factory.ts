import type { Column, Counts, Sharpness, Summary } from '#libs/signals';
import type { StripChartReportData } from './strip-chart-report.js';
import type { ChartMark, ChartTrack, StripChart, TrackMarkKind } from './chart-data.js';

const NO_COUNTS: Counts = { read: 0, missing: 0, saturatedHigh: 0, saturatedLow: 0, suspectStuck: 0, implausible: 0 };

/** A column of samples that were read, from a least to a greatest value about a mean. */
export function oneColumn(least: number, greatest: number, mean = (least + greatest) / 2, sharpness: Sharpness = 'exact', counts: Partial<Counts> = {}): Column {
  const all = { ...NO_COUNTS, read: 8, ...counts };
  const summary: Summary = {
    counts: all, least: { value: Math.fround(least), address: 0 }, greatest: { value: Math.fround(greatest), address: 1 }, n: all.read,
    mean: all.read > 0 ? mean : 0, squares: 0, firstPosition: 0, lastPosition: 1, fromPosition: 0, toPosition: 1,
  };
  return { summary, sharpness };
}

/** A column in which no sample could be used, or in which there is none. */
export function emptyColumn(counts: Partial<Counts> | null = null): Column {
  if (counts === null) return { summary: null, sharpness: 'exact' };
  return { ...oneColumn(0, 0), summary: { ...(oneColumn(0, 0).summary as Summary), counts: { ...NO_COUNTS, ...counts }, least: null, greatest: null, n: 0, mean: 0 } };
}

export const trackMark = (kind: TrackMarkKind, fromMm: number, toMm = fromMm, label = ''): ChartMark<TrackMarkKind> => ({ kind, fromMm, toMm, label });

/** A track of ten columns, one gap among them. */
export function oneTrack(overrides: Partial<ChartTrack> = {}): ChartTrack {
  return {
    channel: 'ECT-1', measures: 'eddy-current amplitude', unit: '%', threshold: { level: '40', sense: 'above' },
    columns: Array.from({ length: 10 }, (_, at) => (at === 4 ? emptyColumn() : oneColumn(5 + at, 12 + at))),
    coverage: [{ fromMm: 0, toMm: 100_000, state: 'confirmed' }],
    marks: [],
    ...overrides,
  };
}

/** A hundred metres of footage with one track. */
export function oneStripChart(overrides: Partial<StripChart> = {}): StripChart {
  return {
    titles: ['Strip chart S-1'],
    axis: { quantity: 'footage', fromMm: 0, toMm: 100_000, depth: null, unsure: [], second: null },
    marks: [],
    tracks: [oneTrack()],
    ...overrides,
  };
}

/** Whole numbers that look random and are the same each time. */
function* noise(seed: number): Generator<number, never> {
  for (let state = seed; ;) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    yield state / 2 ** 32;
  }
}

/** Columns of a wandering signal about a level. */
export function wandering(width: number, seed: number, level: number, spread: number, change: (column: Column, at: number) => Column = (column) => column): Column[] {
  const random = noise(seed);
  let drift = 0;
  return Array.from({ length: width }, (_, at) => {
    drift = drift * 0.98 + (random.next().value - 0.5) * spread * 0.3;
    const mean = level + drift + Math.sin(at / 90) * spread * 0.3;
    const [below, above] = [random.next().value * spread * 0.5, random.next().value ** 3 * spread];
    return change(oneColumn(Number((mean - below).toFixed(2)), Number((mean + above).toFixed(2)), mean), at);
  });
}

const within = (at: number, from: number, to: number): boolean => at >= from && at < to;

/** A chart in which everything that there is to draw occurs, 1,200 columns wide, on the given number of tracks. */
export function fullStripChart(trackCount = 4, width = 1_200): StripChart {
  const [fromMm, toMm] = [1_204_310, 1_804_310];
  const at = (share: number): number => Math.round(fromMm + share * (toMm - fromMm));
  const tracks: ChartTrack[] = [
    {
      channel: 'ECT-seam-1', measures: 'eddy-current amplitude', unit: '%', threshold: { level: '40', sense: 'above' },
      columns: wandering(width, 7, 14, 14, (column, x) => {
        const share = x / width;
        if (within(share, 0.3, 0.36) || x === Math.floor(width * 0.62)) return emptyColumn();
        if (within(share, 0.155, 0.158)) return oneColumn(20, 100, 61, 'exact', { saturatedHigh: 2 });
        if (within(share, 0.7, 0.703)) return oneColumn(18, 63, 40);
        if (within(share, 0.8, 0.9)) return { ...column, sharpness: 'coarse' };
        if (within(share, 0.45, 0.46)) return { ...column, summary: { ...(column.summary as Summary), counts: { ...NO_COUNTS, read: 6, missing: 2 } } };
        return column;
      }),
      coverage: [
        { fromMm: at(0), toMm: at(0.3), state: 'confirmed' }, { fromMm: at(0.3), toMm: at(0.36), state: 'missing' },
        { fromMm: at(0.36), toMm: at(0.55), state: 'confirmed' }, { fromMm: at(0.55), toMm: at(0.75), state: 'suspect' },
        { fromMm: at(0.75), toMm: at(1), state: 'provisional' },
      ],
      marks: [
        trackMark('check-passed', at(0.02), at(0.02), '02:10'), trackMark('check-passed', at(0.55), at(0.55), '06:08'), trackMark('check-failed', at(0.75), at(0.75), '10:15'),
        trackMark('check-void', at(0.78), at(0.78), '10:21'),
        trackMark('indication', at(0.155), at(0.158), 'I-0012 ≥ 100 %'), trackMark('indication', at(0.7), at(0.703), 'I-0013 63 %'),
        trackMark('excluded', at(0.225), at(0.24), 'splice'), trackMark('not-valid', at(0.45), at(0.52), 'probe lifted'),
      ],
    },
    {
      channel: 'WT-4', measures: 'wall thickness', unit: 'mm', threshold: { level: '5.10', sense: 'below' },
      columns: wandering(width, 21, 5.62, 0.24, (column, x) => {
        const share = x / width;
        if (within(share, 0.5, 0.56)) return emptyColumn({ suspectStuck: 8 });
        if (within(share, 0.93, 1)) return emptyColumn();
        return within(share, 0.334, 0.336) ? oneColumn(4.98, 5.4, 5.2) : column;
      }),
      coverage: [{ fromMm: at(0), toMm: at(0.5), state: 'confirmed' }, { fromMm: at(0.5), toMm: at(0.56), state: 'missing' }, { fromMm: at(0.56), toMm: at(0.93), state: 'confirmed' }],
      marks: [trackMark('indication', at(0.334), at(0.336), 'I-0011 4.98 mm'), trackMark('check-passed', at(0), at(0), ''), trackMark('check-passed', at(0.93), at(0.93), '')],
    },
    {
      channel: 'UT-heat-affected-zone-left-07', measures: 'ultrasonic amplitude', unit: '%', threshold: { level: '50', sense: 'above' },
      columns: wandering(width, 3, 20, 20),
      coverage: [{ fromMm: at(0), toMm: at(1), state: 'provisional' }],
      marks: Array.from({ length: 40 }, (_, i) => trackMark(i % 13 === 5 ? 'check-failed' : 'indication', at(0.2 + i * 0.004), at(0.2 + i * 0.004 + 0.001), `I-${String(100 + i)}`)),
    },
    {
      channel: 'PWR', measures: 'weld power', unit: 'kW', threshold: null,
      columns: wandering(width, 99, 212, 30, (column, x) => (within(x / width, 0.6, 0.62) ? oneColumn(0, 4, 1) : column)),
      coverage: [{ fromMm: at(0), toMm: at(1), state: 'confirmed' }],
      marks: [],
    },
  ];
  return {
    titles: ['Strip chart S-1, seam channels', 'Well Sample 1 · runs 2031-04-02 02:10 to 11:40 UTC · as known at 2031-04-05 00:00 UTC'],
    axis: {
      quantity: 'footage', fromMm, toMm, depth: { datum: 'rotary table', uncertaintyMm: 1_250 }, unsure: [{ fromMm: at(0.86), toMm: at(1), words: 'assumed counter scale' }],
      second: { quantity: 'outer-wall depth', pieces: [{ fromMm, toMm: at(0.4), startMm: 496_200, endMm: 712_000 }, { fromMm: at(0.4), toMm: at(0.9), startMm: 712_000, endMm: 979_000 }] },
    },
    marks: [
      { kind: 'splice', fromMm: at(0.228), toMm: at(0.2288), label: 'S-14' }, { kind: 'splice', fromMm: at(0.81), toMm: at(0.8108), label: 'S-15' },
      { kind: 'cut-out', fromMm: at(0.5), toMm: at(0.512), label: 'C-2' }, { kind: 're-join', fromMm: at(0.512), toMm: at(0.512), label: 'J-2' },
      { kind: 'stop', fromMm: at(0.62), toMm: at(0.62), label: '07:02, 14 min' }, { kind: 'reversal', fromMm: at(0.63), toMm: at(0.66), label: '18.0 m' },
      { kind: 'set-up change', fromMm: at(0.36), toMm: at(0.36), label: 'gain +2 dB' },
    ],
    tracks: Array.from({ length: trackCount }, (_, index) => {
      const track = tracks[index % tracks.length] as ChartTrack;
      return index < tracks.length ? track : { ...track, channel: `${track.channel}-${index}` };
    }),
  };
}

/** A paper of a full chart. */
export const oneStripChartReport = (overrides: Partial<StripChartReportData> = {}): StripChartReportData => ({
  well: 'Sample 1', string: 'S-1', revision: 'As known at 2031-04-05 00:00:00 UTC', chart: fullStripChart(),
  dataCutOff: '2031-04-05T00:00:00Z', generatedAt: '2031-04-05T07:08:09Z', fingerprintSha256: '0123456789abcdef'.repeat(4), ...overrides,
});
