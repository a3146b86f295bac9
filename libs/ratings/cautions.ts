import type { WallName } from '#libs/length';

/** To be shown with every rating. Sentences of our own. */
const ALWAYS: readonly string[] = [
  'Computed ratings are advisory. The responsible engineer decides.',
  'The formulas assume round, uniform, unfolded pipe without axial load, bending or external support; the collapse constants were fitted to tests of seamless casing.',
  'The seam, its heat-affected zone, splices, dents, wear and corrosion are not in the formulas.',
  'The ratings of the two walls do not simply add.',
  'Temperature, cyclic load and sour service are outside these formulas.',
];

const OUTER: readonly string[] = [
  'The fold strains the wall, changes its yield strength and usually lowers its collapse resistance: the yield strength used is that of the pipe before the fold.',
  'The wall and diameter of the outer wall are computed from κ and λ, not measured; their uncertainty is not part of the rating.',
];

const EXTRAPOLATED = 'λ is not a slope between two shoe ties here: it is assumed or extrapolated.';
const TESTED = 'A tested yield strength is that of one piece; published ratings use the specified minimum.';
const MEASURED = 'A measured minimum wall is the least that was read; thinner pipe may lie between the readings.';

/** What a rating rests on, as far as its cautions go. */
export interface CautionedBasis {
  readonly wall: WallName;
  readonly isLambdaMeasured: boolean;
  readonly isYieldTested: boolean;
  readonly isWallMeasured: boolean;
}

export function cautionsFor({ wall, isLambdaMeasured, isYieldTested, isWallMeasured }: CautionedBasis): readonly string[] {
  return [
    ...ALWAYS, ...(wall === 'outer' ? OUTER : []), ...(wall === 'outer' && !isLambdaMeasured ? [EXTRAPOLATED] : []),
    ...(isYieldTested ? [TESTED] : []), ...(isWallMeasured ? [MEASURED] : []),
  ];
}
