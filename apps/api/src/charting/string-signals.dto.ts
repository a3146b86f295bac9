import { Computed, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { ReactionPlanPart } from '../control-charts/control-chart.dto.js';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { ChartSignalAnswer } from './control-chart-view.dto.js';

/** What entered no chart for one reason. */
export class LeftOutSumAnswer {
  @Text({ description: 'Why.', example: 'nothing of a window was read by UT-wall', max: 400 })
  because!: string;

  @Computed({ description: 'Readings, lengths or subgroups.', example: 12 })
  count!: number;

  @Computed({ description: 'Their pipe, mm; 0 of what has no place.', example: 12_000 })
  lengthMm!: number;
}

/** The signals of one chart that wait for a reaction. */
export class ChartTasksAnswer {
  @Part({ description: 'The chart.', of: () => RecordLink })
  chart!: RecordLink;

  @Text({ description: 'Its title.', example: 'Wall thickness, UT-wall', max: 200 })
  title!: string;

  @Part({ description: 'What its plan asks for at a signal.', of: () => ReactionPlanPart })
  reaction!: ReactionPlanPart;

  @Parts({ description: 'The signals that nobody answered, the oldest first.', of: () => ChartSignalAnswer, max: 1_000_000 })
  waiting!: ChartSignalAnswer[];

  @Computed({ description: 'How many were answered.', example: 3 })
  answered!: number;

  @Parts({ description: 'The like against limits that later ones took the place of, on pipe that was made by then: new limits are no answer.', of: () => ChartSignalAnswer, max: 1_000_000 })
  waitedBefore!: ChartSignalAnswer[];

  @Parts({ description: 'Reactions on record that answer no signal there is: the reading was corrected since, other limits hold, or there never was one.', of: () => RecordLink, max: 100_000 })
  reactionsToNothing!: RecordLink[];

  @Parts({ description: 'Pipe made that no limits hold for: nothing is watched there.', of: () => IntervalAnswer, max: 100_000 })
  withoutLimits!: IntervalAnswer[];

  @Computed({ description: 'Points that were held against limits. Of none, no signal says nothing.', example: 48 })
  points!: number;

  @Parts({ description: 'What of the pipe with limits entered no chart, by the reason, that with the most pipe first: it is not watched either.', of: () => LeftOutSumAnswer, max: 100_000 })
  leftOut!: LeftOutSumAnswer[];

  @Part({ description: 'Pipe whose readings are out of specification, with limits or without: a nonconformance is proposed for it, and for nothing else.', of: () => MetresAnswer })
  proposesNonconformance!: MetresAnswer;
}

export class StringSignalsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'Whose knowledge it is.', example: '2026-03-02T15:10:00.000000Z' })
  knownAt!: string;

  @Parts({ description: 'Chart by chart.', of: () => ChartTasksAnswer, max: 10_000 })
  charts!: ChartTasksAnswer[];

  @Parts({ description: 'The records of the readings that signal, each once.', of: () => RecordLink, max: 1_000_000 })
  records!: RecordLink[];

  @Texts({ description: 'What to keep in mind.', example: ['What was not read is on no chart.'], max: 20, each: 1000 })
  cautions!: string[];
}
