import { Choice, Computed, Part, Parts, Text, Texts, Whole, YesNo } from '../http/fields.js';
import { COIL_STATES, type CoilState } from '../standing/coil-standing.js';
import { RecordLink } from '../trace/trace.dto.js';
import { ORIGINS, type Origin } from './asked-values.js';

const MOST = 100_000_000;

/** How many there are. */
const Count = (options: { description: string; example: number }): PropertyDecorator => Whole({ ...options, min: 0, max: MOST, unit: '' });

/** What was asked. */
export class SupplierAskedAnswer {
  @Text({ description: 'The mill.', example: 'Tarnwick Steelworks', max: 120 })
  mill!: string;

  @Text({ description: 'The grade; null for every grade.', example: 'S420MC', max: 60, optional: true })
  grade!: string | null;

  @Text({ description: 'The ordered thickness, mm; null for every thickness.', example: '5.00', max: 20, optional: true })
  thicknessMm!: string | null;

  @Text({ description: 'As known at this instant; null for now.', example: null, max: 40, optional: true })
  asKnownAt!: string | null;
}

/** Coils in one standing. */
export class CoilStateCount {
  @Choice({ description: 'By the last decision.', example: 'accepted', of: COIL_STATES })
  state!: CoilState;

  @Count({ description: 'Coils that stand so.', example: 4 })
  coilCount!: number;
}

/** The papers that speak of the coils. */
export class PaperCountsAnswer {
  @Count({ description: 'Certificates that speak of the coils.', example: 3 })
  certificateCount!: number;

  @Count({ description: 'Of these, keyed at least once.', example: 3 })
  keyedCount!: number;

  @Count({ description: 'Of these, keyed twice with the same result.', example: 2 })
  verifiedCount!: number;

  @Count({ description: 'Of those keyed, the two keyings did not say the same when they were first made.', example: 1 })
  keyingsDifferedCount!: number;

  @Count({ description: 'Of those keyed, a keying was amended.', example: 1 })
  correctedCount!: number;

  @Count({ description: 'Certificates of which a keying was withdrawn.', example: 0 })
  withWithdrawnKeyingCount!: number;

  @Computed({ description: 'The corrected ones as a share of those keyed, 0 to 1; null when none was keyed.', example: 0.333333333333, optional: true })
  correctedShare!: number | null;
}

/** The least or the greatest of the values. */
export class ExtremeValueAnswer {
  @Text({ description: 'The value, in the unit of the limits.', example: '4.93', max: 60 })
  value!: string;

  @Part({ description: 'The coil it is of; the first one of its heat, where heats are counted.', of: () => RecordLink })
  coil!: RecordLink;

  @Part({ description: 'The heat.', of: () => RecordLink })
  heat!: RecordLink;

  @Text({ description: 'Where it comes from.', example: 'certificate TS-2026-00417 (3.1), line 1', max: 300 })
  source!: string;
}

/** A class of a histogram. */
export class HistogramClassAnswer {
  @Text({ description: 'Lower edge, which belongs to the class.', example: '5', max: 60 })
  from!: string;

  @Text({ description: 'Upper edge, which does not, unless all values are the same.', example: '5.05', max: 60 })
  to!: string;

  @Count({ description: 'Values in it.', example: 9 })
  count!: number;
}

/** Limits that some of the coils have in common. */
export class LimitsInForceAnswer {
  @Text({ description: 'The limits.', example: '4.85 to 5.15 mm', max: 300 })
  limits!: string;

  @Texts({ description: 'The revisions they come from.', example: ['STS-12 revision 1'], max: 10_000, each: 120 })
  specifications!: string[];

  @Count({ description: 'Coils they are in force for.', example: 9 })
  coilCount!: number;
}

/** Indices of performance by the overall standard deviation. */
export class PerformanceAnswer {
  @Computed({ description: 'Pp; null with a limit on one side only.', example: 1.29, optional: true })
  pp!: number | null;

  @Computed({ description: 'Ppk.', example: 1.12 })
  ppk!: number;

  @Computed({ description: 'Lower end of the 95 % confidence interval of Ppk (approximation of Bissell, 1990).', example: 0.84 })
  ppkFrom!: number;

  @Computed({ description: 'Its upper end.', example: 1.4 })
  ppkTo!: number;
}

/** One characteristic over all coils, certified or measured here. */
export class SuppliedCharacteristicAnswer {
  @Text({ description: 'What is asked for.', example: 'thickness', max: 200 })
  name!: string;

  @Text({ description: 'The unit of limits and values.', example: 'mm', max: 10 })
  unit!: string;

  @Choice({ description: 'certified: printed on a paper; measured: read here when the coil came in.', example: 'certified', of: ORIGINS })
  origin!: Origin;

  @Choice({ description: 'What counts once: a value; or, for heat analyses, a heat by the mean of the different numbers printed of it.', example: 'value', of: ['value', 'heat'] })
  countedBy!: 'value' | 'heat';

  @Count({ description: 'Coils of which it is asked.', example: 9 })
  askedCoilCount!: number;

  @Count({ description: 'Coils with a number in the distribution.', example: 9 })
  coilCount!: number;

  @Count({ description: 'Heats of these coils: values of one heat are not independent.', example: 3 })
  heatCount!: number;

  @Count({ description: 'Numbers in the distribution.', example: 27 })
  n!: number;

  @Computed({ description: 'Mean; null without numbers.', example: 5.01, optional: true })
  mean!: number | null;

  @Computed({ description: 'Sample standard deviation (n − 1); null below two numbers.', example: 0.042, optional: true })
  standardDeviation!: number | null;

  @Part({ description: 'The least value.', of: () => ExtremeValueAnswer, optional: true })
  least!: ExtremeValueAnswer | null;

  @Computed({ description: 'Lower quartile, by the rank (n + 1)/4.', example: 4.98, optional: true })
  lowerQuartile!: number | null;

  @Computed({ description: 'Median.', example: 5.01, optional: true })
  median!: number | null;

  @Computed({ description: 'Upper quartile.', example: 5.04, optional: true })
  upperQuartile!: number | null;

  @Part({ description: 'The greatest value.', of: () => ExtremeValueAnswer, optional: true })
  greatest!: ExtremeValueAnswer | null;

  @Parts({ description: 'Equal classes of 1, 2 or 5 times a power of ten, about 1 + log₂ n of them.', of: () => HistogramClassAnswer, max: 100 })
  histogram!: HistogramClassAnswer[];

  @Parts({ description: 'The limits in force, by revision and ordered size.', of: () => LimitsInForceAnswer, max: 10_000 })
  limits!: LimitsInForceAnswer[];

  @Count({ description: 'Numbers that do not conform by the rules of the revision of their coil.', example: 0 })
  outsideCount!: number;

  @Count({ description: 'Values of which only a bound is printed; not in the distribution.', example: 0 })
  censoredCount!: number;

  @Count({ description: 'Of these, those that do not conform whatever they are.', example: 0 })
  censoredOutsideCount!: number;

  @Count({ description: 'Values that cannot be read; not in the distribution.', example: 0 })
  unreadableCount!: number;

  @Count({ description: 'Values on which two keyings do not agree; not in the distribution.', example: 0 })
  inDoubtCount!: number;

  @Count({ description: 'Values of another test temperature, base length or unit than asked for; not in the distribution.', example: 0 })
  otherConditionsCount!: number;

  @Count({ description: 'Heats of which papers print more than one number, where heats are counted.', example: 0 })
  differingHeatCount!: number;

  @Part({ description: 'Pp and Ppk. That the process is in control is not shown by them.', of: () => PerformanceAnswer, optional: true })
  performance!: PerformanceAnswer | null;

  @Text({ description: 'Why there is no Ppk; null when there is one.', example: null, max: 500, optional: true })
  noPerformanceBecause!: string | null;
}

/** All coils ordered at a mill. */
export class SupplierViewAnswer {
  @Part({ description: 'What was asked.', of: () => SupplierAskedAnswer })
  asked!: SupplierAskedAnswer;

  @Count({ description: 'Coils looked at.', example: 9 })
  coilCount!: number;

  @YesNo({ description: 'There are more coils; those entered last were looked at.', example: false })
  isCapped!: boolean;

  @Count({ description: 'Their heats.', example: 3 })
  heatCount!: number;

  @Count({ description: 'Their orders.', example: 1 })
  orderCount!: number;

  @Parts({ description: 'Coils by their standing, every standing once.', of: () => CoilStateCount, max: COIL_STATES.length })
  standings!: CoilStateCount[];

  @Part({ description: 'The papers.', of: () => PaperCountsAnswer })
  papers!: PaperCountsAnswer;

  @Parts({ description: 'What is asked of the coils, in the order in which papers list it.', of: () => SuppliedCharacteristicAnswer, max: 10_000 })
  characteristics!: SuppliedCharacteristicAnswer[];

  @Count({ description: 'Values that no requirement of their coil asks for; they are in no distribution.', example: 0 })
  notAskedForCount!: number;

  @Texts({ description: 'How to read this.', example: ['That a process is in control is not shown here.'], max: 20, each: 500 })
  cautions!: string[];
}
