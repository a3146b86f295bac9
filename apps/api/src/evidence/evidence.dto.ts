import { EVIDENCE_STATES, SAYINGS, type EvidenceState, type Saying } from '#libs/evidence';
import { EVIDENCE_DEMANDS, PLAN_SCOPES, type EvidenceDemand, type PlanScope } from '../control-plans/control-plan-item.js';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Choice, Computed, Figures, Part, Parts, Text, Texts, When, Whole, YesNo } from '../http/fields.js';
import { NotLocatedAnswer } from '../recall/recall.dto.js';
import { IntervalAnswer, RecordLink, ShoeAnswer } from '../trace/trace.dto.js';

const MOST = 1_000_000;
export const STATES_WORDS =
  'From worst to best. failed: a record speaks against it; missing: nothing on record shows it; suspect: in doubt; provisional: shown, and a later check may undo it; '
  + 'conceded: somebody answers for what is not shown; confirmed: shown; not-required: the plan does not ask for it there.';

/** Pipe in one state. */
export class EvidenceStateMetres {
  @Choice({ description: STATES_WORDS, example: 'missing', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @Part({ description: 'The metres.', of: () => MetresAnswer })
  metres!: MetresAnswer;
}

/** A control plan with the pipe that it holds for. */
export class EvidencePlanAnswer {
  @Part({ description: 'The plan.', of: () => RecordLink })
  plan!: RecordLink;

  @Part({ description: 'The pipe that it holds for.', of: () => MetresAnswer })
  pipe!: MetresAnswer;
}

/** What a record, or the absence of any, says of pipe. */
export class TestimonyAnswer extends IntervalAnswer {
  @Choice({ description: 'failed and suspect speak against the pipe, provisional and confirmed for it; waived stands in where they do not; awaited says why nothing can be there yet.', example: 'confirmed', of: SAYINGS })
  says!: Saying;

  @Text({ description: 'In words.', example: 'UT-wall: inspected between two reference checks that passed', max: 1000 })
  because!: string;

  @Parts({ description: 'The records that say so; none where the absence of any says it.', of: () => RecordLink, max: 10_000 })
  records!: readonly RecordLink[];

  @When({ description: 'When the last of them was entered.', example: '2026-03-02T12:05:00.000000Z', optional: true })
  enteredAt!: string | null;
}

/** Pipe in one state for one item. */
export class EvidenceStretchAnswer extends IntervalAnswer {
  @Choice({ description: STATES_WORDS, example: 'confirmed', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @YesNo({ description: 'What makes the state was entered only after this pipe had passed the hang-off.', example: false })
  late!: boolean;

  @Choice({ description: 'Of what is conceded: what it would be without.', example: null, of: EVIDENCE_STATES, optional: true })
  otherwise!: EvidenceState | null;

  @Figures({ description: 'The testimonies that decide, as places in the list of the item, from 0.', example: [0], max: MOST })
  by!: number[];
}

/** An item of a control plan and what it comes to. */
export class EvidenceItemAnswer {
  @Part({ description: 'The plan; null for holds, which stand whatever the plan.', of: () => RecordLink, optional: true })
  plan!: RecordLink | null;

  @Text({ description: 'Its code in the plan; "hold" for holds.', example: 'UT-1', max: 20 })
  code!: string;

  @Text({ description: 'The clause of the plan.', example: '5.2', max: 200, optional: true })
  clause!: string | null;

  @Choice({ description: 'What it demands.', example: 'channel-inspected', of: EVIDENCE_DEMANDS, optional: true })
  demands!: EvidenceDemand | null;

  @Choice({ description: 'Where.', example: 'pipe', of: PLAN_SCOPES, optional: true })
  at!: PlanScope | null;

  @Parts({ description: 'The pipe asked for, state by state, worst first.', of: () => EvidenceStateMetres, max: EVIDENCE_STATES.length })
  states!: EvidenceStateMetres[];

  @Parts({ description: 'The same in order of footage.', of: () => EvidenceStretchAnswer, max: MOST })
  stretches!: EvidenceStretchAnswer[];

  @Parts({ description: 'What records say of it.', of: () => TestimonyAnswer, max: MOST })
  testimonies!: TestimonyAnswer[];
}

/** Pipe by the worst that any item comes to. */
export class EvidenceVerdictAnswer extends IntervalAnswer {
  @Choice({ description: STATES_WORDS, example: 'missing', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @YesNo({ description: 'Something that was shown of it came only after it had passed the hang-off.', example: false })
  late!: boolean;

  @Texts({ description: 'The codes of the items that come to it; none where no control plan holds.', example: ['UT-1'], max: 200, each: 20 })
  items!: string[];
}

/** The same of a wall, by depth. */
export class EvidenceOnWallStretch {
  @Computed({ description: 'Measured depth of the upper end, mm.', example: 212_000 })
  mdFromMm!: number;

  @Computed({ description: 'Measured depth of the lower end, mm.', example: 214_500 })
  mdToMm!: number;

  @Computed({ description: 'How far the upper end may be off, mm (k = 2).', example: 310 })
  fromPlusMinusMm!: number;

  @Computed({ description: 'How far the lower end may be off, mm (k = 2).', example: 312 })
  toPlusMinusMm!: number;

  @Part({ description: 'The pipe, as footage.', of: () => EvidenceVerdictAnswer })
  pipe!: EvidenceVerdictAnswer;
}

export class EvidenceOnWall {
  @Choice({ description: 'Which wall.', example: 'outer', of: ['outer', 'inner'] })
  wall!: 'outer' | 'inner';

  @Parts({ description: 'By depth, from above.', of: () => EvidenceOnWallStretch, max: MOST })
  stretches!: EvidenceOnWallStretch[];
}

/** The evidence for pipe of a string. */
export class EvidenceAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; now when null.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'The pipe asked for: made, and not cut out.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Parts({ description: 'The control plans that hold for it.', of: () => EvidencePlanAnswer, max: 1000 })
  plans!: EvidencePlanAnswer[];

  @Parts({ description: 'The verdict, state by state, worst first.', of: () => EvidenceStateMetres, max: EVIDENCE_STATES.length })
  states!: EvidenceStateMetres[];

  @Parts({ description: 'The verdict along the pipe.', of: () => EvidenceVerdictAnswer, max: MOST })
  verdict!: EvidenceVerdictAnswer[];

  @Parts({ description: 'Item by item.', of: () => EvidenceItemAnswer, max: 10_000 })
  items!: EvidenceItemAnswer[];

  @Parts({ description: 'The verdict on both walls, by depth; none where nothing stands in the well.', of: () => EvidenceOnWall, max: 2 })
  walls!: EvidenceOnWall[];

  @Part({ description: 'The shoe by which the walls are told.', of: () => ShoeAnswer, optional: true })
  shoe!: ShoeAnswer | null;

  @Part({ description: 'Why no depth is told.', of: () => NotLocatedAnswer, optional: true })
  notLocated!: NotLocatedAnswer | null;

  @Whole({ description: 'Of the pipe asked for, how much no control plan holds for, mm.', example: 0, min: 0, max: 100_000_000, unit: 'mm' })
  withoutPlanMm!: number;

  @Texts({ description: 'What to keep in mind.', example: ['Evidence that is missing is not a clean result.'], max: 20, each: 1000 })
  cautions!: string[];
}
