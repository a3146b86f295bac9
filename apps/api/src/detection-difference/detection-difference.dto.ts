import { CHANGES, type Change } from '#libs/indications';
import { FoundPartAnswer, NotPlacedAnswer } from '../detections/detection.dto.js';
import { Choice, Computed, Measured, Part, Parts, Texts, When } from '../http/fields.js';
import { EVALUATION_VERDICTS } from '../indication-evaluations/indication-evaluation.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

/** What was found at a place. */
export class FoundSideAnswer extends IntervalAnswer {
  @Parts({ description: 'What showed it, in order of footage.', of: () => FoundPartAnswer, max: 20_000 })
  parts!: FoundPartAnswer[];
}

/** An indication that somebody evaluated. */
export class EvaluatedThereAnswer {
  @Part({ description: 'The indication.', of: () => RecordLink })
  indication!: RecordLink;

  @Part({ description: 'Its last evaluation.', of: () => RecordLink })
  evaluation!: RecordLink;

  @Choice({ description: 'The verdict of that.', example: 'accept', of: EVALUATION_VERDICTS })
  verdict!: (typeof EVALUATION_VERDICTS)[number];

  @Part({ description: 'Its footage, mm.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;
}

/** One place, as each side found it. */
export class DifferencePlaceAnswer {
  @Choice({ description: 'What the latter makes of the former; shifted: it has both gained and lost pipe.', example: 'grown', of: CHANGES })
  change!: Change;

  @Parts({ description: 'What the former found there.', of: () => FoundSideAnswer, max: 20_000 })
  before!: FoundSideAnswer[];

  @Parts({ description: 'What the latter found there.', of: () => FoundSideAnswer, max: 20_000 })
  after!: FoundSideAnswer[];

  @Parts({ description: 'Indications of the same channels on that pipe that were evaluated; neither side changes them.', of: () => EvaluatedThereAnswer, max: 20_000 })
  evaluated!: EvaluatedThereAnswer[];
}

/** Levels of a channel, in its unit. */
export class TriedLevelsAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Measured({ description: 'Its threshold.', example: '50', min: -1e9, max: 1e9, unit: 'in the unit of the channel' })
  threshold!: string;

  @Measured({ description: 'Its release level.', example: '30', min: -1e9, max: 1e9, unit: 'in the unit of the channel' })
  release!: string;
}

/** One of the two that are compared. */
export class DifferenceSideAnswer {
  @Part({ description: 'The rule.', of: () => RecordLink })
  rule!: RecordLink;

  @Part({ description: 'The detection; absent for what was run for this answer alone.', of: () => RecordLink, optional: true })
  detection!: RecordLink | null;

  @Parts({ description: 'The levels of each channel.', of: () => TriedLevelsAnswer, max: 50 })
  levels!: TriedLevelsAnswer[];

  @Computed({ description: 'Indications found.', example: 5 })
  foundCount!: number;

  @Parts({ description: 'Samples of its channels that have no footage, and that it did not look at.', of: () => NotPlacedAnswer, max: 100_000, example: [] })
  notPlaced!: NotPlacedAnswer[];
}

/** How many places changed how. */
export class ChangeCountAnswer {
  @Choice({ description: 'What the latter makes of the former.', example: 'grown', of: CHANGES })
  change!: Change;

  @Computed({ description: 'Places.', example: 2 })
  places!: number;
}

/** What another rule, or the same one at another time, makes of samples. */
export class DetectionDifferenceAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'The former.', of: () => DifferenceSideAnswer })
  before!: DifferenceSideAnswer;

  @Part({ description: 'The latter.', of: () => DifferenceSideAnswer })
  after!: DifferenceSideAnswer;

  @Parts({ description: 'All places, counted by how they changed.', of: () => ChangeCountAnswer, max: CHANGES.length })
  counts!: ChangeCountAnswer[];

  @Parts({ description: 'The first of them by footage.', of: () => DifferencePlaceAnswer, max: 1000 })
  places!: DifferencePlaceAnswer[];

  @Computed({ description: 'How many more there are: narrow the footage.', example: 0 })
  left!: number;

  @Parts({ description: 'Evaluated indications of these channels of which neither side finds anything; that takes nothing from them.', of: () => EvaluatedThereAnswer, max: 100_000 })
  notFound!: EvaluatedThereAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['A trial writes nothing.'], max: 10, each: 500 })
  cautions!: string[];
}
