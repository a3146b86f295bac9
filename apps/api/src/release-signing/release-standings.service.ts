import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { metres } from '../destructive-coverage/test-coverage.js';
import { EvidenceMaps } from '../evidence/evidence-maps.service.js';
import { EVIDENCE_CAUTIONS } from '../evidence/evidences.service.js';
import { standingWalls, type StandingWalls } from '../evidence/evidence-on-walls.js';
import type { ReleaseChange, ToldStretch } from '../evidence/release-changes.js';
import { ReleasedPipe, type StandingRelease } from '../evidence/released-pipe.service.js';
import { linkOf, RELEASES } from '../recall/record-kinds.js';
import { ReleaseRows } from '../releases/release-rows.service.js';
import { linkTo } from '../trace/record-link.js';
import { NO_INTERLOCK } from './release-proposals.service.js';
import type { ReleaseChangeAnswer, ReleaseStandingAnswer, ReopenedWallAnswer, StandingReleaseAnswer, ToldStretchAnswer } from './release-standing.dto.js';

const REOPENS = 'A release reopens by itself where the evidence became worse than it was when it was signed; it stands again where what spoke against it turned out wrong and was withdrawn. Both stay in the history.';

/** What was released, what is released still, and why the rest is not. */
@Injectable()
export class ReleaseStandings {
  constructor(
    private readonly maps: EvidenceMaps,
    private readonly released: ReleasedPipe,
    private readonly rows: ReleaseRows,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<ReleaseStandingAnswer> {
    const map = await this.maps.of(stringId, asKnownAt);
    const [standing, all] = await Promise.all([this.released.standing(map), this.rows.allOfString(stringId, asKnownAt)]);
    const { pipe, model } = map.ground;
    const stands = IntervalSet.from(standing.flatMap((one) => one.stands.intervals));
    const once = IntervalSet.from(standing.flatMap((one) => one.pipe.intervals));
    const walls = standingWalls(model);
    return {
      string: linkTo('casing-string', model.string, model.string.name), asKnownAt, released: metres(stands), reopened: metres(once.subtract(stands)), neverReleased: metres(pipe.subtract(once)),
      releases: standing.map((one) => releaseAnswer(one, walls)), withdrawn: all.filter(({ state }) => state === 'void').length, notLocated: walls.notLocated,
      cautions: [NO_INTERLOCK, REOPENS, ...EVIDENCE_CAUTIONS],
    };
  }
}

function releaseAnswer({ release, pipe, stands, changes }: StandingRelease, walls: StandingWalls): StandingReleaseAnswer {
  const { fromMm, toMm, signerName, enteredAt, exceptions, ownWork, ownWorkBecause } = release;
  const reopened = pipe.subtract(stands);
  return {
    fromMm, toMm, release: linkOf(RELEASES, release), signerName, signedAt: enteredAt, exceptions: exceptions.map((one) => ({ ...one })), ownWork, ownWorkBecause,
    stands: metres(stands), reopened: metres(reopened), isMoved: changes.isMoved, changes: changes.changes.map(changeAnswer), reopenedOnWalls: onWalls(reopened, walls),
  };
}

function onWalls(pipe: IntervalSet, { walls }: StandingWalls): ReopenedWallAnswer[] {
  return walls.map((wall) => {
    const md = IntervalSet.from(pipe.intervals.flatMap((part) => wall.piecesOfFootage(part).map((piece) => piece.md)));
    return { wall: wall.name, md: md.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm })) };
  });
}

const changeAnswer = ({ fromMm, toMm, code, before, after, worse }: ReleaseChange): ReleaseChangeAnswer => ({ fromMm, toMm, code, before: toldAnswer(before), after: toldAnswer(after), worse });

function toldAnswer(told: ToldStretch | null): ToldStretchAnswer | null {
  if (told === null) return null;
  return { state: told.state, late: told.late, testimonies: told.testimonies.map(({ says, because, records }) => ({ says, because, records: [...records] })) };
}
