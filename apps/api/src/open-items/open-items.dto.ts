import { Choice, Computed, Id, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { OPEN_KINDS } from './open-items.rules.js';

/** Something that is not settled. */
export class OpenItemAnswer {
  @Choice({ description: 'What it is.', example: 'splice', of: OPEN_KINDS })
  what!: (typeof OPEN_KINDS)[number];

  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;

  @Text({ description: 'What is open about it.', example: 'in doubt: Film unclear', max: 5000 })
  words!: string;

  @Parts({ description: 'Where, by footage, mm; empty when it has no place.', of: () => IntervalAnswer, max: 1000 })
  footage!: IntervalAnswer[];

  @When({ description: 'Since when: the time of the event; of signals the oldest.', example: '2026-03-02T08:15:00.000000Z' })
  since!: string;

  @Id({ description: 'Who did, found or gave it.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  doneBy!: string;

  @Text({ description: 'The same by name.', example: 'Ilka Brandt', max: 200 })
  doneByName!: string;

  @Parts({ description: 'Nonconformances on that footage, closed ones too: whether they settle it is for a person to say.', of: () => RecordLink, max: 1000, example: [] })
  nonconformances!: RecordLink[];

  @Part({ description: 'What an item of a handover is about.', of: () => RecordLink, optional: true })
  about!: RecordLink | null;
}

/** What a shift lead has to hand over. */
export class OpenItemsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Parts({ description: 'The open items, the oldest first.', of: () => OpenItemAnswer, max: 100_000 })
  items!: OpenItemAnswer[];

  @Computed({ description: 'How many more lie wholly in pipe that was cut out, and are left out.', example: 0 })
  cutOut!: number;

  @Texts({ description: 'What to bear in mind.', example: ['What nobody entered is not in this list.'], max: 10, each: 500 })
  cautions!: string[];
}
