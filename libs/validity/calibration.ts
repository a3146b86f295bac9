import type { ConformityRules } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import { type Day, dayNumber, localDay, type Moment, normalInstant } from './day.js';

/** What a calibration found at one point of the range: the deviation (indicated less reference) and the tolerance on it. */
export interface PointReading {
  /** Names the point: `5.00 mm`. */
  readonly point: string;
  /** Decimal text, in `unit`, as are the limits and the uncertainty. */
  readonly deviation: string;
  /** Lower and upper limit of the deviation, the lower below the upper: `-0.02` and `0.02`. */
  readonly min: string;
  readonly max: string;
  readonly unit: string;
  /** Expanded uncertainty of the deviation, k = 2; null when not stated. */
  readonly expandedU: string | null;
}

/** One calibration of an instrument; its instant is that of the adjustment, or of the reading where nothing was adjusted. */
export interface Calibration extends Moment {
  /** Names it among those of the instrument. */
  readonly id: string;
  /** Before any adjustment. `not-taken` neither clears nor condemns what was measured before. */
  readonly asFound: readonly PointReading[] | 'not-taken';
  /** After adjustment; `not-adjusted`: as it was found. */
  readonly asLeft: readonly PointReading[] | 'not-adjusted';
  /** By which the deviations are judged; a rule with a guard band asks for the uncertainty. */
  readonly rules: ConformityRules;
  /** Last local day, to its end, on which the instrument may be used without a new calibration; null: none stated. */
  readonly dueOn: Day | null;
}

/**
 * The calibrations in order of time, checked. Throws RangeError when two have one id or one instant, when neither as-found
 * nor as-left was taken, when a list of points is empty, a tolerance has no width, or a day or moment is none; SyntaxError
 * when a limit is not plain decimal text.
 */
export function inOrder(calibrations: readonly Calibration[]): readonly Calibration[] {
  const sorted = calibrations.map((one) => ({ ...one, instant: normalInstant(one.instant) })).sort((a, b) => (a.instant < b.instant ? -1 : 1));
  if (new Set(sorted.map(({ id }) => id)).size < sorted.length) throw new RangeError('two calibrations have the same id');
  sorted.forEach((one, index) => {
    if (one.instant === sorted[index + 1]?.instant) throw new RangeError(`two calibrations have the same instant: ${one.instant}`);
    checkCalibration(one);
  });
  return sorted;
}

function checkCalibration(calibration: Calibration): void {
  const { id, asFound, asLeft, dueOn } = calibration;
  localDay(calibration);
  if (dueOn !== null) dayNumber(dueOn);
  if (asFound === 'not-taken' && asLeft === 'not-adjusted') throw new RangeError(`calibration ${id} has neither an as-found nor an as-left`);
  if (asFound !== 'not-taken') checkPoints(id, asFound);
  if (asLeft !== 'not-adjusted') checkPoints(id, asLeft);
}

function checkPoints(id: string, points: readonly PointReading[]): void {
  if (points.length === 0) throw new RangeError(`calibration ${id} has an empty list of points`);
  for (const { point, min, max } of points) {
    if (compare(decimal(min), decimal(max)) < 0) continue;
    throw new RangeError(`calibration ${id}: the tolerance at ${point} is not from a lower to an upper limit: ${min} to ${max}`);
  }
}
