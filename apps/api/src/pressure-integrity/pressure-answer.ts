import type { Interval } from '#libs/intervals';
import { LengthError } from '#libs/length';
import { INPUT_WORDS, type GivenNumber, type InputName, type NotComputable, type RatingName, type WallRatings } from '#libs/ratings';
import { COILS, linkOf, SPLICES } from '../recall/record-kinds.js';
import { shoeAnswer, stringAnswer } from '../trace/string-answer.js';
import { plusMinus, type WallView } from '../trace/wall-view.js';
import type { PressureDepth, PressureInputAnswer, PressureIntegrityAnswer, RatedIntervalAnswer, RatingAnswer, WallPressureAnswer, WeakestAnswer } from './pressure-integrity.dto.js';
import type { PressureProfile, RatedStretch, RatedWall } from './pressure-profiles.service.js';
import { assumedOf, basisOf, cautionsOf, PRESSURE_CAUTIONS, rulesOf } from './pressure-words.js';

const UNITS: Readonly<Record<InputName, string | null>> = { outsideDiameterMm: 'mm', wallThicknessMm: 'mm', yieldMpa: 'MPa', kappa: null, lambda: null };

/** In the order in which they are told. */
export const INPUT_NAMES: readonly InputName[] = ['outsideDiameterMm', 'wallThicknessMm', 'yieldMpa', 'kappa', 'lambda'];

/** The whole answer. */
export function pressureAnswer(profile: PressureProfile): PressureIntegrityAnswer {
  const { question, knownAt, model, ground, shoe, windowMm, walls } = profile;
  return {
    string: stringAnswer(model, ground), asked: { by: question.by, interval: question.interval, windowMm }, knownAt, shoe: shoeAnswer(shoe),
    walls: walls.map((wall) => wallAnswer(wall, profile)), rules: rulesOf(profile), cautions: [...PRESSURE_CAUTIONS],
  };
}

/** Where pipe stands on its wall. Its ends are rounded each by itself, so that neighbours stay neighbours. */
export function depthOf({ wall }: WallView, footage: Interval): PressureDepth {
  const pieces = wall.piecesOfFootage(footage);
  if (pieces.length === 0) return pointOf(wall, footage);
  return {
    fromMm: Math.min(...pieces.map(({ md }) => md.fromMm)), toMm: Math.max(...pieces.map(({ md }) => md.toMm)),
    plusMinusMm: plusMinus(Math.max(...pieces.flatMap(({ uMdFromMm, uMdToMm }) => [uMdFromMm, uMdToMm]))),
  };
}

/** Pipe of less than half a millimetre of depth. */
function pointOf(wall: WallView['wall'], { fromMm, toMm }: Interval): PressureDepth {
  for (const footageMm of [fromMm, toMm, (fromMm + toMm) / 2]) {
    try {
      const { mdMm, uMm } = wall.mdAt(footageMm);
      return { fromMm: Math.round(mdMm), toMm: Math.round(mdMm), plusMinusMm: plusMinus(uMm) };
    } catch (error) {
      if (!(error instanceof LengthError)) throw error;
    }
  }
  throw new LengthError('not-on-this-wall', `footage ${fromMm} to ${toMm} mm is not on the ${wall.name} wall`);
}

/** From the top down. */
export function downwards<T extends { readonly md: PressureDepth }>(rows: readonly T[]): T[] {
  return rows.toSorted((a, b) => a.md.fromMm - b.md.fromMm || a.md.toMm - b.md.toMm);
}

function wallAnswer(wall: RatedWall, profile: PressureProfile): WallPressureAnswer {
  const { view, asked, stretches, profile: { summary } } = wall;
  const weakest = (name: RatingName): WeakestAnswer => weakestAnswer(wall, summary[name], profile);
  return {
    wall: view.wall.name, intervals: downwards(stretches.map((stretch) => intervalAnswer(stretch, view, profile))),
    weakest: { internalYield: weakest('internalYield'), triaxialInternalYield: weakest('triaxialInternalYield'), collapse: weakest('collapse') },
    beyond: profile.question.by === 'md' && profile.question.interval !== null ? asked.md.intervals.flatMap((interval) => view.wall.beyond(interval)) : [],
    cautions: cautionsOf(wall),
  };
}

function intervalAnswer(stretch: RatedStretch, view: WallView, profile: PressureProfile): RatedIntervalAnswer {
  const { interval, inputs, folded, ratings } = stretch;
  const { pipe } = profile.ground;
  const touches = ({ span }: { readonly span: Interval }): boolean => span.fromMm < interval.toMm && span.toMm > interval.fromMm;
  const made = pipe.segments.find(({ segment }) => touches(segment));
  const input = (name: InputName): PressureInputAnswer | null => inputAnswer(name, stretch, profile);
  const { explain } = profile.question;
  return {
    footage: { fromMm: interval.fromMm, toMm: interval.toMm }, md: depthOf(view, interval), coil: made === undefined ? null : linkOf(COILS, made.coil),
    splices: pipe.splices.filter(touches).map((splice) => linkOf(SPLICES, splice)),
    inputs: { outsideDiameterMm: input('outsideDiameterMm'), wallThicknessMm: input('wallThicknessMm'), yieldMpa: input('yieldMpa'), kappa: input('kappa'), lambda: input('lambda') },
    folded: folded === null || inputs.wallThicknessMm === null ? null : {
      wallThicknessMm: folded.wallThicknessMm, wallPlusMinusMm: folded.expandedUWallMm, outsideDiameterMm: folded.outsideDiameterMm, diameterPlusMinusMm: folded.expandedUDiameterMm,
    },
    assumed: assumedOf(stretch, profile), internalYield: yieldAnswer(ratings.internalYield, explain),
    triaxialInternalYield: yieldAnswer(ratings.triaxialInternalYield, explain), collapse: collapseAnswer(ratings.collapse, explain),
  };
}

function inputAnswer(name: InputName, { inputs }: RatedStretch, { origins }: PressureProfile): PressureInputAnswer | null {
  const given = inputs[name];
  if (given === null) return null;
  const { what, record, at } = origins.of(given);
  return { value: given.value, unit: UNITS[name], basis: basisOf(given, at !== null), what, record, readAt: at === null ? null : { fromMm: at.fromMm, toMm: at.toMm } };
}

const missing = ({ because }: NotComputable): RatingAnswer => ({
  pressureMpa: null, tablePsi: null, because, formula: null, source: null, regime: null, dOverT: null, limits: null, explanation: null,
});

function yieldAnswer(rating: WallRatings['internalYield'], explain: boolean): RatingAnswer {
  if (rating.kind !== 'computed') return missing(rating);
  const { pressureMpa, tablePsi, steps } = rating;
  // The formula stands before the rounding, which comes last.
  const { formula = null, source = null } = steps.at(-2) ?? {};
  return { pressureMpa, tablePsi, because: null, formula, source, regime: null, dOverT: null, limits: null, explanation: explain ? [...steps] : null };
}

function collapseAnswer(rating: WallRatings['collapse'], explain: boolean): RatingAnswer {
  if (rating.kind !== 'computed') return missing(rating);
  const { pressureMpa, tablePsi, steps, regime, dOverT, limits } = rating;
  // The formula stands before the conversion to MPa and the rounding.
  const { formula = null, source = null } = steps.at(-3) ?? {};
  return { pressureMpa, tablePsi, because: null, formula, source, regime, dOverT, limits: { ...limits }, explanation: explain ? [...steps] : null };
}

function weakestAnswer({ view, stretches }: RatedWall, { weakest, unrated, words }: RatedWall['profile']['summary'][RatingName], { origins }: PressureProfile): WeakestAnswer {
  if (weakest === null) return { pressureMpa: null, tablePsi: null, where: [], restsOn: [], unratedMm: unrated.totalLengthMm, words };
  const keyOf = ({ value, record }: GivenNumber): string => JSON.stringify([value, record]);
  const weak = stretches.filter(({ interval }) => weakest.where.overlaps(interval));
  // Of windows with the same least value the first one's footage is told.
  const known = new Map(weak.flatMap(({ inputs }) => INPUT_NAMES.flatMap((name): GivenNumber[] => inputs[name] === null ? [] : [inputs[name]])).reverse().map((one) => [keyOf(one), origins.of(one)]));
  return {
    pressureMpa: weakest.pressureMpa, tablePsi: weakest.tablePsi,
    where: downwards(weakest.where.intervals.map((footage) => ({ footage: { ...footage }, md: depthOf(view, footage) }))),
    restsOn: weakest.restsOn.map((one) => {
      const { what = '', record = null, at = null } = known.get(keyOf(one)) ?? {};
      return { input: INPUT_WORDS[one.input], value: one.value, unit: UNITS[one.input], what, record, readAt: at === null ? null : { fromMm: at.fromMm, toMm: at.toMm } };
    }),
    unratedMm: unrated.totalLengthMm, words,
  };
}
