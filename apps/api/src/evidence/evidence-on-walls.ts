import { IntervalSet, type Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, LengthError, type LengthModel, type Shoe, type Wall } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { StringModel } from '../line/length-models.service.js';
import { attempt, type WhyNot } from '../trace/attempt.js';
import { verdictWithin } from './evidence-answer.js';
import type { EvidenceMap } from './evidence-map.js';
import type { EvidenceOnWall, EvidenceOnWallStretch } from './evidence.dto.js';

/** Both walls as the last counter reading known has them, or why there are none. */
export interface StandingWalls {
  readonly shoe: Shoe | null;
  readonly walls: readonly Wall[];
  readonly notLocated: WhyNot | null;
}

export function standingWalls({ lengths, readings }: Pick<StringModel, 'lengths' | 'readings'>): StandingWalls {
  const last = readings.at(-1);
  if (last === undefined) return { shoe: null, walls: [], notLocated: { code: 'no-readings', detail: 'this string has no counter reading' } };
  const shoe = attempt(() => lengths.shoeAtTime(microseconds(last.observedAt)));
  return shoe.found === null ? { shoe: null, walls: [], notLocated: shoe.why } : { shoe: shoe.found, walls: wallsAt(lengths, shoe.found), notLocated: null };
}

const wallsAt = (lengths: LengthModel, shoe: Shoe): Wall[] => [lengths.outerWall(shoe), lengths.innerWall(shoe)];

/** The pipe of both walls that stands at some depth: what of it is on either. */
export function pipeAtDepth(walls: readonly Wall[], md: Interval): IntervalSet {
  return IntervalSet.from(walls.flatMap((wall) => piecesAt(wall, md)).map(({ footage: { fromMm, toMm } }) => ({ fromMm, toMm })));
}

/** The pieces of a depth interval; none where the wall reaches nothing of it. */
function piecesAt(wall: Wall, md: Interval): ReturnType<Wall['piecesAtDepth']>['pieces'] {
  try {
    return wall.piecesAtDepth(md).pieces.filter(({ footage }) => footage.fromMm < footage.toMm);
  } catch (error) {
    if (error instanceof LengthError) return [];
    throw error;
  }
}

/** The verdict of some pipe on a wall, by depth from above; at `md` only, where that is given. */
export function verdictOnWall(wall: Wall, map: Pick<EvidenceMap, 'lines' | 'verdict'>, asked: IntervalSet, md: Interval | null): EvidenceOnWall {
  const own = md === null ? asked : pipeAtDepth([wall], md).intersect(asked);
  const stretches = verdictWithin(map, own).flatMap((pipe): EvidenceOnWallStretch[] => wall.piecesOfFootage(pipe).map((piece) => ({
    mdFromMm: piece.md.fromMm, mdToMm: piece.md.toMm, fromPlusMinusMm: plusMinus(piece.uMdFromMm), toPlusMinusMm: plusMinus(piece.uMdToMm),
    pipe: { ...pipe, fromMm: piece.footage.fromMm, toMm: piece.footage.toMm },
  })));
  return { wall: wall.name, stretches: stretches.sort((a, b) => a.mdFromMm - b.mdFromMm || a.mdToMm - b.mdToMm) };
}

const plusMinus = (uMm: number): number => Math.ceil(COVERAGE_FACTOR * uMm);
