import { IntervalSet } from '#libs/intervals';
import type { CertainAndPossible, LengthModel, Shoe, UncertainSegment, WallName } from '#libs/length';
import { attempt, type WhyNot } from '../trace/attempt.js';
import { placesOfFootage, type FootageByPlace } from './places-of-footage.js';
import { depthsOn, footageSetsOf } from './uncertain-footage.js';

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
export function standingOf(lengths: LengthModel, spans: readonly UncertainSegment[], atUs: number | null): Standing {
  const footage = footageSetsOf(spans);
  const nowhere = { footage, shoe: null, walls: [], places: null };
  if (atUs === null) return { ...nowhere, notLocated: { code: 'no-readings', detail: 'this string has no counter reading' } };
  const shoe = attempt(() => lengths.shoeAtTime(atUs));
  if (shoe.found === null) {
    const places = NOTHING_HANGS.has(shoe.why.code) ? attempt(() => placesOfFootage(footage.nominal, lengths, atUs, null)).found : null;
    return { ...nowhere, places, notLocated: shoe.why };
  }
  const walls = [lengths.outerWall(shoe.found), lengths.innerWall(shoe.found)];
  return {
    footage,
    shoe: shoe.found,
    walls: walls.map((wall) => ({ wall: wall.name, ...depthsOn(wall, spans) })),
    places: placesOfFootage(footage.nominal, lengths, atUs, shoe.found),
    notLocated: null,
  };
}

const NOTHING_HANGS: ReadonlySet<string> = new Set(['no-hang-off', 'before-the-hang-off']);

/** What stands on neither wall, by place. */
export function elsewhereOf(places: FootageByPlace): { place: string; footage: IntervalSet }[] {
  const away = (['on-the-line', 'lead-end', 'cut-out', 'not-yet-made'] as const).map((place) => ({ place, footage: places[place] }));
  return away.filter(({ footage }) => !footage.isEmpty);
}
