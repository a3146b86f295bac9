import { Injectable } from '@nestjs/common';
import { verdictAlong } from '#libs/evidence';
import { IntervalSet, type Interval } from '#libs/intervals';
import { metres } from '../destructive-coverage/test-coverage.js';
import { clipped, stateMetres } from '../evidence/evidence-answer.js';
import { linesToRelease, type EvidenceMap } from '../evidence/evidence-map.js';
import { EvidenceMaps } from '../evidence/evidence-maps.service.js';
import { EVIDENCE_CAUTIONS } from '../evidence/evidences.service.js';
import { freeze } from '../evidence/freeze.js';
import { frozenText, type FrozenEvidence } from '../releases/frozen-evidence.js';
import { linkTo } from '../trace/record-link.js';
import { OwnWork } from './own-work.service.js';
import { isHeld, releaseGround, releaseStatement, type OpenForRelease, type ReleaseGround } from './release-ground.js';
import type { OpenForReleaseAnswer, ReleaseProposalAnswer } from './release-proposal.dto.js';

export const NO_INTERLOCK = 'A release is a record: it neither starts nor stops the line, and a metre that was not released goes down as the line runs.';

/** What a release of some pipe would rest on now. */
export interface Proposed {
  readonly map: EvidenceMap;
  readonly evidence: FrozenEvidence;
  readonly text: string;
  readonly sha256: string;
  readonly ground: ReleaseGround;
}

/** What stands for pipe that somebody wants to release, and against it. */
@Injectable()
export class ReleaseProposals {
  constructor(
    private readonly maps: EvidenceMaps,
    private readonly ownWork: OwnWork,
  ) {}

  /** As known now. Refuses with 404 when there is no such string. */
  async propose(stringId: string, interval: Interval): Promise<Proposed> {
    const map = await this.maps.of(stringId, null);
    const evidence = freeze(map, interval);
    const { ground: { pipe, cutOut } } = map;
    const planned = IntervalSet.from(map.lines.flatMap(({ of }) => of?.planned.intervals ?? []));
    const asked = pipe.intersect(interval);
    const madeMm = Math.max(pipe.hull()?.toMm ?? 0, cutOut.hull()?.toMm ?? 0);
    const ground = releaseGround(evidence, { ...interval, pipe: asked, unplanned: asked.subtract(planned), madeMm });
    return { map, evidence, ...frozenText(evidence), ground };
  }

  /** The same as an answer, for who asks. */
  async of(stringId: string, interval: Interval, personId: string): Promise<ReleaseProposalAnswer> {
    const { map, evidence, sha256, ground } = await this.propose(stringId, interval);
    const own = await this.ownWork.of(personId, evidence);
    const { string } = map.ground.model;
    const asked = map.ground.pipe.intersect(interval);
    return {
      string: linkTo('casing-string', string, string.name), fromMm: interval.fromMm, toMm: interval.toMm, pipe: metres(asked),
      states: stateMetres(clipped(verdictAlong(asked, linesToRelease(map.lines)), asked)), notOpenBecause: notOpen(ground),
      against: ground.against.map(openAnswer), toExcept: ground.toExcept.map(openAnswer), ownWork: own.slice(0, MOST_OWN), ownWorkRecords: own.length,
      statement: releaseStatement(string.name, interval, ground.toExcept.length), evidenceSha256: sha256, evidence, cautions: [NO_INTERLOCK, ...EVIDENCE_CAUTIONS],
    };
  }
}

const MOST_OWN = 100;

/** Why no release can be given, whatever reasons are stated; null when one can. */
export function notOpen({ nothing, against }: ReleaseGround): string | null {
  if (nothing !== null) return nothing;
  const held = against.some(isHeld);
  if (held) return 'a hold stands on it: lift it first';
  return against.length === 0 ? null : `failed: ${against.map(({ code }) => code).join(', ')}; make it good, cut it out, or have it conceded first`;
}

const openAnswer = ({ code, state, on, because }: OpenForRelease): OpenForReleaseAnswer => ({ code, state, metres: metres(on), because: [...because] });
