import { Choice, Id, Part, Parts, Text, Texts, YesNo } from '../http/fields.js';
import { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import { QualifiedAnswer } from '../qualified/qualified.dto.js';
import { RecordLink } from '../trace/trace.dto.js';

export const WORK_ROLES = ['doer', 'examiner', 'operator', 'inspector'] as const;
export const WORK_OPEN_ABOUT = ['record', 'procedure', 'person', 'instrument'] as const;

/** A person who had a part in the work. */
export class WorkPersonAnswer {
  @Choice({ description: 'The part.', example: 'examiner', of: WORK_ROLES })
  role!: (typeof WORK_ROLES)[number];

  @Text({ description: 'What the person did, in words.', example: 'examinations[0], RT by RT-02 rev 3', max: 200 })
  did!: string;

  @Id({ description: 'The person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  personId!: string;

  @YesNo({ description: 'The record names the person for this; false: it names nobody, and who did the step is taken instead, which stays open.', example: true })
  isNamed!: boolean;

  @Part({ description: 'Whether the person was qualified for it that day; absent where the record states no method that a qualification could be held against.', of: () => QualifiedAnswer, optional: true })
  standing!: QualifiedAnswer | null;
}

/** Something that the work does not rest on as it should. */
export class WorkOpenPoint {
  @Choice({ description: 'What it is about.', example: 'person', of: WORK_OPEN_ABOUT })
  about!: (typeof WORK_OPEN_ABOUT)[number];

  @Text({ description: 'In words.', example: 'examinations[0], RT by RT-02 rev 3, names no examiner', max: 4200 })
  words!: string;
}

/** What the checks of all work have in common. */
export class WorkCheckPart {
  @Parts({ description: 'Who had a part in it.', of: () => WorkPersonAnswer, max: 100 })
  persons!: WorkPersonAnswer[];

  @Parts({ description: 'Whether the instruments were good that day.', of: () => InstrumentStandingAnswer, max: 100 })
  instruments!: InstrumentStandingAnswer[];

  @YesNo({ description: 'Nothing is open. What the remarks name was held against nothing.', example: false })
  isProved!: boolean;

  @Parts({ description: 'What is open.', of: () => WorkOpenPoint, max: 400 })
  open!: WorkOpenPoint[];

  @Texts({ description: 'What was not asked for, and why.', example: ['examinations[0], RT by RT-02 rev 3: the record asks for no level, so a qualification of any level was taken to do'], max: 100, each: 500 })
  remarks!: string[];

  @Text({ description: 'What this answer is, and is not.', example: 'It shows who and what is on record as good that day, not whether the result is right.', max: 400 })
  caution!: string;
}

/** What a step of a splice rests on. */
export class SpliceStepCheckAnswer extends WorkCheckPart {
  @Part({ description: 'The step.', of: () => RecordLink })
  step!: RecordLink;
}

/** What a seam event rests on. */
export class SeamEventCheckAnswer extends WorkCheckPart {
  @Part({ description: 'The event.', of: () => RecordLink })
  event!: RecordLink;

  @Part({ description: 'The procedure.', of: () => RecordLink })
  procedure!: RecordLink;
}

/** What an examination rests on. */
export class ExaminationCheckAnswer extends WorkCheckPart {
  @Part({ description: 'The examination.', of: () => RecordLink })
  examination!: RecordLink;
}

/** What a repair rests on. */
export class RepairCheckAnswer extends WorkCheckPart {
  @Part({ description: 'The repair.', of: () => RecordLink })
  repair!: RecordLink;

  @Part({ description: 'The procedure that it was welded by.', of: () => RecordLink, optional: true })
  procedure!: RecordLink | null;
}

/** What an inspection rests on. */
export class InspectionCheckAnswer extends WorkCheckPart {
  @Part({ description: 'The inspection.', of: () => RecordLink })
  inspection!: RecordLink;
}
