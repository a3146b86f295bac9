import { keyOfTexts, remembering } from '#libs/conformity';
import { compare, over, ratio, type Ratio } from '#libs/exact';
import { CHARACTERISTICS } from './characteristic.js';
import { derivedValue, keyOfValue, reasonNaming, type DerivedValue, type Deriver } from './derivation.js';
import { isOfOneTest, printedText, type SourcedValue } from './sourced-value.js';
import { hull, statedRange, type StatedRange } from './stated-range.js';

const YIELDS: ReadonlySet<string> = new Set(CHARACTERISTICS.filter(({ family }) => family === 'yield').map(({ code }) => code));

/** Papers repeat a tensile test on each coil that it stands for. */
const ANSWERS_KEPT = 500;

const ZERO = ratio(0n);
const DOUBTFUL = 'in doubt or not readable';

/**
 * What gives the ratio of each yield or proof strength to the tensile strength of its test. Where a test has several tensile
 * strengths nobody tells which belongs to which, and the ratio lies between the least and the most that they allow. Where it
 * has none the ratio could be anything, unless it is itself reported for that test; of a strength in doubt it stays open.
 */
export function yieldRatios(): Deriver {
  const ofOneTest = remembering(
    ([strength, tensiles]: readonly [SourcedValue, readonly SourcedValue[]]) => yieldRatio(strength, tensiles),
    ([strength, tensiles]) => keyOfTexts(strength.source.label) + keyOfValue(strength) + tensiles.map(keyOfValue).join(''),
    ANSWERS_KEPT,
  );
  const withoutTensile = remembering(unknownRatio, (strength: SourcedValue) => keyOfTexts(strength.source.label) + keyOfValue(strength), ANSWERS_KEPT);
  return {
    uses: ({ characteristic }) => characteristic === 'Rm' || characteristic === 'Y/T' || YIELDS.has(characteristic),
    from: (strengths) => strengths.flatMap((strength) => {
      if (!YIELDS.has(strength.characteristic)) return [];
      const tensiles = strengths.filter((value) => value.characteristic === 'Rm' && isOfOneTest(value, strength));
      if (tensiles.length > 0) return [ofOneTest([strength, tensiles])];
      const unknown = withoutTensile(strength);
      return !unknown.isDoubtful && isReportedFor(strength, strengths) ? [] : [unknown];
    }),
    // A ratio that is reported answers for its own test alone, as `from` sees to.
    isClosedByReport: false,
  };
}

function isReportedFor(strength: SourcedValue, values: readonly SourcedValue[]): boolean {
  return values.some((value) => value.characteristic === 'Y/T' && isOfOneTest(value, strength));
}

function unknownRatio(strength: SourcedValue): DerivedValue {
  const { isDoubtful } = statedRange(strength, 'MPa');
  const because = [
    ...reasonNaming(DOUBTFUL, isDoubtful ? [strength.characteristic] : []),
    `Rm not reported for the test of this ${strength.characteristic} of ${printedText(strength)} (same paper, place and direction)`,
  ];
  return derivedValue({ low: ZERO, high: null, unit: '1', label: labelOf(strength), because, isIncomplete: true, isDoubtful });
}

function yieldRatio(strength: SourcedValue, tensiles: readonly SourcedValue[]): DerivedValue {
  const yields = statedRange(strength, 'MPa');
  const tensile = tensiles.map((one) => statedRange(one, 'MPa')).reduce(hull);
  const doubtful = [...(yields.isDoubtful ? [strength.characteristic] : []), ...(tensile.isDoubtful ? ['Rm'] : [])];
  const because = [
    ...reasonNaming(DOUBTFUL, doubtful),
    ...(tensiles.length === 1 ? [] : [`${tensiles.length} values of Rm stand there, and nothing tells which belongs to this ${strength.characteristic}`]),
  ];
  return derivedValue({
    ...quotient(yields, tensile), unit: '1', label: labelOf(strength), because, isIncomplete: false, isDoubtful: doubtful.length > 0,
  });
}

const labelOf = ({ characteristic, source }: SourcedValue): string => `${characteristic}/Rm of ${source.label}`;

function quotient(upper: StatedRange, lower: StatedRange): { low: Ratio; high: Ratio | null } {
  const isZero = (value: Ratio): boolean => compare(value, ZERO) === 0;
  return {
    low: lower.high === null || isZero(lower.high) ? ZERO : over(upper.low, lower.high),
    high: upper.high === null || isZero(lower.low) ? null : over(upper.high, lower.low),
  };
}
