import { Injectable } from '@nestjs/common';
import { LengthModels } from '../line/length-models.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { answered } from '../trace/answered.js';
import { linkTo } from '../trace/record-link.js';
import type { SeamStopsQuestion } from './seam-stops-question.js';
import type { SeamStopsAnswer } from './seam-stops.dto.js';
import { stopAnswer } from './stop-answer.js';
import { stopsWithEnds } from './stop-ends.js';

const WHERE_TO_LOOK = 'An affected interval says where to look, not that the pipe is bad: that is for its examination and the evaluation of it.';
const DEFAULT_INFLUENCE =
  'influenceMm was not given and is taken as 0: only the millimetre that stood at each place. How far a stop reaches depends on the process; ask the welding coordinator.';
const GIVEN_INFLUENCE = 'The half length of influence is the one that was asked with; no published source sets it.';
const FUTURE_FOOTAGE = 'Footage above that at the weld point was strip when the line stopped: it became pipe after the line ran on.';

/** Stops of the seam weld, and the pipe that each affected. */
@Injectable()
export class SeamStops {
  constructor(
    private readonly models: LengthModels,
    private readonly events: SeamEventsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when the string was not known then. */
  async of(stringId: string, { influenceMm, isInfluenceGiven, asKnownAt }: SeamStopsQuestion): Promise<SeamStopsAnswer> {
    const model = await this.models.of(stringId, asKnownAt);
    const events = await this.events.inOrder(stringId, asKnownAt);
    return answered(() => ({
      string: linkTo('casing-string', model.string, model.string.name),
      asked: { influenceMm, asKnownAt },
      stops: stopsWithEnds(events).map((stop) => stopAnswer(model, stop, influenceMm)),
      cautions: [WHERE_TO_LOOK, isInfluenceGiven ? GIVEN_INFLUENCE : DEFAULT_INFLUENCE, FUTURE_FOOTAGE],
    }));
  }
}
