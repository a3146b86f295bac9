import { Choice, Computed, Id, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { FieldChange } from '../records/record.dto.js';
import { RecordLink } from '../trace/trace.dto.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02';
export const WHAT_HAPPENED = ['entered', 'amended', 'voided', 'derived-again'] as const;

export class ChangesAsked {
  @When({ description: 'Since when; absent: since the own last shift.', example: null, optional: true })
  since!: string | null;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;
}

/** The shift since whose end is told. */
export class OwnLastShift {
  @Part({ description: 'The shift.', of: () => RecordLink })
  shift!: RecordLink;

  @When({ description: 'Its end.', example: '2026-03-02T17:00:00.000000Z' })
  ended!: string;
}

/** How much became known of a kind. */
export class ChangesOfKind {
  @Text({ description: 'The kind of record.', example: 'inspection', max: 40 })
  kind!: string;

  @Computed({ description: 'New records.', example: 12 })
  entered!: number;

  @Computed({ description: 'Amendments that a person made.', example: 1 })
  amended!: number;

  @Computed({ description: 'Withdrawals.', example: 0 })
  voided!: number;

  @Computed({ description: 'Versions that no person wrote: their position followed from another change.', example: 40 })
  derivedAgain!: number;
}

/** One version of a record that became known. */
export class ChangeKnown {
  @Part({ description: 'The record in that version.', of: () => RecordLink })
  record!: RecordLink;

  @Choice({ description: 'What happened to it; derived-again: by no person, its position followed from another change.', example: 'amended', of: WHAT_HAPPENED })
  what!: (typeof WHAT_HAPPENED)[number];

  @Text({ description: 'Why.', example: 'Gauge read again in good light.', max: 20_000, optional: true })
  reason!: string | null;

  @When({ description: 'When the event was.', example: '2026-03-02T08:15:00.000000Z' })
  observedAt!: string;

  @When({ description: 'When this version became known.', example: '2026-03-02T21:05:00.000000Z' })
  recordedAt!: string;

  @Id({ description: 'Who did the work.', example: ID })
  doneBy!: string;

  @Text({ description: 'The same by name.', example: 'Ilka Brandt', max: 200 })
  doneByName!: string;

  @Id({ description: 'Who keyed this version.', example: ID })
  keyedBy!: string;

  @Text({ description: 'The same by name.', example: 'Ilka Brandt', max: 200 })
  keyedByName!: string;

  @YesNo({ description: 'Entered now, of an event from before: it was missing then. An amendment makes nothing late.', example: false })
  isLate!: boolean;

  @Parts({ description: 'What an amendment changed, field by field.', of: () => FieldChange, max: 1000 })
  changes!: FieldChange[];
}

/** What became known about a string since an instant. */
export class ChangesSinceAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'What was asked.', of: () => ChangesAsked })
  asked!: ChangesAsked;

  @When({ description: 'Since when is told.', example: '2026-03-02T17:00:00.000000Z' })
  since!: string;

  @Part({ description: 'Your own last shift on this string, when that is since when.', of: () => OwnLastShift, optional: true })
  sinceShift!: OwnLastShift | null;

  @Parts({ description: 'Your later shifts on this string without an end that has come: the one you are on, or one that nobody ended on record.', of: () => RecordLink, max: 1000, example: [] })
  ownShiftsWithoutEnd!: RecordLink[];

  @Parts({ description: 'How much, by kind, over all pages.', of: () => ChangesOfKind, max: 100 })
  counts!: ChangesOfKind[];

  @Parts({ description: 'What became known, the oldest first.', of: () => ChangeKnown, max: 500 })
  changes!: ChangeKnown[];

  @Text({ description: 'Ask for the next page with `after`.', example: null, max: 200, optional: true })
  next!: string | null;

  @Texts({ description: 'What to bear in mind.', example: ['Papers of coils, instruments and people are no records of a string and not told here.'], max: 10, each: 500 })
  cautions!: string[];
}
