import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { ExplanationStepAnswer } from '../trace/explanation.dto.js';
import { FacingAnswer, RecordLink, ShoeAnswer, TraceStringAnswer } from '../trace/trace.dto.js';

export const PLACES = ['not-yet-made', 'on-the-line', 'inner-wall', 'outer-wall', 'lead-end', 'cut-out'] as const;

/** A station that a metre on the line has still to pass. */
export class StationAhead {
  @Text({ description: 'The station.', example: 'wall gauge', max: 60 })
  name!: string;

  @YesNo({ description: 'It is where the pipe hangs in the well: past it nothing more can be done.', example: false })
  isHangOff!: boolean;

  @Computed({ description: 'Best estimate of the distance, mm.', example: 4_180 })
  bestMm!: number;

  @Computed({ description: 'Least distance over the range of the path, mm.', example: 4_180 })
  leastMm!: number;

  @Computed({ description: 'Greatest distance over the range of the path, mm.', example: 4_180 })
  mostMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of each of the three, mm.', example: 12 })
  plusMinusMm!: number;
}

export class OnTheLineAnswer {
  @Computed({ description: 'Distance past the weld point, mm; negative after a reversal.', example: 2_020 })
  pathMm!: number;

  @Parts({ description: 'The stations ahead, nearest first.', of: () => StationAhead, max: 100 })
  toStations!: StationAhead[];
}

export class OnTheWallAnswer {
  @Computed({ description: 'Measured depth, mm.', example: 212_000 })
  mdMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 182 })
  mdPlusMinusMm!: number;

  @Text({ description: 'What the depth rests on.', example: 'between ties', max: 80 })
  basis!: string;

  @Computed({ description: 'True vertical depth, mm; absent where no survey reaches.', example: 155_208, optional: true })
  tvdMm!: number | null;

  @Text({ description: 'Where measured depth is zero.', example: 'Top of the guide frame', max: 200 })
  datum!: string;

  @Part({ description: 'Which surface faces what.', of: () => FacingAnswer })
  facing!: FacingAnswer;
}

export class LeadEndAnswer {
  @Computed({ description: 'Net length above the hang-off, mm; absent before the string is hung off.', example: 640, optional: true })
  aboveHangOffMm!: number | null;
}

/** What the metre was made of. */
export class MadeOfAnswer {
  @Part({ description: 'The coil segment that says so.', of: () => RecordLink })
  segment!: RecordLink;

  @Part({ description: 'The coil.', of: () => RecordLink })
  coil!: RecordLink;

  @Part({ description: 'Its heat.', of: () => RecordLink })
  heat!: RecordLink;

  @Part({ description: 'Its certificate.', of: () => RecordLink, optional: true })
  certificate!: RecordLink | null;

  @Computed({ description: 'Position on the strip, from the head of the coil, mm.', example: 64_180 })
  stripMm!: number;

  @Choice({ description: 'Which end of the coil led.', example: 'head-first', of: ['head-first', 'tail-first'] })
  runs!: 'head-first' | 'tail-first';
}

export class WhereaboutsAsked {
  @Computed({ description: 'The footage, mm.', example: 212_000 })
  footageMm!: number;

  @When({ description: 'The time it is answered for; absent when a shoe depth was asked.', example: '2026-03-12T16:00:00.000000Z', optional: true })
  at!: string | null;

  @Computed({ description: 'The shoe depth asked, mm.', example: null, optional: true })
  shoeMdMm!: number | null;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;
}

/** Where one metre of pipe is. */
export class WhereaboutsAnswer {
  @Part({ description: 'The string.', of: () => TraceStringAnswer })
  string!: TraceStringAnswer;

  @Part({ description: 'What was asked.', of: () => WhereaboutsAsked })
  asked!: WhereaboutsAsked;

  @Choice({ description: 'The one place where it is.', example: 'outer-wall', of: PLACES })
  place!: (typeof PLACES)[number];

  @Computed({ description: 'Pipe still to be made before it, mm; only for not-yet-made.', example: null, optional: true })
  toMakeMm!: number | null;

  @Part({ description: 'Only for on-the-line.', of: () => OnTheLineAnswer, optional: true })
  onTheLine!: OnTheLineAnswer | null;

  @Part({ description: 'Only on a wall.', of: () => OnTheWallAnswer, optional: true })
  onTheWall!: OnTheWallAnswer | null;

  @Part({ description: 'Only for lead-end.', of: () => LeadEndAnswer, optional: true })
  leadEnd!: LeadEndAnswer | null;

  @Part({ description: 'The cut-out that took it; only for cut-out.', of: () => RecordLink, optional: true })
  cutOut!: RecordLink | null;

  @Part({ description: 'The fold, when it was needed to tell.', of: () => ShoeAnswer, optional: true })
  shoe!: ShoeAnswer | null;

  @Part({ description: 'What it was made of; absent where no coil segment says so.', of: () => MadeOfAnswer, optional: true })
  madeOf!: MadeOfAnswer | null;

  @Texts({ description: 'What to bear in mind.', example: ['Depth is an estimate: mind ± and datum before anyone perforates, sets or cuts.'], max: 20, each: 500 })
  cautions!: string[];

  @Parts({ description: 'Each step with its inputs and their records, when asked for.', of: () => ExplanationStepAnswer, max: 1000, optional: true })
  explanation!: ExplanationStepAnswer[] | null;
}
