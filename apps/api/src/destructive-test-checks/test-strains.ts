import { flareAgainstFold, flareExpansionPercent, flatteningReached, FOLD_CAUTIONS } from '#libs/tube-tests';
import type { FlaringContent, TestContent } from '../destructive-tests/test-content.js';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';
import type { FlareAgainstFoldAnswer, TestStrainAnswer } from './destructive-test-check.dto.js';

const FLATTENING = ['outer fibre strain at the folds', 'logarithmic outer fibre strain at the folds'] as const;
const FLARING = ['expansion of the outside diameter', 'logarithmic strain of the outside diameter'] as const;
const PER_LENGTH = 'mm per mm';

/** What a flattening or flaring strained the steel by; figures that cannot be computed say why. None of other tests. */
export function testStrains(kind: TestKind, { flattening, flaring, reverseFlattening }: TestContent): TestStrainAnswer[] {
  if (kind === 'flaring') return flaringStrains(flaring);
  if (kind !== 'flattening' || reverseFlattening !== null) return [];
  if (flattening === null) return FLATTENING.map((name) => unknown(name, PER_LENGTH, 'the record has no flattening'));
  if (flattening.plateDistanceMm === null) return FLATTENING.map((name) => unknown(name, PER_LENGTH, 'the distance between the plates is not recorded'));
  const { outerFibreStrain, outerFibreLogStrain, rule } = flatteningReached(flattening, flattening.plateDistanceMm);
  return [
    { name: FLATTENING[0], value: outerFibreStrain, unit: PER_LENGTH, because: rule },
    { name: FLATTENING[1], value: outerFibreLogStrain, unit: PER_LENGTH, because: `ln(1 + e), of the e above (derived here, no published source)` },
  ];
}

function flaringStrains(flaring: FlaringContent | null): TestStrainAnswer[] {
  const flare = flaring === null ? 'the record has no flaring' : flareOf(flaring);
  if (typeof flare === 'string') return [unknown(FLARING[0], '%', flare), unknown(FLARING[1], PER_LENGTH, flare)];
  const { outsideDiameterMm, flaredDiameterMm } = flare;
  const expansion = flareExpansionPercent(flare);
  return [
    { name: FLARING[0], value: expansion, unit: '%', because: `(D_flared − D)/D × 100 (as ISO 8493 states it, from memory): D ${outsideDiameterMm} mm, D_flared ${flaredDiameterMm} mm` },
    { name: FLARING[1], value: Math.log1p(expansion / 100), unit: PER_LENGTH, because: 'ln(D_flared/D) (derived here, no published source)' },
  ];
}

/** A flaring beside the fold of its string, whose κ is decimal text, or null where nobody recorded it; null of other tests. */
export function flareAndFold(kind: TestKind, { flaring }: TestContent, kappa: string | null): FlareAgainstFoldAnswer | null {
  if (kind !== 'flaring') return null;
  const flare = flaring === null ? 'the record has no flaring' : flareOf(flaring);
  const isCracked = flaring?.isCracked ?? null;
  const missing = [
    ...(kappa === null ? ['the diameter ratio κ of the string is not recorded'] : []),
    ...(typeof flare === 'string' ? [flare] : []),
    ...(flaring !== null && isCracked === null ? ['nobody says whether the flare cracked'] : []),
  ];
  if (kappa === null || typeof flare === 'string' || isCracked === null) {
    return { reachesFold: null, expansionPercent: null, foldExpansionPercent: null, because: `not computable: ${missing.join('; ')}`, rule: null, cautions: [...FOLD_CAUTIONS] };
  }
  const { reachesFold, expansionPercent, foldExpansionPercent, words, rule, cautions } = flareAgainstFold(flare, isCracked, kappa);
  return { reachesFold, expansionPercent, foldExpansionPercent, because: words, rule, cautions: [...cautions] };
}

function flareOf({ outsideDiameterMm, flaredDiameterMm }: FlaringContent): { outsideDiameterMm: string; flaredDiameterMm: string } | string {
  return flaredDiameterMm === null ? 'the diameter of the flare is not recorded' : { outsideDiameterMm, flaredDiameterMm };
}

const unknown = (name: string, unit: string, because: string): TestStrainAnswer => ({ name, value: null, unit, because: `not computable: ${because}` });
