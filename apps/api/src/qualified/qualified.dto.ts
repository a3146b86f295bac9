import { QUALIFICATION_STATES } from '#libs/validity';
import { Choice, Day, Id, Parts, Text, When } from '../http/fields.js';

const STATES = QUALIFICATION_STATES;

/** Why a qualification does not cover the work. */
export class QualifiedReason {
  @Choice({ description: 'What is wrong.', example: 'unconfirmed', of: STATES })
  state!: (typeof STATES)[number];

  @Text({ description: 'In words, with the days.', example: 'not confirmed after 2025-12-01', max: 1000 })
  words!: string;
}

/** Days on which a qualification had lapsed for want of a confirmation that came late. */
export class QualifiedLapse {
  @Day({ description: 'The first of them.', example: '2025-12-03' })
  from!: string;

  @Day({ description: 'The last of them.', example: '2026-01-14' })
  to!: string;
}

/** One qualification beside the work. */
export class QualifiedLine {
  @Id({ description: 'The qualification.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b40' })
  id!: string;

  @Text({ description: 'Its number.', example: 'WO-2211', max: 60 })
  number!: string;

  @Text({ description: 'The standard it was examined by.', example: 'ISO 14732', max: 80 })
  standard!: string;

  @Choice({ description: 'valid, or the gravest reason why it does not cover the work.', example: 'valid', of: STATES })
  state!: (typeof STATES)[number];

  @Text({ description: 'The whole answer in words.', example: 'valid on 2026-03-02, local day at UTC: runs from 2025-06-02 through 2028-06-01', max: 4000 })
  because!: string;

  @Parts({ description: 'Every reason that applies, the gravest first.', of: () => QualifiedReason, max: 100 })
  reasons!: QualifiedReason[];

  @Day({ description: 'The last day on which it stays valid if nothing more comes; null when it is not valid, or has no end.', example: '2026-06-01', optional: true })
  validUntil!: string | null;

  @Parts({ description: 'When it had lapsed before, and came back by a late confirmation.', of: () => QualifiedLapse, max: 100 })
  lapses!: QualifiedLapse[];
}

export class QualifiedAnswer {
  @Id({ description: 'The person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  personId!: string;

  @When({ description: 'When the work was done.', example: '2026-03-02T08:15:00Z' })
  at!: string;

  @Choice({ description: 'covering: one of the qualifications was valid for it; nearest: none was; none: there is none on record.', example: 'covering', of: ['covering', 'nearest', 'none'] })
  found!: 'covering' | 'nearest' | 'none';

  @Text({ description: 'The one that covers it, or comes nearest.', example: 'WO-2211', max: 60, optional: true })
  number!: string | null;

  @Text({ description: 'In words.', example: 'qualification WO-2211 is valid on 2026-03-02, local day at UTC', max: 4000 })
  because!: string;

  @Text({ description: 'What this answer is, and is not.', example: 'A record only.', max: 400 })
  caution!: string;

  @Parts({ description: 'Every qualification of the person.', of: () => QualifiedLine, max: 500 })
  qualifications!: QualifiedLine[];
}
