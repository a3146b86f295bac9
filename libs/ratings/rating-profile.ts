import type { RecordRef } from '#libs/explanation';
import { interval, IntervalSet, type Interval } from '#libs/intervals';
import type { WallName } from '#libs/length';
import { notComputable, type NotComputable } from './computed.js';
import { inputsOf, INPUT_WORDS, type InputName, type PipeInputs, type WhyNotKnown } from './pipe-inputs.js';
import { RATING_NAMES, wallRatings, type RatingName, type WallRatings } from './wall-ratings.js';

/** A stretch of pipe with one set of inputs; footage, whole mm. */
export interface StretchInputs {
  readonly interval: Interval;
  readonly inputs: PipeInputs;
  /** Why inputs are null. */
  readonly why?: WhyNotKnown;
}

export interface RatedInterval {
  readonly interval: Interval;
  readonly ratings: WallRatings;
}

/** An input of the weakest pipe, with the record that says it. */
export interface RestsOn {
  readonly input: InputName;
  readonly words: string;
  readonly value: string;
  readonly record: RecordRef | null;
}

/** The lowest rating of one kind, of what could be rated. */
export interface Weakest {
  readonly pressureMpa: number;
  readonly tablePsi: string;
  /** All pipe with this lowest rating. */
  readonly where: IntervalSet;
  /** Every input of it once. */
  readonly restsOn: readonly RestsOn[];
}

/** One kind of rating over the whole question. */
export interface RatingSummary {
  /** Null: nothing could be rated. */
  readonly weakest: Weakest | null;
  /** Pipe of the question without this rating; while there is any, the weakest is only the weakest known. */
  readonly unrated: IntervalSet;
  readonly words: string;
}

export interface RatingProfile {
  readonly wall: WallName;
  /** By rising footage, without gap or overlap: all of the question, rated or told why not. */
  readonly intervals: readonly RatedInterval[];
  readonly summary: Readonly<Record<RatingName, RatingSummary>>;
}

interface Piece {
  readonly interval: Interval;
  readonly inputs: PipeInputs | null;
  readonly ratings: WallRatings;
}

/**
 * The ratings of a wall over the pipe that is asked about. Inputs outside the question are left out; pipe of the question
 * without inputs is not computable. Throws RangeError when two stretches overlap, naming both, or as `interval` does;
 * SyntaxError as `wallRatings` does.
 */
export function ratingProfile(wall: WallName, question: IntervalSet, given: readonly StretchInputs[]): RatingProfile {
  const sorted = given.map((one) => ({ ...one, interval: interval(one.interval.fromMm, one.interval.toMm) })).sort((a, b) => a.interval.fromMm - b.interval.fromMm);
  sorted.slice(1).forEach((one, index) => { demandApart(sorted[index], one); });
  const known = sorted.flatMap(({ interval: stretch, inputs, why }) => {
    const within = question.intersect(stretch).intervals;
    const ratings = within.length === 0 ? null : wallRatings(wall, inputs, why);
    return ratings === null ? [] : within.map((piece): Piece => ({ interval: piece, inputs, ratings }));
  });
  const unknown = question.subtract(IntervalSet.from(known.map((piece) => piece.interval))).intervals.map((piece): Piece => ({ interval: piece, inputs: null, ratings: nothingKnown(wall) }));
  const pieces = [...known, ...unknown].sort((a, b) => a.interval.fromMm - b.interval.fromMm);
  const [internalYield, triaxialInternalYield, collapse] = RATING_NAMES.map((name) => summaryOf(wall, name, pieces)) as [RatingSummary, RatingSummary, RatingSummary];
  return {
    wall, intervals: pieces.map(({ interval: piece, ratings }) => ({ interval: piece, ratings })), summary: { internalYield, triaxialInternalYield, collapse },
  };
}

function demandApart(before: StretchInputs | undefined, after: StretchInputs): void {
  if (before === undefined || before.interval.toMm <= after.interval.fromMm) return;
  throw new RangeError(`stretches overlap: ${shown(before.interval)} and ${shown(after.interval)}`);
}

const shown = ({ fromMm, toMm }: Interval): string => `[${fromMm}, ${toMm}) mm`;

function nothingKnown(wall: WallName): WallRatings {
  const none: NotComputable = notComputable(wall, inputsOf(wall), 'nothing is known of this pipe');
  const nothing: PipeInputs = { outsideDiameterMm: null, wallThicknessMm: null, yieldMpa: null, kappa: null, lambda: null };
  return { ...wallRatings(wall, nothing), internalYield: none, triaxialInternalYield: none, collapse: none };
}

const NAMES: Readonly<Record<RatingName, string>> = {
  internalYield: 'internal yield (Barlow)', triaxialInternalYield: 'internal yield (Lamé, von Mises)', collapse: 'collapse',
};

function summaryOf(wall: WallName, name: RatingName, pieces: readonly Piece[]): RatingSummary {
  const unrated = IntervalSet.from(pieces.filter(({ ratings }) => ratings[name].kind !== 'computed').map((piece) => piece.interval));
  const weakest = weakestOf(wall, name, pieces);
  const rest = unrated.isEmpty ? 'all of the pipe is rated' : `${unrated.totalLengthMm} mm are not rated and may be weaker`;
  const what = `${NAMES[name]} of the ${wall} wall`;
  if (weakest === null) return { weakest, unrated, words: `${what}: nothing could be rated` };
  const at = weakest.where.intervals.map(shown).join(', ');
  return { weakest, unrated, words: `${what}: lowest ${weakest.pressureMpa.toFixed(2)} MPa (${weakest.tablePsi} psi) at ${at}; ${rest}. Advisory.` };
}

function weakestOf(wall: WallName, name: RatingName, pieces: readonly Piece[]): Weakest | null {
  let [lowest, tablePsi]: [number, string] = [Infinity, ''];
  for (const { ratings: { [name]: rating } } of pieces) {
    if (rating.kind === 'computed' && rating.pressureMpa < lowest) [lowest, tablePsi] = [rating.pressureMpa, rating.tablePsi];
  }
  const weak = pieces.filter(({ ratings: { [name]: rating } }) => rating.kind === 'computed' && rating.pressureMpa === lowest);
  if (weak.length === 0) return null;
  return { pressureMpa: lowest, tablePsi, where: IntervalSet.from(weak.map((piece) => piece.interval)), restsOn: restsOn(wall, weak) };
}

function restsOn(wall: WallName, pieces: readonly Piece[]): RestsOn[] {
  const all = new Map<string, RestsOn>();
  for (const input of inputsOf(wall)) {
    for (const { inputs } of pieces) {
      const one = inputs?.[input] ?? null;
      if (one !== null) all.set(JSON.stringify([input, one.value, one.record]), { input, words: INPUT_WORDS[input], value: one.value, record: one.record });
    }
  }
  return [...all.values()];
}
