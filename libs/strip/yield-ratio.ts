import { keyOfTexts, remembering } from '#libs/conformity';
import { compare, over, ratio, type Ratio } from '#libs/exact';
import { CHARACTERISTICS } from './characteristic.js';
import { derivedValue, keyOfValue, reasonNaming, type DerivedValue, type Deriver } from './derivation.js';
import { isOfOneTest, type SourcedValue } from './sourced-value.js';
import { hull, statedRange, type StatedRange } from './stated-range.js';

const YIELDS: ReadonlySet<string> = new Set(CHARACTERISTICS.filter(({ family }) => family === 'yield').map(({ code }) => code));

/** Papers repeat a tensile test on each coil that it stands for. */
const ANSWERS_KEPT = 500;

const ZERO = ratio(0n);

/**
 * What gives the ratio of each yield or proof strength to the tensile strength of its test. Where a test has several tensile
 * strengths nobody tells which belongs to which, and the ratio lies between the least and the most that they allow.
 */
export function yieldRatios(): Deriver {
  const ofOneTest = remembering(
    ([strength, tensiles]: readonly [SourcedValue, readonly SourcedValue[]]) => yieldRatio(strength, tensiles),
    ([strength, tensiles]) => keyOfTexts(strength.source.label) + keyOfValue(strength) + tensiles.map(keyOfValue).join(''),
    ANSWERS_KEPT,
  );
  return {
    uses: ({ characteristic }) => characteristic === 'Rm' || YIELDS.has(characteristic),
    from: (strengths) => strengths.flatMap((strength) => {
      if (!YIELDS.has(strength.characteristic)) return [];
      const tensiles = strengths.filter((value) => value.characteristic === 'Rm' && isOfOneTest(value, strength));
      return tensiles.length === 0 ? [] : [ofOneTest([strength, tensiles])];
    }),
  };
}

function yieldRatio(strength: SourcedValue, tensiles: readonly SourcedValue[]): DerivedValue {
  const yields = statedRange(strength, 'MPa');
  const tensile = tensiles.map((one) => statedRange(one, 'MPa')).reduce(hull);
  const doubtful = [...(yields.isDoubtful ? [strength.characteristic] : []), ...(tensile.isDoubtful ? ['Rm'] : [])];
  const because = [
    ...reasonNaming('in doubt or not readable', doubtful),
    ...(tensiles.length === 1 ? [] : [`${tensiles.length} values of Rm stand there, and nothing tells which belongs to this ${strength.characteristic}`]),
  ];
  return derivedValue({
    ...quotient(yields, tensile), unit: '1', label: `${strength.characteristic}/Rm of ${strength.source.label}`, because, isIncomplete: false,
  });
}

function quotient(upper: StatedRange, lower: StatedRange): { low: Ratio; high: Ratio | null } {
  const isZero = (value: Ratio): boolean => compare(value, ZERO) === 0;
  return {
    low: lower.high === null || isZero(lower.high) ? ZERO : over(upper.low, lower.high),
    high: upper.high === null || isZero(lower.low) ? null : over(upper.high, lower.low),
  };
}
