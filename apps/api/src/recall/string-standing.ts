import { IntervalSet } from '#libs/intervals';
import type { CertainAndPossible, LengthModel, Shoe, UncertainSegment, WallName } from '#libs/length';
import { attempt, type WhyNot } from '../trace/attempt.js';
import { placesOfFootage, type FootageByPlace } from './places-of-footage.js';
import { depthsOn, footageSetsOf } from './uncertain-footage.js';

/** Pipe of a record that is certainly concerned, or only possibly. */
export interface ConcernedPipe {
  readonly span: UncertainSegment;
  readonly isCertain: boolean;
}

/** Where recalled footage of one string stands. */
export interface Standing {
  readonly footage: CertainAndPossible;
  readonly shoe: Shoe | null;
  readonly walls: readonly ({ readonly wall: WallName } & CertainAndPossible)[];
  /** Null when not even a footage at the weld point is known then. */
  readonly places: FootageByPlace | null;
  readonly notLocated: WhyNot | null;
}

/**
 * Where the footage stands at a time (µs; null when the string has no reading). A string that cannot say, such as one
 * without a hang-off, answers with its footage and why.
 */
export function standingOf(lengths: LengthModel, concerned: readonly ConcernedPipe[], atUs: number | null): Standing {
  const certain = concerned.filter(({ isCertain }) => isCertain).map(({ span }) => span);
  const all = concerned.map(({ span }) => span);
  const footage = certainOf(footageSetsOf(certain), footageSetsOf(all));
  const ground = IntervalSet.from(all);
  const nowhere = { footage, shoe: null, walls: [], places: null };
  if (atUs === null) return { ...nowhere, notLocated: { code: 'no-readings', detail: 'this string has no counter reading' } };
  const shoe = attempt(() => lengths.shoeAtTime(atUs));
  if (shoe.found === null) {
    const places = NOTHING_HANGS.has(shoe.why.code) ? attempt(() => placesOfFootage(ground, lengths, atUs, null)).found : null;
    return { ...nowhere, places, notLocated: shoe.why };
  }
  const walls = [lengths.outerWall(shoe.found), lengths.innerWall(shoe.found)];
  return {
    footage,
    shoe: shoe.found,
    walls: walls.map((wall) => ({ wall: wall.name, ...certainOf(depthsOn(wall, certain), depthsOn(wall, all)) })),
    places: placesOfFootage(ground, lengths, atUs, shoe.found),
    notLocated: null,
  };
}

/** The place and the concern together: what is certain and nominal of records certainly concerned, what is possible of all. */
const certainOf = (ofCertain: CertainAndPossible, ofAll: CertainAndPossible): CertainAndPossible =>
  ({ certain: ofCertain.certain, nominal: ofCertain.nominal, possible: ofAll.possible });

const NOTHING_HANGS: ReadonlySet<string> = new Set(['no-hang-off', 'before-the-hang-off']);

/** What stands on neither wall, by place. */
export function elsewhereOf(places: FootageByPlace): { place: string; footage: IntervalSet }[] {
  const away = (['on-the-line', 'lead-end', 'cut-out', 'not-yet-made'] as const).map((place) => ({ place, footage: places[place] }));
  return away.filter(({ footage }) => !footage.isEmpty);
}
