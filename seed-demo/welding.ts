import { SPLICE_STATION, STATIONS, type StationName } from './line.js';
import { SPLICE_PLACES } from './pipe.js';
import { MAG } from './procedures-and-people.js';
import { timeOf } from './runs.js';
import { enteredLater, later, type Fields, type Step, type Who } from './step.js';

/**
 * The splices: prepared, welded at the strip splice station while the accumulator paid out, released as flat strip, examined
 * after forming, and seen at stations.
 */
interface Spliced {
  readonly number: string;
  /** Who keyed it; examined, too, but for the ends of S-5. */
  readonly by: Who;
  /** A, V, mm/min. */
  readonly weld: readonly [string, string, string];
  readonly fillerBatch: string;
  /** mm, by the bridge gauge, before forming. */
  readonly highLow: string;
  /** HV10 of the weld and of the heat-affected zone after forming; null where nobody measured it. */
  readonly hardness: readonly [string, string] | null;
  /** The stations that saw it. */
  readonly seenAt: readonly StationName[];
}

const SEEN = ['seam viewing', 'cutting bench'] as const;
const SPLICED: readonly Spliced[] = [
  { number: 'S-1', by: 'ilka', weld: ['212', '24.1', '305'], fillerBatch: 'FB-4471', highLow: '0.20', hardness: ['214', '221'], seenAt: SEEN },
  { number: 'S-2', by: 'ilka', weld: ['214', '24.0', '308'], fillerBatch: 'FB-4471', highLow: '0.15', hardness: ['211', '224'], seenAt: SEEN },
  { number: 'S-3', by: 'ilka', weld: ['209', '23.8', '300'], fillerBatch: 'FB-4471', highLow: '0.30', hardness: null, seenAt: ['seam viewing'] },
  { number: 'S-4', by: 'ilka', weld: ['211', '24.2', '306'], fillerBatch: 'FB-4471', highLow: '0.45', hardness: ['216', '228'], seenAt: SEEN },
  { number: 'S-5', by: 'piet', weld: ['215', '24.3', '310'], fillerBatch: 'FB-4471', highLow: '0.25', hardness: ['219', '243'], seenAt: SEEN },
  // The voltage is a little above what the procedure allows.
  { number: 'S-6', by: 'piet', weld: ['218', '26.4', '302'], fillerBatch: 'FB-4502', highLow: '0.20', hardness: ['213', '226'], seenAt: SEEN },
  // Nobody saw it pass the weld point, or any station after that.
  { number: 'S-7', by: 'piet', weld: ['210', '24.0', '304'], fillerBatch: 'FB-4502', highLow: '0.25', hardness: null, seenAt: [] },
  { number: 'S-8', by: 'piet', weld: ['213', '24.1', '307'], fillerBatch: 'FB-4502', highLow: '0.20', hardness: ['215', '222'], seenAt: SEEN },
];

/** The ends of S-5 were looked at in the night before, at 00:20 by the clocks of the site: a day after NDT-118 ran out there. */
const NIGHT_PREPARATION = '2026-03-05T23:20:00Z';
const PATH_MM = (SPLICE_STATION.pathMinMm + SPLICE_STATION.pathMaxMm) / 2;
const STRING = { stringId: '@string 2' };
const NOTHING: readonly Fields[] = [];

const weldMmOf = (number: string): number => SPLICE_PLACES.find((place) => place.number === number)?.weldMm ?? NaN;
const weldedAt = (number: string): string => timeOf(weldMmOf(number) + PATH_MM);

/** Steps are entered once the splice they name is on record. */
const keyed = ({ number, by }: Spliced, kind: string, key: string, fields: Fields & { observedAt: string }): Step =>
  enteredLater(by, kind, `${key} of ${number}`, later(timeOf(weldMmOf(number)), 6), { ...STRING, spliceId: `@${number}`, ...fields });

const step = (splice: Spliced, key: string, fields: Fields & { observedAt: string }): Step =>
  keyed(splice, 'splice-steps', key, { outcome: 'accepted', readings: NOTHING, examinations: NOTHING, coupons: [], photoSha256s: [], ...fields });

const examined = (method: string, technique: string, person: string, seen?: string): Fields => ({ method, technique, outcome: 'accepted', personId: `@${person}`, seen: seen ?? null });

function weldOf(splice: Spliced): Step {
  const [current, voltage, speed] = splice.weld;
  const shown = { instrumentId: '@WM-1' };
  return keyed(splice, 'welds', 'weld', {
    observedAt: weldedAt(splice.number), doneBy: '@jorun', weldProcedureId: '@WP-1', fillerBatch: splice.fillerBatch, gasBatch: 'GB-118',
    readings: [
      { variable: 'current', printed: current, unit: 'A', ...shown }, { variable: 'voltage', printed: voltage, unit: 'V', ...shown },
      { variable: 'travel-speed', printed: speed, unit: 'mm/min', ...shown }, { variable: 'strip-thickness', printed: '5.01', unit: 'mm', instrumentId: '@MI-07' },
    ],
    chosen: [
      { choice: 'process', value: '135' }, { choice: 'material', value: 'S420MC' }, { choice: 'filler-class', value: MAG.filler }, { choice: 'gas', value: MAG.gas },
      { choice: 'heat-treatment', value: 'no' }, { choice: 'hand', value: 'left' },
    ],
  });
}

const preparation = (splice: Spliced): Step => {
  const isOfTheNight = splice.number === 'S-5';
  return step(splice, 'preparation', {
    observedAt: isOfTheNight ? NIGHT_PREPARATION : later(weldedAt(splice.number), -8), stage: 'preparation', doneBy: '@jorun',
    examinations: [examined('UT', 'UT-03 rev 1', isOfTheNight ? 'ilka' : splice.by, 'Edges of both ends, no lamination')],
    note: isOfTheNight ? 'Head of the next coil, while the line stood overnight.' : null,
  });
};

const release = (splice: Spliced): Step => step(splice, 'release', {
  observedAt: later(weldedAt(splice.number), 5), stage: 'flat-strip-release', doneBy: `@${splice.by}`, coupons: splice.number === 'S-4' ? ['S-4-C1'] : [],
  examinations: [examined('RT', 'RT-02 rev 3', splice.by)],
  readings: [
    { measured: 'high-low', printed: splice.highLow, unit: 'mm', max: '0.50', instrumentId: '@BG-02' },
    { measured: 'thickness-over-weld', printed: '5.32', unit: 'mm', min: '4.85', max: '5.60', instrumentId: '@MI-07' },
  ],
});

const reachedAt = (number: string, station: StationName): string => timeOf(weldMmOf(number) + STATIONS[station]);

function afterForming(splice: Spliced): Step[] {
  const { number, hardness } = splice;
  if (number === 'S-3') return [lapped(splice)];
  if (hardness === null) return [];
  const [weld, haz] = hardness;
  const isHeld = number === 'S-5';
  return [step(splice, 'after forming', {
    observedAt: reachedAt(number, 'cutting bench'), stage: 'after-forming', doneBy: `@${splice.by}`, outcome: isHeld ? 'held' : 'accepted',
    readings: [
      { measured: 'hardness-weld', printed: weld, unit: 'HV10', max: '250', instrumentId: '@HT-2' }, { measured: 'hardness-haz', printed: haz, unit: 'HV10', max: '250', instrumentId: '@HT-2' },
    ],
    examinations: [examined('VT', 'VT-01 rev 2', splice.by)], note: isHeld ? "Block RB-250: its certificate ran out the day before." : null,
  })];
}

const lapped = (splice: Spliced): Step => step(splice, 'after forming', {
  observedAt: timeOf(369_000 + STATIONS['seam viewing']), stage: 'after-forming', doneBy: '@ilka', outcome: 'rejected',
  readings: [{ measured: 'high-low', printed: '5.10', unit: 'mm', max: '0.50', instrumentId: '@BG-02' }], note: 'One edge lies on the other.',
});

const sightings = (splice: Spliced): Step[] => splice.seenAt.map((station) => step(splice, `sighting at ${station}`, {
  observedAt: reachedAt(splice.number, station), stage: 'station-sighting', doneBy: `@${splice.by}`, station, outcome: splice.number === 'S-3' ? 'rejected' : 'accepted',
}));

/** Each splice from its prepared ends to the last station that saw it. */
export const WELDING: readonly Step[] = SPLICED.flatMap((splice) =>
  [preparation(splice), weldOf(splice), release(splice), ...afterForming(splice), ...sightings(splice)]);
