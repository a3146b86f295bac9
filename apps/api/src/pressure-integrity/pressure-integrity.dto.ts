import { COLLAPSE_REGIMES } from '#libs/ratings';
import { Choice, Computed, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { ExplanationStepAnswer } from '../trace/explanation.dto.js';
import { BeyondAnswer, IntervalAnswer, RecordLink, ShoeAnswer, TraceStringAnswer } from '../trace/trace.dto.js';
import { PRESSURE_MEASURES, WALLS } from './pressure-question.js';

/** Where pipe stands on its wall. */
export class PressureDepth {
  @Computed({ description: 'Measured depth of the upper end, mm.', example: 212_000 })
  fromMm!: number;

  @Computed({ description: 'Measured depth of the lower end, mm; not part of it. The same as the upper one for less than half a millimetre.', example: 222_000 })
  toMm!: number;

  @Computed({ description: 'Widest expanded uncertainty (k = 2) of both, mm.', example: 184 })
  plusMinusMm!: number;
}

/** A number that ratings rest on. */
export class PressureInputAnswer {
  @Text({ description: 'As plain decimal text.', example: '4.87', max: 60 })
  value!: string;

  @Text({ description: 'Its unit; absent for a ratio.', example: 'mm', max: 10, optional: true })
  unit!: string | null;

  @Text({ description: 'What kind of number it is.', example: 'measured minimum', max: 60 })
  basis!: string;

  @Text({ description: 'What it is.', example: 'least wall read', max: 200 })
  what!: string;

  @Part({ description: 'The record that says it.', of: () => RecordLink, optional: true })
  record!: RecordLink | null;

  @Part({ description: 'Footage at which it was read, or within which it was; absent where it stands for all of its pipe.', of: () => IntervalAnswer, optional: true })
  readAt!: IntervalAnswer | null;
}

export class PressureInputsAnswer {
  @Part({ description: 'Outside diameter of the pipe as formed.', of: () => PressureInputAnswer, optional: true })
  outsideDiameterMm!: PressureInputAnswer | null;

  @Part({ description: 'Least measured wall of the pipe as formed.', of: () => PressureInputAnswer, optional: true })
  wallThicknessMm!: PressureInputAnswer | null;

  @Part({ description: 'Yield strength, and which one it is.', of: () => PressureInputAnswer, optional: true })
  yieldMpa!: PressureInputAnswer | null;

  @Part({ description: 'κ, for the outer wall alone.', of: () => PressureInputAnswer, optional: true })
  kappa!: PressureInputAnswer | null;

  @Part({ description: 'λ, for the outer wall alone.', of: () => PressureInputAnswer, optional: true })
  lambda!: PressureInputAnswer | null;
}

/** The outer wall after the fold. */
export class FoldedWallAnswer {
  @Computed({ description: 't/(κ λ), mm.', example: 4.262 })
  wallThicknessMm!: number;

  @Computed({ description: 'Its expanded uncertainty (k = 2) by κ and λ alone, mm; null where one of them has none.', example: 0.08, optional: true })
  wallPlusMinusMm!: number | null;

  @Computed({ description: 'κ (D − t) + t/(κ λ), mm.', example: 145.938 })
  outsideDiameterMm!: number;

  @Computed({ description: 'Its expanded uncertainty (k = 2) by κ and λ alone, mm; null where one of them has none.', example: 2.36, optional: true })
  diameterPlusMinusMm!: number | null;
}

/** The D/t at which one formula ends and the next begins. */
export class CollapseLimitsAnswer {
  @Computed({ description: 'Yield to plastic collapse.', example: 14.8 })
  yieldToPlastic!: number;

  @Computed({ description: 'Plastic to transition collapse.', example: 25 })
  plasticToTransition!: number;

  @Computed({ description: 'Transition to elastic collapse.', example: 37.2 })
  transitionToElastic!: number;
}

/** One pressure, or why there is none. */
export class RatingAnswer {
  @Computed({ description: 'MPa, not rounded; advisory. Null where it is not computable.', example: 24.6, optional: true })
  pressureMpa!: number | null;

  @Text({ description: 'psi, as tables of ratings print it: to 10.', example: '3570', max: 20, optional: true })
  tablePsi!: string | null;

  @Text({ description: 'Why it is not computable; absent where it is.', example: null, max: 1000, optional: true })
  because!: string | null;

  @Text({ description: 'The formula.', example: 'p = Y (A/x − B) − C', max: 200, optional: true })
  formula!: string | null;

  @Text({ description: 'Where it comes from.', example: 'API Bull. 5C3 (1985), kept in API TR 5C3 / ISO/TR 10400 as the historic API collapse formulas (clause numbers not checked)', max: 400, optional: true })
  source!: string | null;

  @Choice({ description: 'Of collapse alone: which formula holds.', example: 'plastic', of: COLLAPSE_REGIMES, optional: true })
  regime!: (typeof COLLAPSE_REGIMES)[number] | null;

  @Computed({ description: 'Of collapse alone: D/t.', example: 24.4, optional: true })
  dOverT!: number | null;

  @Part({ description: 'Of collapse alone: where one formula ends and the next begins, for this yield strength.', of: () => CollapseLimitsAnswer, optional: true })
  limits!: CollapseLimitsAnswer | null;

  @Parts({ description: 'Each step, where explain=true was asked.', of: () => ExplanationStepAnswer, max: 20, optional: true })
  explanation!: ExplanationStepAnswer[] | null;
}

/** A stretch of one wall with one set of inputs. */
export class RatedIntervalAnswer {
  @Part({ description: 'Its footage.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Part({ description: 'Where it stands.', of: () => PressureDepth })
  md!: PressureDepth;

  @Part({ description: 'The coil it was made of.', of: () => RecordLink, optional: true })
  coil!: RecordLink | null;

  @Parts({ description: 'The splices whose metal it is; welds are not in the formulas.', of: () => RecordLink, max: 100 })
  splices!: RecordLink[];

  @Part({ description: 'What it rests on.', of: () => PressureInputsAnswer })
  inputs!: PressureInputsAnswer;

  @Part({ description: 'The wall after the fold; absent for the inner wall, and where it cannot be told.', of: () => FoldedWallAnswer, optional: true })
  folded!: FoldedWallAnswer | null;

  @Texts({ description: 'What is assumed here.', example: ['The outside diameter is the nominal one.'], max: 10, each: 300 })
  assumed!: string[];

  @Part({ description: 'Internal yield by Barlow, the historic API rating.', of: () => RatingAnswer })
  internalYield!: RatingAnswer;

  @Part({ description: 'Internal pressure at which the bore begins to yield, by Lamé and von Mises without axial force.', of: () => RatingAnswer })
  triaxialInternalYield!: RatingAnswer;

  @Part({ description: 'Collapse by the historic API formulas, without axial force.', of: () => RatingAnswer })
  collapse!: RatingAnswer;
}

/** A number of the weakest pipe. */
export class PressureRestsOnAnswer {
  @Text({ description: 'Which input.', example: 'wall thickness', max: 60 })
  input!: string;

  @Text({ description: 'Its value.', example: '4.61', max: 60 })
  value!: string;

  @Text({ description: 'Its unit; absent for a ratio.', example: 'mm', max: 10, optional: true })
  unit!: string | null;

  @Text({ description: 'What it is.', example: 'least wall read', max: 200 })
  what!: string;

  @Part({ description: 'The record that says it.', of: () => RecordLink, optional: true })
  record!: RecordLink | null;

  @Part({ description: 'Footage at which it was read, or within which it was; absent where it stands for all of its pipe.', of: () => IntervalAnswer, optional: true })
  readAt!: IntervalAnswer | null;
}

export class WeakPlaceAnswer {
  @Part({ description: 'Its footage.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Part({ description: 'Where it stands.', of: () => PressureDepth })
  md!: PressureDepth;
}

/** The lowest rating of one kind. */
export class WeakestAnswer {
  @Computed({ description: 'MPa; null where nothing could be rated.', example: 21.3, optional: true })
  pressureMpa!: number | null;

  @Text({ description: 'psi, to 10.', example: '3090', max: 20, optional: true })
  tablePsi!: string | null;

  @Parts({ description: 'All pipe with this lowest rating.', of: () => WeakPlaceAnswer, max: 10_000 })
  where!: WeakPlaceAnswer[];

  @Parts({ description: 'What it rests on.', of: () => PressureRestsOnAnswer, max: 10_000 })
  restsOn!: PressureRestsOnAnswer[];

  @Computed({ description: 'Pipe without this rating, mm: while there is any, the weakest is the weakest known alone.', example: 0 })
  unratedMm!: number;

  @Text({ description: 'In words.', example: 'collapse of the outer wall: lowest 21.30 MPa (3090 psi) at [212000, 222000) mm; all of the pipe is rated. Advisory.', max: 100_000 })
  words!: string;
}

export class WeakestOfWallAnswer {
  @Part({ description: 'Internal yield by Barlow.', of: () => WeakestAnswer })
  internalYield!: WeakestAnswer;

  @Part({ description: 'Internal yield by Lamé and von Mises.', of: () => WeakestAnswer })
  triaxialInternalYield!: WeakestAnswer;

  @Part({ description: 'Collapse.', of: () => WeakestAnswer })
  collapse!: WeakestAnswer;
}

/** One wall. */
export class WallPressureAnswer {
  @Choice({ description: 'Which wall.', example: 'outer', of: WALLS })
  wall!: (typeof WALLS)[number];

  @Parts({ description: 'From the top down; each metre of the wall that was asked about once.', of: () => RatedIntervalAnswer, max: 1_000_000 })
  intervals!: RatedIntervalAnswer[];

  @Part({ description: 'The weakest of each kind.', of: () => WeakestOfWallAnswer })
  weakest!: WeakestOfWallAnswer;

  @Parts({ description: 'Depths that the wall does not reach.', of: () => BeyondAnswer, max: 2 })
  beyond!: BeyondAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['Computed ratings are advisory. The responsible engineer decides.'], max: 20, each: 500 })
  cautions!: string[];
}

export class PressureAsked {
  @Choice({ description: 'The measure of the interval.', example: 'md', of: PRESSURE_MEASURES })
  by!: (typeof PRESSURE_MEASURES)[number];

  @Part({ description: 'The interval; null for the whole walls.', of: () => IntervalAnswer, optional: true })
  interval!: IntervalAnswer | null;

  @Computed({ description: 'Length of pipe for which one least reading stands, mm.', example: 10_000 })
  windowMm!: number;
}

export class PressureIntegrityAnswer {
  @Part({ description: 'The casing string.', of: () => TraceStringAnswer })
  string!: TraceStringAnswer;

  @Part({ description: 'What was asked.', of: () => PressureAsked })
  asked!: PressureAsked;

  @When({ description: 'As known at this instant.', example: '2026-03-13T12:00:00.000000Z' })
  knownAt!: string;

  @Part({ description: 'The fold.', of: () => ShoeAnswer })
  shoe!: ShoeAnswer;

  @Parts({ description: 'Outer wall, then inner wall.', of: () => WallPressureAnswer, max: 2 })
  walls!: WallPressureAnswer[];

  @Texts({ description: 'By which rules the inputs were chosen, and what is left out.', example: ['The uncertainty of a measured wall is not taken off.'], max: 40, each: 600 })
  rules!: string[];

  @Texts({ description: 'What to keep in mind.', example: ['Computed ratings are advisory. The responsible engineer decides.'], max: 20, each: 500 })
  cautions!: string[];
}
