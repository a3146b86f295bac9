import { IntersectionType, OmitType } from '@nestjs/swagger';
import { CHART_KINDS, type ChartKind } from '#libs/charting';
import { Choice, Choices, Ids, ItemCode, Measured, Part, Text, Texts, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import {
  CHARACTERISTICS, CHART_RULES, WINDOW_STATISTICS, type Characteristic, type ChartLeaveOut, type ChartRule, type ReactionPlan, type WindowStatistic,
} from './control-chart-plan.js';

const RULE_NAMES = Object.keys(CHART_RULES);
const LENGTH = { max: FOOTAGE_LIMIT_MM, unit: 'mm' };
const OF_UNIT = { min: -1e9, max: 1e9, unit: 'in the unit of the chart' };

/** What is charted, and where its readings come from. */
export class ChartedCharacteristicPart {
  @Choice({ description: 'What is charted.', example: 'inspected', of: CHARACTERISTICS })
  of!: Characteristic;

  @Text({
    description: 'As inspections, splice steps or incoming checks name it; only and always of inspected, rejected-inspections, splice-reading and coil-reading.',
    example: 'outside diameter', max: 80, optional: true,
  })
  name?: string | null;

  @Ids({
    description: 'Channels of the string, each once. Of channel one, or 2 to 12 for the chart t-squared; of reference-amplitude one; of indications and between-indications those that are meant, all where none is named.',
    example: [], max: 50, optional: true,
  })
  channelIds?: string[] | null;

  @Choice({ description: 'What of the samples on a length makes the reading; spread is their standard deviation. Only and always of channel.', example: null, of: WINDOW_STATISTICS, optional: true })
  statistic?: WindowStatistic | null;

  @Text({ description: 'The reflector, as reference checks name it; only and always of reference-amplitude.', example: null, max: 120, optional: true })
  reflector?: string | null;

  @Texts({ description: 'The counter measured and the one that it is held against; only and always of counter-ratio.', example: [], max: 2, each: 40, optional: true })
  counters?: string[] | null;

  @Whole({
    description: 'Pipe that makes one reading of a channel or of counters, or that one point counts over; only and always of channel, counter-ratio, rejected-inspections, indications and repairs.',
    example: null, min: 1, ...LENGTH, optional: true,
  })
  windowMm?: number | null;
}

/** How readings are put together. */
export class SubgroupPart {
  @Whole({ description: 'Readings of one subgroup, at least 2 for charts of subgroups; 1: each is a point of its own.', example: 5, min: 1, max: 25, unit: '' })
  size!: number;

  @Whole({ description: 'The first and the last of a subgroup begin at most so far apart: less than everyMm, at least what windows behind each other take, and 0 where each reading is a point.', example: 2_000, min: 0, ...LENGTH })
  withinMm!: number;

  @Whole({ description: 'The first readings of two subgroups lie at least so far apart.', example: 50_000, min: 0, ...LENGTH })
  everyMm!: number;
}

/** Readings near these enter no chart. */
export class ChartLeaveOutPart implements ChartLeaveOut {
  @Whole({ description: 'To both sides of a splice.', example: 500, min: 0, ...LENGTH })
  aroundSplicesMm!: number;

  @Whole({ description: 'To both sides of a stop.', example: 1_000, min: 0, ...LENGTH })
  aroundStopsMm!: number;
}

/** Specification limits; never drawn as control limits. */
export class ChartSpecificationPart {
  @Measured({ description: 'The least that is allowed; one of lower and upper at least.', example: '126.0', ...OF_UNIT, optional: true })
  lower?: string | null;

  @Measured({ description: 'The most that is allowed.', example: '128.0', ...OF_UNIT, optional: true })
  upper?: string | null;

  @Measured({ description: 'What is aimed at, within the limits.', example: '127.0', ...OF_UNIT, optional: true })
  target?: string | null;

  @Text({ description: 'Document, revision and clause.', example: 'Pipe specification PS-4 rev 1, 6.2', max: 200 })
  source!: string;
}

/** What to do when the chart signals. */
export class ReactionPlanPart implements ReactionPlan {
  @Text({ description: 'How to find out whether the reading is real.', example: 'Read again at the same place, then with the other gauge', max: 500 })
  repeat!: string;

  @Texts({ description: 'What to look for, the likeliest first.', example: ['Sizing rolls worn or moved', 'Strip width of the new coil'], min: 1, max: 20, each: 200 })
  causes!: string[];

  @Text({ description: 'When to adjust and when to stop.', example: 'Adjust the last sizing stand; stop when two points in a row signal', max: 500 })
  adjust!: string;

  @Text({ description: 'Who decides that.', example: 'Shift lead', max: 120 })
  decidedBy!: string;
}

/** What of the pipe of a string is charted, how, and what to do when the chart signals. */
export class ControlChartInput extends StringRecordInput {
  @ItemCode({ description: 'Its code; each of a string once.', example: 'OD-1' })
  code!: string;

  @Text({ description: 'What it is called.', example: 'Outside diameter after sizing', max: 120 })
  title!: string;

  @Part({ description: 'What is charted.', of: () => ChartedCharacteristicPart, example: { of: 'inspected', name: 'outside diameter' } })
  characteristic!: ChartedCharacteristicPart;

  @Text({ description: 'The unit of the readings: 1 of shares, counts and counter ratios, m of gaps, 1/m of rates of indications, 1/km of rates of repairs.', example: 'mm', max: 20 })
  unit!: string;

  @Part({
    description: 'How readings are put together; always of charts of subgroups and of values, and never of counts, gaps and vectors, which are points already.',
    of: () => SubgroupPart, optional: true, example: { size: 5, withinMm: 2_000, everyMm: 50_000 },
  })
  subgroup?: SubgroupPart | null;

  @Part({ description: 'Readings near what enter no chart.', of: () => ChartLeaveOutPart, example: { aroundSplicesMm: 500, aroundStopsMm: 1_000 } })
  leaveOut!: ChartLeaveOutPart;

  @Choice({ description: 'Which chart; one that goes with what is charted.', example: 'mean-range', of: CHART_KINDS })
  chart!: ChartKind;

  @Choices({
    description: 'Run rules, each once: at least one, but none of ewma, cusum, t, g and t-squared, which signal beyond their limits alone.',
    example: ['one-beyond-3-sigma', 'nine-on-one-side'], of: RULE_NAMES, max: RULE_NAMES.length,
  })
  rules!: ChartRule[];

  @Measured({ description: 'The weight of the newest value; only and always of ewma.', example: null, min: 0.001, max: 1, unit: '', optional: true })
  lambda?: string | null;

  @Measured({ description: 'Half the width of the limits, in standard deviations of the average; only and always of ewma.', example: null, min: 0.001, max: 6, unit: 'standard deviations', optional: true })
  width?: string | null;

  @Measured({ description: 'The reference value, in standard deviations of the values; only and always of cusum.', example: null, min: 0, max: 10, unit: 'standard deviations', optional: true })
  k?: string | null;

  @Measured({ description: 'The decision interval, in standard deviations of the values; only and always of cusum.', example: null, min: 0.001, max: 100, unit: 'standard deviations', optional: true })
  h?: string | null;

  @Whole({ description: 'How many points a batch; only and always of batch-means.', example: null, min: 2, max: 1000, unit: '', optional: true })
  batchSize?: number | null;

  @Measured({ description: 'The share of false alarms; only and always of t-squared.', example: null, min: 0.0001, max: 0.05, unit: '', optional: true })
  alpha?: string | null;

  @Part({
    description: 'Specification limits; of charts of subgroups and of values alone.', of: () => ChartSpecificationPart, optional: true,
    example: { lower: '126.0', upper: '128.0', target: '127.0', source: 'Pipe specification PS-4 rev 1, 6.2' },
  })
  specification?: ChartSpecificationPart | null;

  @Part({ description: 'What to do when it signals.', of: () => ReactionPlanPart })
  reaction!: ReactionPlanPart;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The chart's own fields of an answer. */
export class ControlChartContent extends OmitType(ControlChartInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ControlChartAnswer extends IntersectionType(RecordAnswer, ControlChartContent) {}
