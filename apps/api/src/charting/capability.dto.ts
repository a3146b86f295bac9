import { ChartSpecificationPart } from '../control-charts/control-chart.dto.js';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { ChartWarningAnswer, LagOneAnswer } from './control-chart-view.dto.js';

/** A figure with the interval that the independent readings leave. */
export class IndexAnswer {
  @Computed({ description: 'The figure.', example: 1.42 })
  value!: number;

  @Computed({ description: 'Lower end of the 95 % confidence interval; null with fewer than 2 independent readings.', example: 1.21, optional: true })
  from!: number | null;

  @Computed({ description: 'Upper end; null as the lower.', example: 1.63, optional: true })
  to!: number | null;
}

/** The interval of a figure that stands beside it. */
export class IndexIntervalAnswer {
  @Computed({ description: 'Lower end of the 95 % confidence interval.', example: 1.28 })
  from!: number;

  @Computed({ description: 'Upper end.', example: 1.72 })
  to!: number;
}

/** Anderson and Darling's test. */
export class NormalityAnswer {
  @Computed({ description: 'The statistic A².', example: 0.41 })
  statistic!: number;

  @Computed({ description: 'Its p-value; below 0.05 a normal distribution is taken not to fit.', example: 0.33 })
  p!: number;

  @Text({ description: 'What the test takes for granted and these readings are not; null where they seem independent.', example: 'The p-value takes the readings for independent. They resemble their neighbours (lag-1 correlation 0.62), which makes it too small.', max: 400, optional: true })
  caution!: string | null;
}

/** Without a normal distribution; its indices have no intervals. */
export class PercentileAnswer {
  @Text({ description: 'What the percentiles are of.', example: 'the readings themselves', max: 200 })
  method!: string;

  @Computed({ description: 'The 0.135 % percentile.', example: 4.91 })
  low!: number;

  @Computed({ description: 'The median.', example: 5.02 })
  median!: number;

  @Computed({ description: 'The 99.865 % percentile.', example: 5.19 })
  high!: number;

  @Computed({ description: 'Pp; null with a limit on one side only.', example: 1.3, optional: true })
  pp!: number | null;

  @Computed({ description: 'Ppk.', example: 1.1 })
  ppk!: number;
}

export class CapabilityFiguresAnswer {
  @Computed({ description: 'Readings that the indices are of: without those of removed points, and of pipe without limits.', example: 240 })
  readings!: number;

  @Computed({ description: 'Their mean.', example: 5.02 })
  mean!: number;

  @Computed({ description: 'Their standard deviation.', example: 0.03 })
  standardDeviation!: number;

  @Part({ description: 'How far readings resemble the one before; null where they are too few.', of: () => LagOneAnswer, optional: true })
  lagOne!: LagOneAnswer | null;

  @Computed({ description: 'As many independent readings say as much of the mean: what all intervals are taken with, in whole ones. Cp, Cpk: with as small a share of the degrees of freedom within subgroups.', example: 61.5 })
  independentReadings!: number;

  @Computed({ description: 'Pp, of all readings; null with a limit on one side only.', example: 1.5, optional: true })
  pp!: number | null;

  @Part({ description: 'Its interval; null without Pp, and with fewer than 2 independent readings.', of: () => IndexIntervalAnswer, optional: true })
  ppInterval!: IndexIntervalAnswer | null;

  @Part({ description: 'Ppk, of all readings.', of: () => IndexAnswer })
  ppk!: IndexAnswer;

  @Part({ description: 'Cp, by the spread within subgroups; null without subgroups or with a limit on one side only.', of: () => IndexAnswer, optional: true })
  cp!: IndexAnswer | null;

  @Part({ description: 'Cpk, by the same.', of: () => IndexAnswer, optional: true })
  cpk!: IndexAnswer | null;

  @Part({ description: 'Cpm, about the target; null without one.', of: () => IndexAnswer, optional: true })
  cpm!: IndexAnswer | null;

  @Part({ description: 'Whether a normal distribution fits; null with fewer than 8 readings.', of: () => NormalityAnswer, optional: true })
  normality!: NormalityAnswer | null;

  @Part({ description: 'By percentiles, where a normal distribution does not fit; null where it does, or none can be found.', of: () => PercentileAnswer, optional: true })
  byPercentiles!: PercentileAnswer | null;

  @Computed({ description: 'Readings outside the specification: of all of the pipe asked about, removed or not, with limits or without.', example: 0 })
  outside!: number;
}

/** The least or the greatest reading. */
export class ExtremeReadingAnswer {
  @Computed({ description: 'The reading.', example: 4.93 })
  value!: number;

  @Part({ description: 'Where.', of: () => IntervalAnswer, optional: true })
  place!: IntervalAnswer | null;

  @Text({ description: 'What people call it.', example: 'S-3', max: 400, min: 0 })
  label!: string;

  @Parts({ description: 'Its records.', of: () => RecordLink, max: 10_000 })
  records!: RecordLink[];
}

export class CapabilityAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'The chart.', of: () => RecordLink })
  chart!: RecordLink;

  @Text({ description: 'The unit.', example: 'mm', max: 20 })
  unit!: string;

  @Part({ description: 'Footage, mm.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @When({ description: 'Whose knowledge it is.', example: '2026-03-02T15:10:00.000000Z' })
  knownAt!: string;

  @Part({ description: 'The specification that the readings are held against.', of: () => ChartSpecificationPart })
  specification!: ChartSpecificationPart;

  @Part({ description: 'The figures.', of: () => CapabilityFiguresAnswer })
  figures!: CapabilityFiguresAnswer;

  @Part({ description: 'The least reading and its place: of all readings of the pipe asked about, removed or not, with limits or without.', of: () => ExtremeReadingAnswer })
  least!: ExtremeReadingAnswer;

  @Part({ description: 'The greatest, of the same.', of: () => ExtremeReadingAnswer })
  greatest!: ExtremeReadingAnswer;

  @Part({ description: 'Pipe of the readings outside the specification, removed or not, with limits or without.', of: () => MetresAnswer })
  outside!: MetresAnswer;

  @YesNo({ description: 'Limits hold for all of the pipe, and no point signals against them.', example: true })
  isInControl!: boolean;

  @Text({ description: 'In words. Of a process that is not in control an index says what was, and nothing of what comes.', example: 'Limits hold for all of this pipe, and none of its 48 points signals.', max: 1000 })
  control!: string;

  @Parts({ description: 'What is to be minded of the chart, and of the indices.', of: () => ChartWarningAnswer, max: 100 })
  warnings!: ChartWarningAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['An index is an estimate: mind its interval.'], max: 20, each: 1000 })
  cautions!: string[];
}
