import { compare, decimal, decimalText, minus, over, ratio, times, toNumber, type Ratio } from '#libs/exact';
import { foldHoopStrain } from '#libs/length';
import { flareExpansionPercent, type Flare } from './flaring.js';
import { positive } from './tube.js';

/** To be shown with every comparison of a flare with the fold. Sentences of our own. */
export const FOLD_CAUTIONS: readonly string[] = [
  'Advisory. The responsible engineer decides whether the pipe can be turned inside out.',
  'A flare widens an end once. The fold widens the pipe, bends it over and back, and turns its inner surface and bead outside.',
  'A flare that cracked, or stopped short of the fold\'s expansion, does not show that the pipe survives the fold; nor does a sound one prove it.',
  'κ is taken as given. Its uncertainty is not part of the comparison.',
];

/** As a reader sees it. */
const FOLD_RULE = 'D_flared/D is at least κ = mean diameter of the outer wall / of the inner wall, without a crack '
  + '(derived here, no published source)';

export interface FlareAgainstFold {
  /** Widened by at least as much as the fold does, and without a crack. */
  readonly reachesFold: boolean;
  readonly expansionPercent: number;
  /** (κ − 1) × 100. */
  readonly foldExpansionPercent: number;
  /** ln(D_flared/D), at the outside. */
  readonly flareStrain: number;
  /** ln κ. */
  readonly foldStrain: number;
  readonly words: string;
  readonly rule: string;
  readonly cautions: readonly string[];
}

/**
 * A flaring test beside the expansion of the fold, κ = mean diameter of the outer wall / of the inner wall (decimal text, at
 * least 1); advisory. Held against κ is the ratio of outside diameters, D_flared/D: a wall does not thicken at a flare, so
 * the mean diameter grows by more than that, and the comparison errs to the safe side (derived here). Compared exactly.
 * Throws SyntaxError unless the numbers are plain decimals, RangeError as `flareExpansionPercent` does, or when κ is below 1.
 */
export function flareAgainstFold(flare: Flare, isCracked: boolean, kappa: string): FlareAgainstFold {
  const expansionPercent = flareExpansionPercent(flare);
  const fold = exactKappa(kappa);
  const widening = over(decimal(flare.flaredDiameterMm), decimal(flare.outsideDiameterMm));
  const isWideEnough = compare(widening, fold) >= 0;
  return {
    reachesFold: isWideEnough && !isCracked,
    expansionPercent,
    foldExpansionPercent: toNumber(percentOver1(fold)),
    flareStrain: Math.log(toNumber(widening)),
    foldStrain: foldHoopStrain(toNumber(fold)),
    words: wordsFor({ widening, fold, kappa, isCracked, isWideEnough }),
    rule: FOLD_RULE,
    cautions: FOLD_CAUTIONS,
  };
}

interface Comparison {
  readonly widening: Ratio;
  readonly fold: Ratio;
  readonly kappa: string;
  readonly isCracked: boolean;
  readonly isWideEnough: boolean;
}

function wordsFor({ widening, fold, kappa, isCracked, isWideEnough }: Comparison): string {
  const found = `flared by ${percentText(widening)} %, ${isCracked ? 'cracked' : 'no crack'}`;
  const asked = `the fold widens by ${percentText(fold)} % (κ = ${kappa}, strain ln κ)`;
  const cracked = isWideEnough ? 'wide enough, but cracked: not shown' : 'not wide enough, and cracked: not shown';
  const sound = isWideEnough ? 'the flare reaches the fold\'s expansion' : 'the flare stopped short of the fold: not shown';
  return `${found}; ${asked}; ${isCracked ? cracked : sound}. Advisory.`;
}

function exactKappa(text: string): Ratio {
  const kappa = positive('κ', text, '');
  if (compare(kappa, ratio(1n)) < 0) throw new RangeError(`κ is below 1, and the fold would not widen the pipe: ${text}`);
  return kappa;
}

function percentOver1(value: Ratio): Ratio {
  return times(minus(value, ratio(1n)), ratio(100n));
}

function percentText(value: Ratio): string {
  return decimalText(percentOver1(value), 2, 'half-even');
}
