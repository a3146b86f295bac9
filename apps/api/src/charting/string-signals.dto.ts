import { Computed, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { ReactionPlanPart } from '../control-charts/control-chart.dto.js';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { ChartSignalAnswer } from './control-chart-view.dto.js';

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

  @Parts({ description: 'Pipe made that no limits hold for: nothing is watched there.', of: () => IntervalAnswer, max: 100_000 })
  withoutLimits!: IntervalAnswer[];

  @Part({ description: 'Pipe of readings out of specification: a nonconformance is proposed for it, and for nothing else.', of: () => MetresAnswer })
  proposesNonconformance!: MetresAnswer;
}

export class StringSignalsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'Whose knowledge it is.', example: '2026-03-02T15:10:00.000000Z' })
  knownAt!: string;

  @Parts({ description: 'Chart by chart.', of: () => ChartTasksAnswer, max: 10_000 })
  charts!: ChartTasksAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['What was not read is on no chart.'], max: 20, each: 1000 })
  cautions!: string[];
}
