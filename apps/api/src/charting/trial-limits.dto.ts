import { Anything, Computed, Part, Parts, Sha256, Text, Texts } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { BetterChartAnswer, ChartSignalAnswer, ChartWarningAnswer, LagOneAnswer } from './control-chart-view.dto.js';

/** Limits that some pipe would give. */
export class TrialLimitsAnswer {
  @Part({ description: 'The chart.', of: () => RecordLink })
  chart!: RecordLink;

  @Part({ description: 'Footage asked about, mm.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Computed({ description: 'Points that count.', example: 28 })
  points!: number;

  @Computed({ description: 'Points that were removed.', example: 2 })
  removed!: number;

  @Computed({ description: 'Coils that the points are of; null where none is known.', example: 4, optional: true })
  coils!: number | null;

  @Anything({ description: 'The figures that the limits would stand on.', example: {} })
  figures!: unknown;

  @Part({ description: 'The correlation of neighbours; null where the points are too few.', of: () => LagOneAnswer, optional: true })
  lagOne!: LagOneAnswer | null;

  @Parts({ description: 'What speaks against these limits: who signs them accepts each with a reason.', of: () => ChartWarningAnswer, max: 20 })
  warnings!: ChartWarningAnswer[];

  @Part({ description: 'The chart that would do better; null where nothing speaks against this one.', of: () => BetterChartAnswer, optional: true })
  better!: BetterChartAnswer | null;

  @Parts({ description: 'Signals that these points give against these limits, those of removed points too.', of: () => ChartSignalAnswer, max: 1_000_000 })
  signals!: ChartSignalAnswer[];

  @Parts({ description: 'The records of the readings that signal, each once.', of: () => RecordLink, max: 1_000_000 })
  records!: RecordLink[];

  @Text({ description: 'The sentence that a signature would say.', example: 'I approve these limits of the chart WT-1 from footage 0.000 to 60.000 m.', max: 1000 })
  statement!: string;

  @Sha256({ description: 'The digest of the study: it is sent back with the signature.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  studySha256!: string;

  @Anything({ description: 'The study that would be frozen with the signature: plan, points, readings, records, limits.', example: {} })
  study!: unknown;

  @Texts({ description: 'What to keep in mind.', example: ['Limits are of the process as it was on this pipe.'], max: 20, each: 1000 })
  cautions!: string[];
}
