import { MOVED_GAUGE_MM, STATIONS, type StationName } from './line.js';
import { readingOf, RESET, timeOf } from './runs.js';
import { entered, later, type Entry, type Fields, type Step } from './step.js';

const PLAN = 'Pipe inspection plan rev 2';

/** The stretches of true footage that were looked at all round, mm. From 991 to 999 m the lamp was out. */
const LOOKED_AT: readonly (readonly [number, number, string | null])[] = [
  [3_000, 93_600, null], [93_600, 185_600, 'Light rolling marks, no depth to the nail'], [185_600, 289_000, null], [289_000, 375_700, null],
  [375_700, 487_600, null], [487_600, 600_242, 'Seam trimmed flush'], [600_242, 705_600, null], [705_600, 764_350, null],
  [764_350, 889_600, null], [889_600, 991_000, 'Viewing lamp failed at the end'], [999_000, 1_119_600, null], [1_119_600, 1_221_447, null],
];

interface Measured {
  readonly characteristic: string;
  readonly station: StationName;
  readonly unit: 'mm';
  readonly limits: Fields;
  /** At the seam, which stands at 12 o'clock. */
  readonly isOfSeam: boolean;
  /** True footage, mm, and the value as read. */
  readonly values: readonly (readonly [number, string])[];
}

const MEASURED: readonly Measured[] = [
  {
    characteristic: 'wall thickness', station: 'wall gauge', unit: 'mm', limits: { limitMin: '4.75', requirement: `${PLAN}, 4.3` }, isOfSeam: false,
    values: [
      [40_000, '4.98'], [121_000, '5.01'], [213_900, '4.94'], [215_600, '4.91'], [219_200, '4.96'], [265_000, '5.00'], [340_000, '4.97'],
      [452_000, '5.02'], [530_000, '4.99'], [618_000, '4.96'], [735_000, '5.03'], [846_500, '4.95'], [930_000, '4.98'], [993_400, '4.97'],
      [1_090_000, '5.01'], [1_180_000, '5.00'],
    ],
  },
  {
    characteristic: 'outside diameter', station: 'diameter gauge', unit: 'mm', limits: { limitMin: '126.4', limitMax: '127.6', requirement: `${PLAN}, 4.2` }, isOfSeam: false,
    values: [[60_000, '127.1'], [216_000, '127.2'], [410_000, '126.9'], [640_000, '127.0'], [993_000, '127.1'], [1_100_000, '127.3']],
  },
  {
    characteristic: 'bead height', station: 'seam viewing', unit: 'mm', limits: { limitMax: '1.50', requirement: `${PLAN}, 4.6` }, isOfSeam: true,
    values: [[75_000, '0.80'], [214_800, '0.95'], [505_000, '1.62'], [880_000, '0.90']],
  },
  {
    characteristic: 'high-low', station: 'seam viewing', unit: 'mm', limits: { limitMax: '0.50', requirement: `${PLAN}, 4.7`, instrumentId: '@BG-02' }, isOfSeam: true,
    values: [[92_500, '0.20'], [216_600, '0.25'], [536_800, '0.15']],
  },
];

const STRING = { stringId: '@string 2' };
const at = (mm: number, station: StationName): Fields => ({ counterReading: readingOf(mm + pathMm(mm, station)), station });

/** The diameter gauge was moved between two days' runs. */
function pathMm(mm: number, station: StationName): number {
  const isMoved = station === 'diameter gauge' && mm + STATIONS[station] > RESET.weldMm;
  return isMoved ? MOVED_GAUGE_MM : STATIONS[station];
}

const visual: readonly Entry[] = LOOKED_AT.map(([fromMm, toMm, note], index) => {
  const from = fromMm + STATIONS['seam viewing'] === RESET.weldMm ? { counterReading: '0', station: 'seam viewing' } : at(fromMm, 'seam viewing');
  return entered(index % 2 === 0 ? 'ilka' : 'piet', 'inspections', `visual ${fromMm}`, {
    observedAt: timeOf(toMm + STATIONS['seam viewing']), ...STRING, kind: 'visual', characteristic: 'surface and seam', from,
    to: at(toMm, 'seam viewing'), surface: 'formed-outside', verdict: 'accepted', requirement: `${PLAN}, 4.1`, note,
  });
});

const dimensional: readonly Entry[] = MEASURED.flatMap(({ characteristic, station, unit, limits, isOfSeam, values }) =>
  values.map(([mm, value]) => {
    const isHigh = Number(value) > Number(limits['limitMax'] ?? Infinity);
    return entered('ilka', 'inspections', `${characteristic} ${mm}`, {
      observedAt: timeOf(mm + pathMm(mm, station)), ...STRING, kind: 'dimensional', characteristic, value, unit, ...limits,
      from: { ...at(mm, station), uMm: '5' }, verdict: isHigh ? 'for-evaluation' : 'accepted',
      ...(isOfSeam ? { clockHours: '12', viewing: 'down-the-hole' } : {}),
      note: isHigh ? 'Trimming tool changed after it; ground flush on the line' : null,
    });
  }),
);

/** More than the wall is thick, and true: the edge of one strip lay on the other. */
const lapped: Entry = {
  ...entered('ilka', 'inspections', 'high-low at S-3', {
    observedAt: timeOf(369_000 + STATIONS['seam viewing']), ...STRING, kind: 'dimensional', characteristic: 'high-low', value: '5.10', unit: 'mm',
    limitMax: '0.50', requirement: `${PLAN}, 4.7`, instrumentId: '@BG-02', from: at(369_000, 'seam viewing'), verdict: 'rejected', note: 'One edge lies on the other.',
  }),
  confirmed: ['value'],
};

const openSeam = entered('piet', 'inspections', 'open seam', {
  observedAt: timeOf(757_900 + STATIONS['seam viewing']), ...STRING, kind: 'visual', characteristic: 'seam', surface: 'formed-outside',
  from: at(757_560, 'seam viewing'), to: at(757_600, 'seam viewing'), clockHours: '12', viewing: 'down-the-hole', verdict: 'rejected',
  note: 'Seam open over 40 mm, where the eddy-current head had answered.',
});

/** Footage taped from splices rather than read from the counter. */
const taped = entered('piet', 'inspections', 'taped dent', {
  observedAt: timeOf(1_201_000), ...STRING, kind: 'visual', characteristic: 'dent', surface: 'formed-outside', from: { footageMm: 1_165_000, uMm: '20' },
  to: { footageMm: 1_165_060, uMm: '20' }, clockHours: '4.5', viewing: 'down-the-hole', verdict: 'accepted', note: 'No edge, 0.4 mm deep.',
});

const twice = entered('piet', 'inspections', 'visual entered twice', {
  observedAt: timeOf(764_350 + STATIONS['seam viewing']), ...STRING, kind: 'visual', characteristic: 'surface and seam', surface: 'formed-outside',
  from: at(705_600, 'seam viewing'), to: at(764_000, 'seam viewing'), verdict: 'accepted', requirement: `${PLAN}, 4.1`,
});

const withdrawn: Step = {
  step: 'withdrawal', by: 'piet', kind: 'inspections', of: 'visual entered twice', recordedAt: later(twice.recordedAt, 25),
  reason: 'Entered twice: the first entry of the same look stands.',
};

/** What was seen and measured, entered on the day. */
export const INSPECTIONS: readonly Step[] = [...visual, ...dimensional, lapped, openSeam, taped, twice, withdrawn];
