import { RATING_NAMES, type PipeInputs, type RatingName } from '#libs/ratings';
import { DEPTH_CAUTIONS } from '../trace/trace.service.js';
import type { PressureProfile, RatedStretch, RatedWall } from './pressure-profiles.service.js';

/** What belongs beside every rating, whichever wall it is of (trade rules, cautions to show). */
const ALWAYS = [
  'Computed ratings are advisory. The responsible engineer decides.',
  'Published formulas assume round, uniform, unfolded pipe; folding strains the wall, changes its yield strength and usually lowers collapse resistance. The two walls\' ratings do not simply add.',
  'Sour service, temperature and cyclic load are outside these records: what is computed here assumes none of them.',
];

/** The cautions of the whole answer. */
export const PRESSURE_CAUTIONS: readonly string[] = [...ALWAYS, ...DEPTH_CAUTIONS];

const RULES = [
  'Of several values on record for one stretch of pipe the one counts by which it rates lowest: the least wall, the greatest outside diameter (the nominal one among them), the lowest yield strength, tested or certified.',
  'The uncertainty of a measured wall or diameter is not taken off. Of the outer wall the uncertainty by κ and λ is told beside its sizes, and is not taken off either.',
  'Of channels, the least of validly inspected pipe counts; samples that are missing, stuck or implausible, and pipe marked as not valid, count for nothing. Where a channel reads "at most", the pipe is not rated.',
  'The least of a channel comes from summaries of its samples: one that lies over the edge of a window, within a coil, may count in both windows. The footage of each least reading is told.',
  'A reading by hand stands for the pipe that it was entered for; it counts for all measured pipe of its window. What was read before a repair says nothing of the repaired pipe.',
  'Values in doubt and void tests count for nothing; of a failed test the value counts. A tensile test stands for the pipe that the sampling plan in force gives it.',
  'Whether gauges, people and reference checks were good on the day is not asked here: see the proof of the inspection and the standing of the instruments.',
];

/** By which rules inputs were chosen. */
export const rulesOf = ({ windowMm, notes }: Pick<PressureProfile, 'windowMm' | 'notes'>): string[] =>
  [`One least wall stands for at most ${windowMm / 1000} m of pipe.`, ...RULES, ...notes];

/** The cautions of one wall: those of all of its ratings, each once. */
export const cautionsOf = ({ stretches }: RatedWall): string[] => [...new Set(stretches.flatMap(({ ratings }) => ratings.cautions))];

/** What is assumed for a stretch. */
export function assumedOf({ inputs: { outsideDiameterMm, lambda }, ratings: { wall } }: RatedStretch, { origins }: Pick<PressureProfile, 'origins'>): string[] {
  const isNominal = outsideDiameterMm !== null && origins.of(outsideDiameterMm).at === null;
  return [
    ...(isNominal ? ['The outside diameter is the nominal one.'] : []),
    ...(wall === 'outer' && lambda !== null && lambda.basis !== 'between ties' ? ['λ is the ratio that the string states: no shoe tie lies below.'] : []),
    ...(wall === 'outer' ? ['The yield strength is that of the pipe before the fold.'] : []),
  ];
}

/** What kind of number an input is. */
export function basisOf(given: NonNullable<PipeInputs[keyof PipeInputs]>, isRead: boolean): string {
  return 'basis' in given ? given.basis : isRead ? 'measured' : 'stated for the string';
}

export const RATING_WORDS: Readonly<Record<RatingName, string>> = {
  internalYield: 'internal yield (Barlow)', triaxialInternalYield: 'internal yield (Lamé, von Mises)', collapse: 'collapse',
};

/** Each reason why something is not computable, once. */
export const reasonsOf = ({ stretches }: RatedWall): string[] => [...new Set(stretches.flatMap(({ ratings }) =>
  RATING_NAMES.flatMap((name) => (ratings[name].kind === 'computed' ? [] : ratings[name].because))))];
