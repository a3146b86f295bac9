import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { linkOf, RELEASES } from '../recall/record-kinds.js';
import { thawed } from '../releases/frozen-evidence.js';
import { ReleaseRows } from '../releases/release-rows.service.js';
import type { Release } from '../releases/release.entity.js';
import type { MapLines } from './evidence-map.js';
import { freeze } from './freeze.js';
import { testimonies, type RecordTestimony } from './record-testimony.js';
import { releaseChanges, type ReleaseChanges } from './release-changes.js';

/** A release with what became of it. */
export interface StandingRelease {
  readonly release: Release;
  /** Its pipe that was not cut out since. */
  readonly pipe: IntervalSet;
  readonly changes: ReleaseChanges;
  /** Of that pipe, what is released by it still. */
  readonly stands: IntervalSet;
}

/** What of the pipe is released, and what was and is no more. */
@Injectable()
export class ReleasedPipe {
  readonly restsOn = [RELEASES];

  constructor(private readonly rows: ReleaseRows) {}

  /** The releases beside the evidence of a map, in the order in which they became known. */
  async standing(map: MapLines): Promise<StandingRelease[]> {
    const { ground: { stringId, asKnownAt } } = map;
    return (await this.rows.ofString(stringId, asKnownAt)).map((release) => standingOf(release, map));
  }

  /** The same as testimonies: pipe that a release stands on is confirmed; pipe that one was reopened on is in doubt, unless another stands there. */
  async testimonies(map: MapLines): Promise<RecordTestimony[]> {
    const all = await this.standing(map);
    const released = IntervalSet.from(all.flatMap(({ stands }) => stands.intervals));
    return all.flatMap(({ release, stands, pipe }) => {
      const said = { records: [linkOf(RELEASES, release)], enteredAt: [release.enteredAt] };
      const { onTimeFrom } = map.ground;
      return [
        ...testimonies(stands, { ...said, says: 'confirmed', because: `released by ${release.signerName}` }, onTimeFrom),
        ...testimonies(pipe.subtract(released), { ...said, says: 'suspect', because: `released by ${release.signerName}, and reopened since` }, onTimeFrom),
      ];
    });
  }
}

/** A release beside the evidence of a map. */
export function standingOf(release: Release, map: MapLines): StandingRelease {
  const { fromMm, toMm } = release;
  const changes = releaseChanges(thawed(release.evidence), freeze(map, { fromMm, toMm }));
  const pipe = map.ground.pipe.intersect({ fromMm, toMm });
  return { release, pipe, changes, stands: pipe.subtract(changes.reopened) };
}
