import { type ConformityRules, judge, keyOfTexts, parseReading, type Reading, remembering, type Verdict } from '#libs/conformity';
import { compare, decimal, minus, over, plus, type Ratio, ratio, toNumber } from '#libs/exact';
import type { Calibration, PointReading } from './calibration.js';

/** Whether an instrument was in tolerance; `not-shown` where the decision rule or the reading leaves it open. */
export type ToleranceState = 'in' | 'out' | 'not-shown';

/** A deviation that was not shown to be in tolerance. */
export interface FoundDeviation {
  /** Id of the calibration. */
  readonly calibration: string;
  readonly when: 'as-found' | 'as-left';
  readonly point: string;
  readonly deviation: string;
  readonly min: string;
  readonly max: string;
  readonly unit: string;
  /** Its distance from the middle of the tolerance in half widths: 1 on a limit, 1.5 half as far again; null when it is no plain number. */
  readonly timesTolerance: number | null;
}

export interface JudgedCalibration {
  readonly calibration: Calibration;
  readonly found: ToleranceState | 'not-taken';
  readonly left: ToleranceState;
  /** Of the as-found, and of the as-left, what was not in tolerance. */
  readonly foundOutside: readonly FoundDeviation[];
  readonly leftOutside: readonly FoundDeviation[];
}

/** Tolerances are few, and repeat from point to point and from year to year. */
const JUDGES_KEPT = 256;

/**
 * The calibration judged by its own rules: out when a point does not conform; in only when every point conforms. What is
 * not shown to be in tolerance (inside a guard band, without the uncertainty that the rule asks for, not readable) is
 * trusted no more than what is out: our own choice, the cautious one.
 */
export function judged(calibration: Calibration): JudgedCalibration {
  const { asFound, asLeft } = calibration;
  const leftPoints = asLeft === 'not-adjusted' ? asFound : asLeft;
  const found = asFound === 'not-taken' ? null : judgedPoints(calibration, 'as-found', asFound);
  const left = leftPoints === 'not-taken' ? null : judgedPoints(calibration, 'as-left', leftPoints);
  return {
    calibration,
    found: found?.state ?? 'not-taken',
    left: left?.state ?? 'not-shown',
    foundOutside: found?.outside ?? [],
    leftOutside: left?.outside ?? [],
  };
}

/** Greatest first, by the tolerance; what cannot be compared last. The order of the points plays no part. */
export function greatestFirst(deviations: readonly FoundDeviation[]): readonly FoundDeviation[] {
  const keyOf = ({ calibration, when, point }: FoundDeviation): string => JSON.stringify([calibration, when, point]);
  return deviations.toSorted((a, b) => compareFarness(b, a) || (keyOf(a) < keyOf(b) ? -1 : 1));
}

/** The value of a deviation that is one plain number. */
export function plainDeviation({ deviation, unit }: Pick<PointReading, 'deviation' | 'unit'>): Ratio | null {
  const read = parseReading(readingOf({ deviation, unit, expandedU: null }));
  return 'fault' in read || read.low === null || read.high === null ? null : read.low;
}

interface JudgedPoints {
  readonly state: ToleranceState;
  readonly outside: readonly FoundDeviation[];
}

function judgedPoints({ id, rules }: Calibration, when: FoundDeviation['when'], points: readonly PointReading[]): JudgedPoints {
  const all = points.map((reading) => ({ reading, verdict: verdictOf(rules, reading) }));
  const wrong = all.filter(({ verdict }) => verdict !== 'conforms');
  const isOut = wrong.some(({ verdict }) => verdict === 'does-not-conform');
  return {
    state: wrong.length === 0 ? 'in' : isOut ? 'out' : 'not-shown',
    outside: wrong.map(({ reading: { point, deviation, min, max, unit } }) => {
      const far = farness({ deviation, min, max, unit });
      return { calibration: id, when, point, deviation, min, max, unit, timesTolerance: far && toNumber(far) };
    }),
  };
}

const judgeOf = remembering(
  ({ min, max, unit, ...rules }: Pick<PointReading, 'min' | 'max' | 'unit'> & ConformityRules) => {
    return judge({ min, max, unit }, rules, { toDecimals: null, expandedU: null });
  },
  ({ min, max, unit, rounding, decision, guardFactor }) => keyOfTexts(min, max, unit, rounding, decision, guardFactor),
  JUDGES_KEPT,
);

function verdictOf(rules: ConformityRules, point: PointReading): Verdict {
  const { min, max, unit } = point;
  return judgeOf({ ...rules, min, max, unit })(readingOf(point)).verdict;
}

function readingOf({ deviation, unit, expandedU }: Pick<PointReading, 'deviation' | 'unit' | 'expandedU'>): Reading {
  return { printed: deviation, unit, multiplier: '1', expandedU };
}

/** |d − (min + max)/2| / ((max − min)/2). */
function farness(reading: Pick<PointReading, 'deviation' | 'min' | 'max' | 'unit'>): Ratio | null {
  const value = plainDeviation(reading);
  if (value === null) return null;
  const [min, max] = [decimal(reading.min), decimal(reading.max)];
  const twice = minus(plus(value, value), plus(min, max));
  const size = twice.numerator < 0n ? minus(ratio(0n), twice) : twice;
  return over(size, minus(max, min));
}

function compareFarness(a: FoundDeviation, b: FoundDeviation): number {
  const [one, other] = [farness(a), farness(b)];
  if (one === null || other === null) return Number(one !== null) - Number(other !== null);
  return compare(one, other);
}
