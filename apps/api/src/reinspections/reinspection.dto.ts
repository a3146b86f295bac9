import { OPEN_REASONS } from '#libs/reinspection';
import { Choice, Choices, Id, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { REPAIR_METHODS, RepairAnswer } from '../repairs/repair.dto.js';
import { EXAMINATION_METHODS, STEP_OUTCOMES } from '../splice-steps/splice-step.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

const REASONS = [...OPEN_REASONS, 'beyond-limit'] as const;
const MOST = 100_000;

/** An examination or inspection of the repaired pipe. */
export class LookAtRepairAnswer {
  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;

  @Text({ description: 'The method, or the kind of inspection with its characteristic.', example: 'UT', max: 200 })
  method!: string;

  @Text({ description: 'The technique.', example: 'UT-04 rev 2', max: 80, optional: true })
  technique!: string | null;

  @Text({ description: 'The reference reflector and its size, as stated.', example: 'notch-outside 0.50 mm', max: 80, optional: true })
  sensitivity!: string | null;

  @Choice({ description: 'The result.', example: 'accepted', of: STEP_OUTCOMES })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Choices({ description: 'Methods that it stands in for.', example: [], of: EXAMINATION_METHODS, max: 10 })
  standsInFor!: string[];

  @Text({ description: 'Why it stands in for them; by whose word, its record says.', example: null, max: 2000, optional: true })
  standIn!: string | null;

  @When({ description: 'When.', example: '2026-03-02T11:40:00.000000Z' })
  at!: string;

  @Id({ description: 'By whom.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  doneBy!: string;

  @Parts({ description: 'The footage of the repair that it was of.', of: () => IntervalAnswer, max: MOST })
  on!: IntervalAnswer[];

  @Parts({ description: 'The footage on which it still counts, over all repairs of the string.', of: () => IntervalAnswer, max: MOST })
  countsOn!: IntervalAnswer[];
}

/** Something open after a repair. */
export class OpenAfterRepairAnswer {
  @Choice({
    description:
      'not-looked-at: not for flaws since; not-repeated: a method used before and not since; not-stated, not-comparable, less-sensitive: used since, but not '
      + 'as sensitively as far as anybody can tell; held; rejected; beyond-limit: of the repair itself.',
    example: 'not-looked-at', of: REASONS,
  })
  reason!: (typeof REASONS)[number];

  @Parts({ description: 'The footage.', of: () => IntervalAnswer, max: MOST })
  on!: IntervalAnswer[];

  @Text({ description: 'The same in words.', example: '212100 to 212200 mm: not looked at for flaws since', max: 4000 })
  words!: string;

  @Parts({ description: 'Records from before that ask for more; of pipe not looked at since, all of them.', of: () => RecordLink, max: MOST })
  before!: RecordLink[];

  @Parts({ description: 'Records since that fall short, hold or reject.', of: () => RecordLink, max: MOST })
  since!: RecordLink[];
}

/** A later repair of the same pipe, or a weld of its splice or re-join. */
export class ChangedAgainAnswer {
  @Part({ description: 'The later repair or weld. What is open on this footage is told of the later repair; of a weld it is told here as well, as changed again by it.', of: () => RecordLink })
  by!: RecordLink;

  @Parts({ description: 'The footage.', of: () => IntervalAnswer, max: MOST })
  on!: IntervalAnswer[];
}

/** What a repair took from earlier results, what was looked at since, and what is open. */
export class ReinspectionAnswer {
  @Part({ description: 'The repair.', of: () => RepairAnswer })
  repair!: RepairAnswer;

  @Parts({ description: 'The footage that this repair was the last to change, and that is still in the string.', of: () => IntervalAnswer, max: MOST })
  standing!: IntervalAnswer[];

  @Parts({ description: 'What was looked at before: on the footage of the repair it counts no more, beside it it does.', of: () => LookAtRepairAnswer, max: MOST })
  noLongerCount!: LookAtRepairAnswer[];

  @Parts({ description: 'What was looked at since, and since a weld made again over it. Of two that disagree both are shown, and the later does not undo a rejection.', of: () => LookAtRepairAnswer, max: MOST })
  since!: LookAtRepairAnswer[];

  @Parts({ description: 'Later repairs of the same pipe, and welds of its splices and re-joins made again.', of: () => ChangedAgainAnswer, max: MOST })
  changedAgain!: ChangedAgainAnswer[];

  @Parts({ description: 'What is open.', of: () => OpenAfterRepairAnswer, max: MOST })
  open!: OpenAfterRepairAnswer[];

  @Text({ description: 'What this answer is, and is not.', example: 'A comparison of records, not a release.', max: 800 })
  caution!: string;
}

/** A repair in few words. */
export class RepairStateAnswer {
  @Part({ description: 'The repair.', of: () => RecordLink })
  repair!: RecordLink;

  @Choice({ description: 'How it was repaired.', example: 'grinding', of: REPAIR_METHODS })
  method!: (typeof REPAIR_METHODS)[number];

  @When({ description: 'When.', example: '2026-03-02T11:20:00.000000Z' })
  at!: string;

  @Id({ description: 'By whom.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  doneBy!: string;

  @Parts({ description: 'The footage.', of: () => IntervalAnswer, max: MOST })
  on!: IntervalAnswer[];

  @YesNo({ description: 'Nothing is open after it.', example: false })
  isClosed!: boolean;

  @Texts({ description: 'What is open.', example: ['212100 to 212200 mm: not looked at for flaws since'], max: MOST, each: 4000 })
  open!: string[];
}

/** All repairs of a string. */
export class StringRepairsAnswer {
  @Parts({ description: 'The repairs, in the order in which they were made.', of: () => RepairStateAnswer, max: MOST })
  repairs!: RepairStateAnswer[];

  @Parts({ description: 'The footage on which something is open after a repair.', of: () => IntervalAnswer, max: MOST })
  openOn!: IntervalAnswer[];

  @Text({ description: 'What this answer is, and is not.', example: 'A comparison of records, not a release.', max: 800 })
  caution!: string;
}
