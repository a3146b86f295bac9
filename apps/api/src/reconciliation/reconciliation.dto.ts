import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { LinkListAnswer, NotLocatedAnswer } from '../recall/recall.dto.js';
import { ExplanationStepAnswer } from '../trace/explanation.dto.js';
import { IntervalAnswer, RecordLink, TraceStringAnswer } from '../trace/trace.dto.js';

export const SUMS = ['strip consumed', 'pipe made', 'pipe in place'] as const;
type SumName = (typeof SUMS)[number];
const AT = '2026-03-12T16:00:00.000000Z';
const MOST = 10_000;

export class SumPartAnswer {
  @Text({ description: 'What it is.', example: 'inner wall', max: 200 })
  name!: string;

  @Computed({ description: 'Its length, mm.', example: 596_000 })
  mm!: number;

  @Part({ description: 'The record it rests on.', of: () => RecordLink, optional: true })
  record!: RecordLink | null;
}

export class SumAnswer {
  @Choice({ description: 'Which of the three.', example: 'pipe made', of: SUMS })
  name!: SumName;

  @Computed({ description: 'The sum, mm.', example: 1_213_400 })
  mm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 1_214 })
  plusMinusMm!: number;

  @Parts({ description: 'What it is made of; strip before forming for the strip.', of: () => SumPartAnswer, max: MOST })
  parts!: SumPartAnswer[];
}

export class NoSumAnswer extends NotLocatedAnswer {
  @Choice({ description: 'Which of the three.', example: 'pipe in place', of: SUMS })
  name!: SumName;
}

export class DifferenceAnswer {
  @Choice({ description: 'The one sum.', example: 'strip consumed', of: SUMS })
  of!: SumName;

  @Choice({ description: 'Less the other one.', example: 'pipe made', of: SUMS })
  less!: SumName;

  @Computed({ description: 'The difference, mm.', example: -640 })
  mm!: number;

  @Computed({ description: 'The difference, metres.', example: -0.64 })
  m!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 1_650 })
  plusMinusMm!: number;

  @YesNo({ description: 'Beyond the uncertainty.', example: false })
  exceeded!: boolean;

  @Texts({ description: 'What usually makes such a difference; none unless exceeded.', example: ['counter slip'], max: 20, each: 200 })
  likelyCauses!: string[];
}

export class StripUseAnswer {
  @Part({ description: 'The coil.', of: () => RecordLink })
  coil!: RecordLink;

  @Computed({ description: 'Strip length, mm.', example: 655_000 })
  lengthMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of it, mm.', example: 3_275 })
  lengthPlusMinusMm!: number;

  @Choice({ description: 'What the length rests on.', example: 'as stated', of: ['as stated', 'from its mass'] })
  basis!: 'as stated' | 'from its mass';

  @Computed({ description: 'Cropped, mm.', example: 1_200 })
  cropMm!: number;

  @Computed({ description: 'Left over as recorded, mm.', example: 0 })
  restMm!: number;

  @Computed({ description: 'Used by other strings, mm.', example: 0 })
  onOtherStringsMm!: number;

  @Computed({ description: 'In a segment of this string, not yet past the weld point, mm.', example: 0 })
  notYetFormedMm!: number;

  @Computed({ description: 'Length less all of these, mm.', example: 653_800 })
  consumedMm!: number;
}

export class SegmentElongation {
  @Part({ description: 'The coil segment.', of: () => RecordLink })
  segment!: RecordLink;

  @Part({ description: 'Its footage.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Part({ description: 'Its strip.', of: () => IntervalAnswer })
  strip!: IntervalAnswer;

  @Computed({ description: 'Pipe for each mm of strip.', example: 1.0004 })
  elongation!: number;

  @YesNo({ description: 'Outside 0.98 to 1.02.', example: false })
  suspect!: boolean;
}

export class ResidualAnswer {
  @Computed({ description: 'The residual, mm.', example: -120 })
  mm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 340 })
  plusMinusMm!: number;

  @YesNo({ description: 'Beyond the uncertainty.', example: false })
  exceeded!: boolean;
}

export class TieReportAnswer {
  @Part({ description: 'The shoe tie.', of: () => RecordLink })
  tie!: RecordLink;

  @When({ description: 'When it was made.', example: AT })
  at!: string;

  @Computed({ description: 'Net length at the shoe, mm.', example: 598_140 })
  netMm!: number;

  @Computed({ description: 'Measured depth of the shoe, mm.', example: 598_300 })
  mdMm!: number;

  @YesNo({ description: 'It is a known point of the outer wall; not when it does not rise with the others.', example: true })
  used!: boolean;

  @Computed({ description: 'Length ratio λ from the known point before it.', example: 0.9964, optional: true })
  localLambda!: number | null;

  @Part({ description: 'Pipe made less pipe in place, with the default ratio.', of: () => ResidualAnswer })
  reconciliation!: ResidualAnswer;

  @Part({ description: 'Against the straight line through all ties; needs three points.', of: () => ResidualAnswer, optional: true })
  againstLine!: ResidualAnswer | null;

  @Part({ description: 'Against its two neighbours.', of: () => ResidualAnswer, optional: true })
  againstNeighbours!: ResidualAnswer | null;

  @YesNo({ description: 'A residual is beyond its uncertainty, or the tie is not used.', example: false })
  suspect!: boolean;
}

export class PartingAnswer {
  @When({ description: 'From.', example: AT })
  from!: string;

  @When({ description: 'To.', example: AT })
  to!: string;

  @Computed({ description: 'Pipe by the master counter, mm.', example: 100_000 })
  masterMm!: number;

  @Computed({ description: 'Pipe by the other counter, mm.', example: 100_070 })
  otherMm!: number;

  @Computed({ description: 'Other less master, mm.', example: 70 })
  differenceMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 140 })
  plusMinusMm!: number;

  @Computed({ description: 'Difference for each 100 m of the master, mm; absent where it counted no pipe.', example: 70, optional: true })
  per100MMm!: number | null;

  @YesNo({ description: 'Beyond the uncertainty.', example: false })
  exceeded!: boolean;
}

export class CounterComparisonAnswer {
  @Text({ description: 'The other counter.', example: 'check', max: 40 })
  counter!: string;

  @Part({ description: 'Between the first and last common time; absent with fewer than two.', of: () => PartingAnswer, optional: true })
  overall!: PartingAnswer | null;

  @Computed({ description: 'Steps between neighbouring common times.', example: 41 })
  steps!: number;

  @Computed({ description: 'How many of them are beyond their uncertainty.', example: 1 })
  exceededTotal!: number;

  @Parts({ description: 'The first of those, at most 500.', of: () => PartingAnswer, max: 500 })
  exceededSteps!: PartingAnswer[];
}

export class JointAnswer {
  @Computed({ description: 'Footage where the coils meet, mm.', example: 212_000 })
  footageMm!: number;

  @Part({ description: 'The coil that ends.', of: () => RecordLink })
  leaving!: RecordLink;

  @Part({ description: 'The coil that begins.', of: () => RecordLink })
  entering!: RecordLink;
}

export class SpliceCountAnswer {
  @Computed({ description: 'Stretches of one coil.', example: 9 })
  coils!: number;

  @Computed({ description: 'Splices on record.', example: 8 })
  splices!: number;

  @YesNo({ description: 'coils = splices + 1.', example: true })
  agrees!: boolean;

  @Parts({ description: 'Where coils meet and no splice names the two.', of: () => JointAnswer, max: MOST })
  withoutSplice!: JointAnswer[];

  @Parts({ description: 'Splices of two coils that do not follow one another.', of: () => RecordLink, max: MOST })
  withoutJoint!: RecordLink[];
}

/** Three independent lengths of the same pipe, and every other check that they rest on. */
export class ReconciliationAnswer {
  @Part({ description: 'The string.', of: () => TraceStringAnswer })
  string!: TraceStringAnswer;

  @When({ description: 'The time the sums are drawn up at: of the last shoe tie by the time asked.', example: AT })
  at!: string;

  @Part({ description: 'That shoe tie.', of: () => RecordLink, optional: true })
  tie!: RecordLink | null;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Parts({ description: 'The sums that can be drawn up.', of: () => SumAnswer, max: 3 })
  sums!: SumAnswer[];

  @Parts({ description: 'Those that cannot, and why.', of: () => NoSumAnswer, max: 3 })
  notSummed!: NoSumAnswer[];

  @Parts({ description: 'Each sum less each later one.', of: () => DifferenceAnswer, max: 3 })
  differences!: DifferenceAnswer[];

  @Computed({ description: 'Forming elongation over all segments: pipe for each mm of strip.', example: 1.0004, optional: true })
  elongation!: number | null;

  @Parts({ description: 'Strip of each coil as this string used it.', of: () => StripUseAnswer, max: MOST })
  strip!: StripUseAnswer[];

  @Parts({ description: 'Forming elongation of each segment.', of: () => SegmentElongation, max: MOST })
  segments!: SegmentElongation[];

  @Parts({ description: 'What every shoe tie says about the others.', of: () => TieReportAnswer, max: MOST })
  ties!: TieReportAnswer[];

  @Part({ description: 'Why there is no tie report.', of: () => NotLocatedAnswer, optional: true })
  noTieReport!: NotLocatedAnswer | null;

  @Parts({ description: 'The other counters against the master.', of: () => CounterComparisonAnswer, max: 100 })
  counters!: CounterComparisonAnswer[];

  @Part({ description: 'Readings that no counter period gives a footage.', of: () => LinkListAnswer })
  readingsOutsidePeriods!: LinkListAnswer;

  @Part({ description: 'Coils against splices.', of: () => SpliceCountAnswer })
  spliceCount!: SpliceCountAnswer;

  @Parts({ description: 'Footage made that neither a coil segment nor a cut-out covers.', of: () => IntervalAnswer, max: MOST })
  gaps!: IntervalAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['Evidence that is missing is not a clean result.'], max: 20, each: 500 })
  cautions!: string[];

  @Parts({ description: 'Each sum with its inputs and their records, when asked for.', of: () => ExplanationStepAnswer, max: 1000, optional: true })
  explanation!: ExplanationStepAnswer[] | null;
}
