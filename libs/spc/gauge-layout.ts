import { decimal, decimalsOf, type Ratio, ratio } from '#libs/exact';

/** One reading of a gauge study. Every appraiser reads every part in every trial. */
export interface GaugeReading {
  readonly part: string;
  readonly appraiser: string;
  /** Which of the repeated readings of this part by this appraiser it is, counted from 1. */
  readonly trial: number;
  /** Plain decimal text, as read. All values of a study are in one unit. */
  readonly value: string;
}

/** The readings by part, appraiser and trial, as whole numbers of `unit`: what is summed of them is exact. */
export interface GaugeLayout {
  /** In the order in which they first appear. */
  readonly parts: readonly string[];
  readonly appraisers: readonly string[];
  readonly trials: readonly number[];
  /** `cells[part][appraiser]` holds a reading for each trial. */
  readonly cells: readonly (readonly (readonly bigint[])[])[];
  /** One in the last decimal that any reading has. */
  readonly unit: Ratio;
}

const NAMED_AT_MOST = 5;

/**
 * The readings as a balanced table. Throws RangeError, saying which, when a reading is missing or given twice, when a trial
 * is not counted from 1, or when there are fewer than 2 parts or 2 trials; SyntaxError when a value is not a plain decimal.
 */
export function gaugeLayout(readings: readonly GaugeReading[]): GaugeLayout {
  for (const { trial } of readings) if (!(Number.isSafeInteger(trial) && trial >= 1)) throw new RangeError(`not a trial counted from 1: ${trial}`);
  const parts = distinct(readings.map(({ part }) => part));
  const appraisers = distinct(readings.map(({ appraiser }) => appraiser));
  const trials = distinct(readings.map(({ trial }) => trial)).sort((one, other) => one - other);
  demandTwo('part', parts);
  demandTwo('trial', trials);
  const byPlace = valuesByPlace(readings);
  demandAll(parts, appraisers, trials, byPlace);
  const decimals = Math.max(...distinct(readings.map(({ value }) => decimalsOf(value))));
  const scale = 10n ** BigInt(decimals);
  const units = (text: string): bigint => {
    const { numerator, denominator } = decimal(text);
    return (numerator * scale) / denominator;
  };
  const cells = parts.map((part) => appraisers.map((appraiser) =>
    trials.map((trial) => units(byPlace.get(placeOf({ part, appraiser, trial })) ?? ''))));
  return { parts, appraisers, trials, cells, unit: ratio(1n, scale) };
}

/** Throws RangeError when there are fewer than 2 of them, naming those there are. */
export function demandTwo(kind: 'part' | 'appraiser' | 'trial', found: readonly (string | number)[]): void {
  if (found.length >= 2) return;
  const those = found.length === 0 ? '' : ` (${found.join(', ')})`;
  throw new RangeError(`a gauge study takes at least 2 ${kind}s; it has ${found.length}${those}`);
}

function valuesByPlace(readings: readonly GaugeReading[]): ReadonlyMap<string, string> {
  const byPlace = new Map<string, string>();
  for (const reading of readings) {
    if (byPlace.has(placeOf(reading))) throw new RangeError(`a reading is given twice: ${shown(reading)}`);
    byPlace.set(placeOf(reading), reading.value);
  }
  return byPlace;
}

function demandAll(
  parts: readonly string[], appraisers: readonly string[], trials: readonly number[], byPlace: ReadonlyMap<string, string>,
): void {
  const missing = parts.flatMap((part) => appraisers.flatMap((appraiser) => trials.map((trial) => ({ part, appraiser, trial }))))
    .filter((place) => !byPlace.has(placeOf(place)));
  if (missing.length === 0) return;
  const more = missing.length > NAMED_AT_MOST ? `; and ${missing.length - NAMED_AT_MOST} more` : '';
  throw new RangeError(`the study is not balanced; missing: ${missing.slice(0, NAMED_AT_MOST).map(shown).join('; ')}${more}`);
}

type Place = Pick<GaugeReading, 'part' | 'appraiser' | 'trial'>;

const shown = ({ part, appraiser, trial }: Place): string => `part ${part}, appraiser ${appraiser}, trial ${trial}`;
const placeOf = ({ part, appraiser, trial }: Place): string => JSON.stringify([part, appraiser, trial]);
const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];
