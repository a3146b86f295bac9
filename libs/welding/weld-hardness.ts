/**
 * Vickers hardness across a weld of a procedure test, each reading by where it lies. One reading over the limit fails the
 * test: hardness is never averaged over a weld, and what was measured on another scale is not converted to be judged.
 */
import { judge, worst, type ConformityRules, type Judgement, type Verdict } from '#libs/conformity';

export const HARDNESS_LOCATIONS = ['weld', 'heat-affected-zone', 'parent'] as const;
export type HardnessLocation = (typeof HARDNESS_LOCATIONS)[number];

export interface HardnessLimit {
  /** Decimal text. */
  readonly max: string;
  readonly unit: 'HV10';
  readonly source: string;
  readonly fromMemory: boolean;
}

export type HeatTreatment = 'as-welded' | 'heat-treated';

const ISO_15614_1 = 'EN ISO 15614-1, hardness of procedure tests, material groups 1 and 2';
const GROUPS_1_AND_2: Readonly<Record<HeatTreatment, HardnessLimit>> = {
  'as-welded': { max: '380', unit: 'HV10', source: ISO_15614_1, fromMemory: true },
  'heat-treated': { max: '320', unit: 'HV10', source: ISO_15614_1, fromMemory: true },
};

/**
 * The greatest hardness that ISO 15614-1 permits in a procedure test, by material group of ISO/TR 15608 (`1`, with or without
 * its subgroup: `1.2`). From memory, to be held against the standard before use; a project's specification overrides it.
 * Null for every other group: its cell is not known here, which does not mean that there is no limit.
 */
export function hardnessLimit(materialGroup: string, treatment: HeatTreatment): HardnessLimit | null {
  return /^[12](\.\d+)?$/.test(materialGroup) ? GROUPS_1_AND_2[treatment] : null;
}

/** Places of the zones' boundaries along a row of indentations that crosses the weld, in mm from its start, in rising order. */
export interface WeldZones {
  readonly hazFromMm: number;
  readonly weldFromMm: number;
  readonly weldToMm: number;
  readonly hazToMm: number;
}

export interface PlaceOfReading {
  readonly location: HardnessLocation;
  readonly side: 'before' | 'after' | null;
}

/**
 * The zone that a place of the row lies in, and on which side of the weld: `before` or `after` it, null in the weld itself.
 * Boundaries belong to the heat-affected zone: our own choice, as it is there that hardness is looked for.
 * Throws RangeError unless all are finite and the boundaries rise.
 */
export function hardnessLocation(placeMm: number, zones: WeldZones): PlaceOfReading {
  const { hazFromMm, weldFromMm, weldToMm, hazToMm } = zones;
  if (![placeMm, hazFromMm, weldFromMm, weldToMm, hazToMm].every(Number.isFinite)) throw new RangeError('a place on the row is not finite');
  if (!(hazFromMm <= weldFromMm && weldFromMm < weldToMm && weldToMm <= hazToMm)) {
    throw new RangeError(`zones do not rise: ${[hazFromMm, weldFromMm, weldToMm, hazToMm].join(', ')} mm`);
  }
  if (placeMm > weldFromMm && placeMm < weldToMm) return { location: 'weld', side: null };
  const location = placeMm < hazFromMm || placeMm > hazToMm ? 'parent' : 'heat-affected-zone';
  return { location, side: placeMm <= weldFromMm ? 'before' : 'after' };
}

/** An indentation as read. */
export interface HardnessReading {
  readonly location: HardnessLocation;
  readonly printed: string;
  /** The scale, such as HV10. */
  readonly unit: string;
  /** Expanded uncertainty, k = 2; null when not stated. */
  readonly expandedU: string | null;
}

/** A reading beside the limit; without one, a location that nothing was measured in. */
export interface HardnessLine {
  readonly location: HardnessLocation;
  readonly reading: HardnessReading | null;
  readonly judgement: Judgement | null;
  readonly verdict: Verdict;
}

/**
 * The readings of one weld against a limit, which holds in weld, heat-affected zone and parent alike (from memory). The whole
 * is the worst of them; a location without a reading is 'not-reported'. Readings stay in their order, before what is missing.
 * Throws as `judge` does on a limit or rules that say nothing sensible.
 */
export function judgeWeldHardness(
  readings: readonly HardnessReading[], { max, unit }: { readonly max: string; readonly unit: string }, rules: ConformityRules,
): { readonly verdict: Verdict; readonly lines: readonly HardnessLine[] } {
  const judgementOf = judge({ min: null, max, unit }, rules, { toDecimals: null, expandedU: null });
  const judged = readings.map((reading): HardnessLine => {
    const judgement = judgementOf({ printed: reading.printed, unit: reading.unit, multiplier: '1', expandedU: reading.expandedU });
    return { location: reading.location, reading, judgement, verdict: judgement.verdict };
  });
  const measured = new Set(readings.map(({ location }) => location));
  const missing = HARDNESS_LOCATIONS.filter((location) => !measured.has(location)).map((location): HardnessLine =>
    ({ location, reading: null, judgement: null, verdict: 'not-reported' }));
  const lines = [...judged, ...missing];
  return { verdict: worst(lines.map(({ verdict }) => verdict)), lines };
}
