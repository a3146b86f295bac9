import { Choice, Computed, Id, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { HandoverAcceptanceAnswer } from '../handover-acceptances/handover-acceptance.dto.js';
import { HandoverAnswer } from '../handovers/handover.dto.js';
import { ShiftEventAnswer } from '../shift-events/shift-event.dto.js';
import { ShiftAnswer } from '../shifts/shift.dto.js';
import { RecordLink } from '../trace/trace.dto.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02';

/** One of the crew, by name. */
export class CrewOnShift {
  @Id({ description: 'The person.', example: ID })
  personId!: string;

  @Text({ description: 'By name.', example: 'Ilka Brandt', max: 200 })
  name!: string;

  @Text({ description: 'What the person did in this shift.', example: 'Shift lead', max: 80 })
  duty!: string;

  @Parts({ description: 'Other shifts at the same time that name the person too.', of: () => RecordLink, max: 100, example: [] })
  alsoOn!: RecordLink[];
}

/** Somebody who did something on the string in this time without being of the crew. */
export class NotOfTheCrew {
  @Id({ description: 'The person.', example: ID })
  personId!: string;

  @Text({ description: 'By name.', example: 'Ilka Brandt', max: 200 })
  name!: string;

  @Computed({ description: 'Records that say so.', example: 2 })
  records!: number;
}

/** A stop of the seam weld that fell into the shift, or reached into it. */
export class StopInShift {
  @Part({ description: 'The record of the stop.', of: () => RecordLink })
  event!: RecordLink;

  @When({ description: 'When the line stopped.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Text({ description: 'Why.', example: 'Strip caught at the entry guide', max: 2000 })
  cause!: string;

  @Computed({ description: 'Footage at the weld point, mm.', example: 212_000 })
  footageMm!: number;

  @YesNo({ description: 'It began before the shift.', example: false })
  beganBefore!: boolean;

  @When({ description: 'When the line ran again; absent while that is not recorded.', example: '2026-03-02T08:40:00.000000Z', optional: true })
  until!: string | null;

  @YesNo({ description: 'The line still stood when the shift ended, or stands now.', example: false })
  outlasts!: boolean;
}

/** Records of a kind whose work was done in the shift. */
export class DoneInShift {
  @Text({ description: 'The kind of record.', example: 'inspection', max: 40 })
  kind!: string;

  @Computed({ description: 'How many, withdrawn ones left out.', example: 14 })
  total!: number;

  @Computed({ description: 'Of these, entered after the shift ended.', example: 2 })
  late!: number;

  @Computed({ description: 'How many were withdrawn.', example: 0 })
  withdrawn!: number;
}

/** A record of work in the shift that was entered after the shift ended. */
export class LateInShift {
  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;

  @When({ description: 'When it happened.', example: '2026-03-02T08:15:00.000000Z' })
  observedAt!: string;

  @When({ description: 'When it was first entered.', example: '2026-03-02T21:05:00.000000Z' })
  enteredAt!: string;

  @Id({ description: 'Who did the work.', example: ID })
  doneBy!: string;

  @Text({ description: 'Who did the work, by name.', example: 'Ilka Brandt', max: 200 })
  doneByName!: string;

  @Id({ description: 'Who first keyed it.', example: ID })
  keyedBy!: string;

  @Text({ description: 'Who first keyed it, by name.', example: 'Ilka Brandt', max: 200 })
  keyedByName!: string;
}

/** A handover and what became of it. */
export class HandoverInShift {
  @Part({ description: 'What was handed over.', of: () => HandoverAnswer })
  handover!: HandoverAnswer;

  @Text({ description: 'Who gave it, by name.', example: 'Ilka Brandt', max: 200 })
  givenByName!: string;

  @Part({ description: 'What was said to it, item by item; absent when nobody accepted it.', of: () => HandoverAcceptanceAnswer, optional: true })
  acceptance!: HandoverAcceptanceAnswer | null;

  @Text({ description: 'Who accepted it, by name.', example: 'Rasmus Feld', max: 200, optional: true })
  acceptedByName!: string | null;

  @Choice({ description: 'What became of it; partly: some of its items were refused.', example: 'partly', of: ['not-accepted', 'partly', 'accepted'] })
  outcome!: 'not-accepted' | 'partly' | 'accepted';
}

/** The log of a shift. */
export class ShiftLogAnswer {
  @Part({ description: 'The shift.', of: () => ShiftAnswer })
  shift!: ShiftAnswer;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Parts({ description: 'Who was on it.', of: () => CrewOnShift, max: 60 })
  crew!: CrewOnShift[];

  @Parts({ description: 'Who did something on the string in this time without being of the crew; of an overlapping shift, perhaps.', of: () => NotOfTheCrew, max: 1000 })
  notOfTheCrew!: NotOfTheCrew[];

  @Parts({ description: 'What was written into the log, in the order in which it happened.', of: () => ShiftEventAnswer, max: 10_000 })
  events!: ShiftEventAnswer[];

  @Parts({ description: 'Stops of the seam weld in its time, those that had begun before too.', of: () => StopInShift, max: 10_000 })
  stops!: StopInShift[];

  @Parts({ description: 'Records of work that was done in its time, by kind.', of: () => DoneInShift, max: 100 })
  records!: DoneInShift[];

  @Computed({ description: 'Of them, how many were entered after the shift ended.', example: 2 })
  lateTotal!: number;

  @Parts({ description: 'Those that were entered after the shift ended, in the order of their entry; of very many the first.', of: () => LateInShift, max: 500 })
  late!: LateInShift[];

  @Parts({ description: 'What was handed over, and how it was accepted.', of: () => HandoverInShift, max: 1000 })
  handovers!: HandoverInShift[];

  @Parts({ description: 'What the shift took over from others.', of: () => HandoverInShift, max: 1000 })
  received!: HandoverInShift[];

  @Texts({ description: 'What is open.', example: ['item 2 of the handover of 2026-03-02T16:55:00.000000Z was refused: Not said until when'], max: 10_000, each: 5000 })
  open!: string[];

  @Text({ description: 'What this answer is, and is not.', example: 'A record of the shift, not a release.', max: 400 })
  caution!: string;
}
