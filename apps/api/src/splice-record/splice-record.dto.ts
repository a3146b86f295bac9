import { ExaminationAnswer } from '../examinations/examination.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts } from '../http/fields.js';
import { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import { SpliceArrivalAnswer, StringSpliceCount } from '../splice-arrivals/splice-arrivals.dto.js';
import { SPLICE_STAGES, SpliceStepAnswer, STEP_OUTCOMES } from '../splice-steps/splice-step.dto.js';
import { SpliceAnswer } from '../splices/splice.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { WeldAnswer } from '../welds/weld.dto.js';

const STAGE_STATES = [...STEP_OUTCOMES, 'missing'] as const;

export class StageStateAnswer {
  @Choice({ description: 'The stage.', example: 'flat-strip-release', of: SPLICE_STAGES })
  stage!: (typeof SPLICE_STAGES)[number];

  @Choice({ description: 'By its last step; of sightings by the gravest of the last at each station.', example: 'accepted', of: STAGE_STATES })
  state!: (typeof STAGE_STATES)[number];
}

/** Where an end of the splice meets the seam: two welds cross there. */
export class SeamJunctionAnswer {
  @Computed({ description: 'Footage, mm.', example: 212_000 })
  footageMm!: number;

  @Choice({ description: 'The edge of the strip, seen on the formed outside looking towards the lead end.', example: 'left', of: ['left', 'right'] })
  edge!: 'left' | 'right';
}

/** All that is on record of a splice. */
export class SpliceRecordAnswer {
  @Part({ description: 'The splice.', of: () => SpliceAnswer })
  splice!: SpliceAnswer;

  @Part({ description: 'The coil that ends here.', of: () => RecordLink })
  leavingCoil!: RecordLink;

  @Part({ description: 'The coil that begins here.', of: () => RecordLink })
  enteringCoil!: RecordLink;

  @Computed({ description: 'Length of the weld across the entering strip, w/sin α, mm.', example: 541.64 })
  weldLengthMm!: number;

  @Computed({ description: 'Pipe from one end of it to the other, w/tan α, mm; heat-affected zone and planishing come on top.', example: 383 })
  pipeLengthMm!: number;

  @Parts({ description: 'Where it meets the seam.', of: () => SeamJunctionAnswer, max: 2 })
  seamJunctions!: SeamJunctionAnswer[];

  @Part({ description: 'Where it was to come and was seen: its gate by strip length, and every station.', of: () => SpliceArrivalAnswer, optional: true })
  arrival!: SpliceArrivalAnswer | null;

  @Text({ description: 'Why that cannot be told.', example: null, max: 1000, optional: true })
  arrivalBecause!: string | null;

  @Parts({ description: 'Its pipe that is still in the string. Of what was cut out nothing is asked any more.', of: () => IntervalAnswer, max: 10_000 })
  standing!: IntervalAnswer[];

  @Parts({ description: 'The stages.', of: () => StageStateAnswer, max: 4 })
  stages!: StageStateAnswer[];

  @Parts({ description: 'The steps, in the order in which they were done.', of: () => SpliceStepAnswer, max: 500 })
  steps!: SpliceStepAnswer[];

  @Parts({ description: 'The welds, in the order in which they were made.', of: () => WeldAnswer, max: 500 })
  welds!: WeldAnswer[];

  @Parts({ description: 'Examinations of it, or over it, by when they were made.', of: () => ExaminationAnswer, max: 10_000 })
  examinations!: ExaminationAnswer[];

  @Parts({ description: 'Repairs of it, or over it, each with what is open after it.', of: () => RepairStateAnswer, max: 10_000 })
  repairs!: RepairStateAnswer[];

  @Part({ description: 'Splices against coils, on the whole string.', of: () => StringSpliceCount })
  count!: StringSpliceCount;

  @Texts({ description: 'What is open; welds and steps that are not proved are named with the check that says why.', example: ['after-forming is missing'], max: 100_000, each: 5000 })
  open!: string[];

  @Text({ description: 'What this answer is, and is not.', example: 'A record, not a release.', max: 400 })
  caution!: string;
}
