import { Choice, Computed, Id, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { ExplanationStepAnswer } from './explanation.dto.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05';

/** A record named in an answer: its kind, id and the version that was used. */
export class RecordLink {
  @Text({ description: 'The kind of record.', example: 'coil', max: 40 })
  kind!: string;

  @Id({ description: 'The record.', example: ID })
  id!: string;

  @Computed({ description: 'The version used.', example: 1 })
  version!: number;

  @Text({ description: 'What people call it.', example: 'LM-03', max: 200 })
  label!: string;
}

/** A half-open interval of whole millimetres. */
export class IntervalAnswer {
  @Computed({ description: 'Where it begins, mm.', example: 212_000 })
  fromMm!: number;

  @Computed({ description: 'Where it ends, mm; not part of it.', example: 214_500 })
  toMm!: number;
}

/** Depths of an interval on a wall, with how far each end may be off (expanded, k = 2). */
export class DepthSpan {
  @Computed({ description: 'Measured depth of the upper end, mm.', example: 212_000 })
  mdFromMm!: number;

  @Computed({ description: 'Measured depth of the lower end, mm; not part of it.', example: 214_500 })
  mdToMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of the upper end, mm.', example: 182 })
  mdFromPlusMinusMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of the lower end, mm.', example: 184 })
  mdToPlusMinusMm!: number;
}

export class FacingAnswer {
  @Text({ description: 'What the surface formed inside on the line faces here.', example: 'rock', max: 40 })
  formedInside!: string;

  @Text({ description: 'What the surface formed outside on the line faces here.', example: 'between the walls', max: 40 })
  formedOutside!: string;
}

export class WallThicknessAnswer {
  @Computed({ description: 'Strip thickness of the coil, mm: never the outer wall.', example: 5.02 })
  stripMm!: number;

  @Computed({ description: 'Wall here by constant volume, mm; advisory.', example: 4.41, optional: true })
  estimatedMm!: number | null;

  @Text({ description: 'How it was found, or why it cannot be.', example: 't/(κ λ), κ 1.14, λ 0.996', max: 200 })
  basis!: string;
}

/** A stretch of one wall made of one coil. */
export class SegmentAnswer extends DepthSpan {
  @Choice({
    description: 'certain: no uncertainty can move it out of the asked interval; likely: it stands there by the best '
      + 'estimate; possible: only the uncertainty of a boundary lets it stand there.',
    example: 'certain',
    of: ['certain', 'likely', 'possible'],
  })
  presence!: 'certain' | 'likely' | 'possible';

  @Part({ description: 'The depths it can cover at most, k = 2.', of: () => IntervalAnswer })
  possibleMd!: IntervalAnswer;

  @Text({ description: 'What the depth rests on.', example: 'between ties', max: 80 })
  depthBasis!: string;

  @Part({ description: 'Footage of the stretch.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Part({ description: 'True vertical depth of the two ends, mm.', of: () => TvdEnds, optional: true })
  tvd!: TvdEnds | null;

  @Part({ description: 'The coil.', of: () => RecordLink })
  coil!: RecordLink;

  @Part({ description: 'Its heat.', of: () => RecordLink })
  heat!: RecordLink;

  @Part({ description: 'Its certificate.', of: () => RecordLink, optional: true })
  certificate!: RecordLink | null;

  @Part({ description: 'The coil segment that says so.', of: () => RecordLink })
  segment!: RecordLink;

  @Part({ description: 'Position on the strip of the coil, from its head.', of: () => IntervalAnswer })
  strip!: IntervalAnswer;

  @Choice({ description: 'Which end of the coil led.', example: 'head-first', of: ['head-first', 'tail-first'] })
  runs!: 'head-first' | 'tail-first';

  @Part({ description: 'Which surface faces what.', of: () => FacingAnswer })
  facing!: FacingAnswer;

  @Part({ description: 'The wall here.', of: () => WallThicknessAnswer })
  wallThickness!: WallThicknessAnswer;
}

export class TvdEnds {
  @Computed({ description: 'At the upper end, mm.', example: 155_208 })
  fromMm!: number;

  @Computed({ description: 'At the lower end, mm.', example: 156_900 })
  toMm!: number;
}

export class SpliceOnWall extends DepthSpan {
  @Part({ description: 'The splice.', of: () => RecordLink })
  splice!: RecordLink;

  @Part({ description: 'Footage it occupies.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @YesNo({ description: 'Its interval was confirmed.', example: true })
  confirmed!: boolean;

  @Text({ description: 'The verdict on it.', example: 'accepted', max: 40 })
  verdict!: string;

  @Text({ description: 'What the doubt is.', example: null, max: 2000, optional: true })
  doubt!: string | null;

  @Text({ description: 'Hand of the bias on this wall, seen on the formed outside.', example: 'right', max: 20 })
  handHere!: string;
}

export class CutNearby {
  @Part({ description: 'The cut-out.', of: () => RecordLink })
  cutOut!: RecordLink;

  @Computed({ description: 'Measured depth of the re-join that closed it, mm.', example: 205_410 })
  rejoinMdMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of that depth, mm.', example: 180 })
  rejoinMdPlusMinusMm!: number;

  @Computed({ description: 'Pipe taken out, mm.', example: 640 })
  removedMm!: number;

  @Computed({ description: 'Distance from the asked interval, mm; 0 inside it.', example: 6590 })
  distanceMm!: number;

  @Part({ description: 'The weld that closed the gap.', of: () => RecordLink, optional: true })
  rejoin!: RecordLink | null;

  @Text({ description: 'The verdict on that weld.', example: 'accepted', max: 40, optional: true })
  rejoinVerdict!: string | null;
}

export class InspectionOnWall extends DepthSpan {
  @Part({ description: 'The inspection entry.', of: () => RecordLink })
  inspection!: RecordLink;

  @Part({ description: 'Footage it is about.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @When({ description: 'When it was done.', example: '2026-03-04T09:12:00.000000Z' })
  observedAt!: string;

  @Id({ description: 'Who did it.', example: ID })
  doneBy!: string;

  @YesNo({ description: 'Entered more than an hour after it was done.', example: false })
  late!: boolean;

  @Text({ description: 'What was looked at.', example: 'wall thickness', max: 80 })
  characteristic!: string;

  @Text({ description: 'What was measured, with its unit.', example: '4.97 mm', max: 80, optional: true })
  measured!: string | null;

  @Text({ description: "The inspector's verdict.", example: 'accepted', max: 40 })
  verdict!: string;

  @YesNo({ description: 'Beyond its limit.', example: false })
  outOfSpecification!: boolean;

  @Text({ description: 'What the inspected surface faces here.', example: 'between the walls', max: 40, optional: true })
  facing!: string | null;

  @Computed({ description: 'Clock position for a viewer looking down the hole, hours.', example: 3.5, optional: true })
  clockHoursDownHole!: number | null;
}

export class NonconformanceOnWall {
  @Part({ description: 'The nonconformance.', of: () => RecordLink })
  nonconformance!: RecordLink;

  @Text({ description: 'Its title.', example: 'Wall below minimum', max: 200 })
  title!: string;

  @Text({ description: 'Its severity.', example: 'major', max: 20 })
  severity!: string;

  @Text({ description: 'Where it stands.', example: 'open', max: 40 })
  stage!: string;

  @Text({ description: 'Why it concerns this interval.', example: 'its footage', max: 200 })
  through!: string;

  @Parts({ description: 'The depths of it on this wall inside the asked interval.', of: () => IntervalAnswer, max: 1000 })
  md!: IntervalAnswer[];
}

/** Evidence that one would look for and that is not on record. Never the same as a clean result. */
export class MissingEvidence {
  @Text({ description: 'What is missing.', example: 'visual inspection', max: 80 })
  what!: string;

  @Text({ description: 'In words.', example: 'No visual inspection entry covers this stretch.', max: 400 })
  detail!: string;

  @Part({ description: 'Where, by depth on this wall, mm; absent when it concerns the whole.', of: () => IntervalAnswer, optional: true })
  md!: IntervalAnswer | null;

  @Part({ description: 'Where, by footage, mm.', of: () => IntervalAnswer, optional: true })
  footage!: IntervalAnswer | null;
}

export class BeyondAnswer {
  @Part({ description: 'The part of the asked depths that this wall does not reach.', of: () => IntervalAnswer })
  md!: IntervalAnswer;

  @Choice({ description: 'Why.', example: 'below-the-shoe', of: ['above-the-hang-off', 'below-the-shoe', 'not-on-this-wall'] })
  why!: string;
}

export class WallAnswer {
  @Choice({ description: 'outer: still against the rock; inner: feeding the fold.', example: 'outer', of: ['outer', 'inner'] })
  wall!: 'outer' | 'inner';

  @Parts({ description: 'Stretches of pipe, from the top down.', of: () => SegmentAnswer, max: 10000 })
  segments!: SegmentAnswer[];

  @Parts({ description: 'Splices.', of: () => SpliceOnWall, max: 10000 })
  splices!: SpliceOnWall[];

  @Parts({ description: 'Cut-outs within 10 m.', of: () => CutNearby, max: 10000 })
  cutOuts!: CutNearby[];

  @Parts({ description: 'Inspection entries.', of: () => InspectionOnWall, max: 10000 })
  inspections!: InspectionOnWall[];

  @Parts({ description: 'Nonconformances.', of: () => NonconformanceOnWall, max: 10000 })
  nonconformances!: NonconformanceOnWall[];

  @Parts({ description: 'What evidence is missing.', of: () => MissingEvidence, max: 10000 })
  missing!: MissingEvidence[];

  @Parts({ description: 'Asked depths that this wall does not reach.', of: () => BeyondAnswer, max: 1000 })
  beyond!: BeyondAnswer[];
}

export class ShoeAnswer {
  @Computed({ description: 'Measured depth of the fold, mm.', example: 598_300 })
  mdMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 210 })
  mdPlusMinusMm!: number;

  @Text({ description: 'What it rests on.', example: 'past the last tie (default ratio)', max: 80 })
  basis!: string;

  @When({ description: 'The time it is for; absent when a depth was asked.', example: '2026-03-12T16:00:00.000000Z', optional: true })
  at!: string | null;
}

export class TraceStringAnswer extends RecordLink {
  @Part({ description: 'The well.', of: () => RecordLink })
  well!: RecordLink;

  @Text({ description: 'Where measured depth is zero.', example: 'Top of the guide frame', max: 200 })
  datum!: string;
}

export class AskedAnswer {
  @Choice({ description: 'The measure asked in.', example: 'md', of: ['md', 'tvd', 'footage'] })
  by!: 'md' | 'tvd' | 'footage';

  @Part({ description: 'The interval asked, mm.', of: () => IntervalAnswer })
  interval!: IntervalAnswer;

  @Parts({ description: 'The measured depths it means; several for one vertical interval.', of: () => IntervalAnswer, max: 1000 })
  md!: IntervalAnswer[];

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;
}

export class ElsewhereAnswer {
  @Part({ description: 'Asked footage that stands on neither wall.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Choice({
    description: 'Where it is instead; unknown while no counter was read.', example: 'on-the-line',
    of: ['unknown', 'not-yet-made', 'on-the-line', 'inner-wall', 'outer-wall', 'lead-end', 'cut-out'],
  })
  place!: string;
}

/** What stands there, in both walls. */
export class TraceAnswer {
  @Part({ description: 'The string.', of: () => TraceStringAnswer })
  string!: TraceStringAnswer;

  @Part({ description: 'What was asked.', of: () => AskedAnswer })
  asked!: AskedAnswer;

  @Part({ description: 'The fold.', of: () => ShoeAnswer })
  shoe!: ShoeAnswer;

  @Parts({ description: 'The outer and the inner wall.', of: () => WallAnswer, max: 2 })
  walls!: WallAnswer[];

  @Parts({ description: 'Asked footage that is on neither wall.', of: () => ElsewhereAnswer, max: 1000 })
  elsewhere!: ElsewhereAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['Depth is an estimate: mind ± and datum before anyone perforates, sets or cuts.'], max: 20, each: 500 })
  cautions!: string[];

  @Parts({ description: 'Each step with its inputs and their records, when asked for.', of: () => ExplanationStepAnswer, max: 1000, optional: true })
  explanation!: ExplanationStepAnswer[] | null;
}
