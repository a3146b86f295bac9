import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Computed, Id, Measured, Part, Parts, Text, Texts, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

const MOST_READINGS = 1000;

/** One reading: which part, by whom, for the how manieth time. */
export class GaugeReadingPart {
  @Text({ description: 'The part, by a name of its own.', example: 'P1', max: 40 })
  part!: string;

  @Text({ description: 'Who read, by a name or sign.', example: 'A', max: 40 })
  appraiser!: string;

  @Whole({ description: 'The trial, from 1.', example: 1, min: 1, max: 100, unit: '' })
  trial!: number;

  @Measured({ description: 'The digits as read.', example: '5.021', min: -1e6, max: 1e6, unit: 'in its unit' })
  value!: string;
}

const EXAMPLE = ['5.021', '5.023', '4.981', '4.980', '5.020', '5.024', '4.979', '4.983'].map((value, index) => (
  { part: index % 4 < 2 ? 'P1' : 'P2', appraiser: index < 4 ? 'A' : 'B', trial: (index % 2) + 1, value }));

/** Every appraiser reads every part in every trial, at least two parts and two trials; one appraiser alone tells repeatability only. */
export class GaugeStudyInput extends RecordInput {
  @Id({ description: 'The instrument.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42' })
  instrumentId!: string;

  @Text({ description: 'What was read.', example: 'wall thickness', max: 80 })
  characteristic!: string;

  @Text({ description: 'The unit of the readings.', example: 'mm', max: 20 })
  unit!: string;

  @Measured({ description: 'Width of the tolerance, from limit to limit; absent when it is not to be compared with one.', example: '0.65', min: 0.000000001, max: 1e6, unit: 'in its unit', optional: true })
  tolerance?: string | null;

  @Parts({ description: 'The readings, in any order.', of: () => GaugeReadingPart, min: 4, max: MOST_READINGS, example: EXAMPLE })
  readings!: GaugeReadingPart[];

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The study's own fields of an answer. */
export class GaugeStudyContent extends OmitType(GaugeStudyInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class GaugeStudyAnswer extends IntersectionType(RecordAnswer, GaugeStudyContent) {}

/** A row of the analysis of variance. */
export class GaugeVarianceRow {
  @Choice({ description: 'Where the variation comes from.', example: 'part', of: ['part', 'appraiser', 'interaction', 'repeatability', 'total'] })
  source!: string;

  @Computed({ description: 'Sum of squares, in the squared unit.', example: 0.0032 })
  sumOfSquares!: number;

  @Computed({ description: 'Degrees of freedom.', example: 1 })
  degreesOfFreedom!: number;

  @Computed({ description: 'Mean square; null for the total.', example: 0.0032, optional: true })
  meanSquare!: number | null;

  @Computed({ description: 'F; null where there is none.', example: 711, optional: true })
  f!: number | null;

  @Computed({ description: 'Its p value; null where there is none.', example: 0.02, optional: true })
  p!: number | null;
}

/** A share of the variation. */
export class GaugeShare {
  @Choice({ description: 'Of what.', example: 'gauge', of: ['repeatability', 'reproducibility', 'gauge', 'part', 'total'] })
  of!: string;

  @Computed({ description: 'Standard deviation, in the unit of the readings.', example: 0.0021 })
  standardDeviation!: number;

  @Computed({ description: 'Of the total variance, %.', example: 0.5, optional: true })
  percentContribution!: number | null;

  @Computed({ description: 'Of the total standard deviation, %.', example: 7.3, optional: true })
  percentStudyVariation!: number | null;

  @Computed({ description: 'Six standard deviations of the tolerance, %.', example: 1.9, optional: true })
  percentTolerance!: number | null;
}

/** What the study says of the gauge, by one basis. */
export class GaugeVerdictAnswer {
  @Choice({ description: 'What gauge variation is compared with.', example: 'study-variation', of: ['study-variation', 'tolerance'] })
  basis!: 'study-variation' | 'tolerance';

  @Text({ description: 'In words.', example: 'generally acceptable: under 10 % of the study variation', max: 500 })
  words!: string;

  @Text({ description: 'Where the bounds come from.', example: 'common practice, no published source', max: 500 })
  source!: string;
}

/** The result by one method. */
export class GaugeMethodAnswer {
  @Parts({ description: 'Shares of the variation.', of: () => GaugeShare, max: 5 })
  shares!: GaugeShare[];

  @Computed({ description: 'How many groups of parts the gauge tells apart; null where nothing limits it.', example: 19, optional: true })
  distinctCategories!: number | null;

  @Parts({ description: 'What that says.', of: () => GaugeVerdictAnswer, max: 2 })
  verdicts!: GaugeVerdictAnswer[];
}

export class GaugeResultAnswer {
  @Text({ description: 'The unit of the readings.', example: 'mm', max: 20 })
  unit!: string;

  @Texts({ description: 'The parts.', example: ['P1', 'P2'], max: MOST_READINGS, each: 40 })
  parts!: string[];

  @Texts({ description: 'The appraisers.', example: ['A', 'B'], max: MOST_READINGS, each: 40 })
  appraisers!: string[];

  @Parts({ description: 'The analysis of variance, the interaction in a row of its own.', of: () => GaugeVarianceRow, max: 5 })
  table!: GaugeVarianceRow[];

  @YesNo({ description: 'The interaction of parts and appraisers was pooled into repeatability.', example: true })
  isPooled!: boolean;

  @Text({ description: 'Why, or why not; null with one appraiser.', example: 'the p value of the interaction, 0.97, is above 0.25: it is pooled into repeatability', max: 500, optional: true })
  pooling!: string | null;

  @Part({ description: 'By analysis of variance: the one to go by.', of: () => GaugeMethodAnswer })
  anova!: GaugeMethodAnswer;

  @Part({ description: 'By averages and ranges.', of: () => GaugeMethodAnswer })
  averageRange!: GaugeMethodAnswer;

  @Texts({ description: 'What a reader must know before using the figures.', example: ['Advisory: estimates from few readings.'], max: 20, each: 500 })
  cautions!: string[];
}
