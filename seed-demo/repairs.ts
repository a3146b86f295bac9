import { STATIONS } from './line.js';
import { TIG } from './procedures-and-people.js';
import { CUTS, readingOf, timeOf } from './runs.js';
import { entered, enteredLater, later, type Fields, type Step, type Who } from './step.js';

const STRING = { stringId: '@string 2' };
const bench = (mm: number): Fields => ({ counterReading: readingOf(mm + STATIONS['cutting bench']), station: 'cutting bench', uMm: '5' });
const reachedBench = (mm: number): string => timeOf(mm + STATIONS['cutting bench']);
const PLAIN = { photoSha256s: [], standsInFor: [] };
const NOT_WELDED = { readings: [], chosen: [], photoSha256s: [] };

/** The high bead before the trimming tool was changed, with a hand's breadth to both sides, mm. */
const BEAD = { fromMm: 504_950, atMm: 505_000, toMm: 505_050 } as const;
const aroundBead = { from: bench(BEAD.fromMm), to: bench(BEAD.toMm) };
const notch = (reflectorSizeMm: string): Fields => ({ method: 'ET', technique: 'ET-02 rev 1', reflector: 'notch-outside', reflectorSizeMm });

/** Seen by eddy current before and after, measured again, and so settled. The notch that had to show is no larger than before. */
const ground: readonly Step[] = [
  entered('piet', 'examinations', 'eddy current before grinding', {
    observedAt: later(reachedBench(BEAD.toMm), -2), ...STRING, ...PLAIN, ...aroundBead, ...notch('0.50'), outcome: 'accepted', seen: 'The bead alone answers, no crack',
  }),
  entered('ilka', 'repairs', 'bead ground flush', {
    observedAt: later(reachedBench(BEAD.toMm), 1), doneBy: '@teodor', ...STRING, ...NOT_WELDED, ...aroundBead, method: 'grinding', found: 'Bead 1.62 mm high, trimming tool blunt',
    inspectionId: `@bead height ${BEAD.atMm}`, depthRemovedMm: '1.50', remainingWallMm: '4.97', wallLimitMm: '4.75', instrumentId: '@MI-07',
  }),
  entered('piet', 'examinations', 'eddy current after grinding', {
    observedAt: later(reachedBench(BEAD.toMm), 4), ...STRING, ...PLAIN, ...aroundBead, ...notch('0.40'), outcome: 'accepted', seen: 'No answer above the reference',
    repairId: '@bead ground flush',
  }),
  entered('ilka', 'inspections', 'bead height after grinding', {
    observedAt: later(reachedBench(BEAD.toMm), 5), ...STRING, kind: 'dimensional', characteristic: 'bead height', value: '0.12', unit: 'mm', limitMax: '1.50',
    requirement: 'Pipe inspection plan rev 2, 4.6', ...aroundBead, clockHours: '12', viewing: 'down-the-hole', verdict: 'accepted', note: 'After grinding.',
  }),
];

/** Where the scratch was on the bench while the line stood, mm; the round that the pipe had been looked at was over. */
const SCRATCH = { fromMm: 1_113_140, toMm: 1_113_200 } as const;

const notLookedAt = entered('piet', 'repairs', 'scratch ground out', {
  observedAt: '2026-03-11T10:05:00Z', doneBy: '@teodor', ...STRING, ...NOT_WELDED, from: bench(SCRATCH.fromMm), to: bench(SCRATCH.toMm), method: 'grinding',
  found: 'Scratch 0.2 mm deep, from a roll', depthRemovedMm: '0.25', remainingWallMm: '4.76', wallLimitMm: '4.75', instrumentId: '@MI-07',
});

/** The welds that closed the two cut-outs, and how they were examined; film 3 of the second is fogged. */
interface Joined {
  readonly nth: 1 | 2;
  readonly by: Who;
  readonly current: string;
  readonly seen: readonly [string, 'accepted' | 'held'];
}

const JOINED: readonly Joined[] = [
  { nth: 1, by: 'ilka', current: '128', seen: ['Four films of the whole girth, no indication', 'accepted'] },
  { nth: 2, by: 'piet', current: '131', seen: ['Film 3 of 4 is fogged between 90 and 140 mm', 'held'] },
];

const rejoined: readonly Step[] = JOINED.flatMap(({ nth, by, current, seen: [seen, outcome] }): Step[] => {
  const cut = CUTS[nth - 1] ?? CUTS[0];
  const onRecord = later(cut.at, 50);
  const of = { ...STRING, rejoinId: `@re-join ${nth}` };
  const shown = { instrumentId: '@WM-1' };
  const weld = enteredLater(by, 'welds', `weld of re-join ${nth}`, onRecord, {
    observedAt: cut.at, doneBy: '@jorun', ...of, weldProcedureId: '@PW-2', fillerBatch: 'FB-2210', gasBatch: 'GB-120',
    readings: [
      { variable: 'current', printed: current, unit: 'A', ...shown }, { variable: 'voltage', printed: '11.4', unit: 'V', ...shown },
      { variable: 'travel-speed', printed: '88', unit: 'mm/min', ...shown }, { variable: 'strip-thickness', printed: '4.99', unit: 'mm', instrumentId: '@MI-07' },
    ],
    chosen: [
      { choice: 'process', value: '141' }, { choice: 'material', value: 'S420MC' }, { choice: 'filler-class', value: TIG.filler }, { choice: 'gas', value: TIG.gas },
      { choice: 'heat-treatment', value: 'no' },
    ],
  });
  const radiographed = enteredLater(by, 'examinations', `radiography of re-join ${nth}`, later(onRecord, 2), {
    observedAt: later(cut.at, 25), ...of, ...PLAIN, from: bench(cut.toMm), method: 'RT', technique: 'RT-05 rev 1', outcome, seen,
  });
  return [weld, radiographed];
});

/** What was repaired and joined again on the line, and how it was looked at afterwards. */
export const REPAIRS: readonly Step[] = [...ground, notLookedAt, ...rejoined];
