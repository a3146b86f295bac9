import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { metres } from '../destructive-coverage/test-coverage.js';
import { answered } from '../trace/answered.js';
import { linkTo } from '../trace/record-link.js';
import { shoeAnswer } from '../trace/string-answer.js';
import { clipped, planAnswers, stateMetres, verdictWithin } from './evidence-answer.js';
import type { EvidenceMap } from './evidence-map.js';
import { EvidenceMaps } from './evidence-maps.service.js';
import { pipeAtDepth, standingWalls, verdictOnWall, type StandingWalls } from './evidence-on-walls.js';
import type { EvidenceQuestion } from './evidence-question.js';
import type { EvidenceAnswer } from './evidence.dto.js';
import { keptItemAnswer } from './kept-answers.js';

export const EVIDENCE_CAUTIONS = [
  'The verdict of a metre is the worst that any item of the plan comes to there, never an average.',
  'Provisional, suspect and missing are not confirmed: pipe that nothing shows is pipe of which nothing is known.',
  'No indication means none above the threshold, with the reference reflector, on the metres that were looked at; it does not mean that there is no defect.',
  'Between two readings, and between two destructive tests, nothing was measured: that they stand for it is the plan\'s word.',
  'Depth is an estimate: mind ± and datum before anyone perforates, sets or cuts.',
  'These records are not a safety interlock: nothing here stops the line, and anyone on shift may.',
];
const NO_PLAN = 'No control plan holds for some of this pipe: nothing says what evidence it needs, and it is told as missing.';
const NO_HANG_OFF = 'No line set-up says where the hang-off is: nothing can be told as late.';

/** What stands as evidence for the pipe of a string. */
@Injectable()
export class Evidences {
  constructor(private readonly maps: EvidenceMaps) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string, with 422 when depths are asked of one that has none. */
  async of(stringId: string, { by, interval, asKnownAt }: EvidenceQuestion): Promise<EvidenceAnswer> {
    return answered(async () => {
      const map = await this.maps.of(stringId, asKnownAt);
      const standing = standingWalls(map.ground.model);
      const md = by === 'md' && interval !== null ? interval : null;
      const asked = askedOf(map, standing, by === 'footage' ? interval : null, md);
      return answerOf(map, standing, asked, md, asKnownAt);
    });
  }
}

function askedOf({ ground: { pipe } }: EvidenceMap, { walls }: StandingWalls, footage: EvidenceQuestion['interval'], md: EvidenceQuestion['interval']): IntervalSet {
  if (md !== null) return pipe.intersect(pipeAtDepth(walls, md));
  return footage === null ? pipe : pipe.intersect(footage);
}

function answerOf(map: EvidenceMap, standing: StandingWalls, asked: IntervalSet, md: EvidenceQuestion['interval'], asKnownAt: string | null): EvidenceAnswer {
  const { ground: { model } } = map;
  const verdict = verdictWithin(map, asked);
  const unplanned = asked.subtract(IntervalSet.from(map.lines.flatMap(({ of }) => of?.planned.intervals ?? [])));
  const hasHangOff = model.line.hangOffPathAt(Infinity) !== null;
  return {
    string: linkTo('casing-string', model.string, model.string.name), asKnownAt, pipe: metres(asked), plans: planAnswers(map, asked),
    states: stateMetres(clipped(map.verdict, asked)), verdict,
    items: map.lines.filter(({ of, stretches }) => of !== null || stretches.length > 0).map((line) => keptItemAnswer(line, asked)),
    walls: standing.walls.map((wall) => verdictOnWall(wall, map, asked, md)), shoe: standing.shoe === null ? null : shoeAnswer(standing.shoe), notLocated: standing.notLocated,
    withoutPlanMm: unplanned.totalLengthMm,
    cautions: [...(unplanned.isEmpty ? [] : [NO_PLAN]), ...(hasHangOff ? [] : [NO_HANG_OFF]), ...EVIDENCE_CAUTIONS],
  };
}
