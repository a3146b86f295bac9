import { INSTRUMENT_STATES } from '#libs/validity';
import { Choice, Day, Id, Part, Parts, Text, When } from '../http/fields.js';
import { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';
import { RecordLink } from '../trace/trace.dto.js';

/** Why an instrument was not good. */
export class InstrumentReasonAnswer {
  @Choice({ description: 'What is wrong.', example: 'overdue', of: INSTRUMENT_STATES })
  state!: (typeof INSTRUMENT_STATES)[number];

  @Text({ description: 'In words.', example: 'due on 2026-01-31', max: 2000 })
  words!: string;

  @When({ description: 'Since when that could be known, where it came to light later.', example: null, optional: true })
  knownSince!: string | null;
}

/** Whether an instrument was good at an instant. */
export class InstrumentStandingAnswer {
  @Part({ description: 'The instrument.', of: () => RecordLink })
  instrument!: RecordLink;

  @When({ description: 'The instant asked about.', example: '2026-03-02T08:15:00Z' })
  at!: string;

  @Choice({ description: 'good, or the gravest reason why not.', example: 'good', of: INSTRUMENT_STATES })
  state!: (typeof INSTRUMENT_STATES)[number];

  @Text({ description: 'In words, and whether a later calibration shows that it was still good.', example: 'good on 2026-03-02, local day at UTC', max: 4000 })
  because!: string;

  @Parts({ description: 'Every reason that applies, the gravest first.', of: () => InstrumentReasonAnswer, max: 10 })
  reasons!: InstrumentReasonAnswer[];

  @Id({ description: 'The last calibration by then.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b43', optional: true })
  calibrationId!: string | null;

  @Day({ description: 'The day it was due.', example: '2027-01-31', optional: true })
  dueOn!: string | null;
}

export const MARGIN_FINDINGS = ['enough', 'less-than-deviation', 'not-comparable'] as const;

/** A record whose readings are in doubt. */
export class DoubtfulRecord {
  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;

  @When({ description: 'When the readings were taken.', example: '2026-02-18T09:40:00.000000Z' })
  at!: string;

  @Text({ description: 'What the readings were, and their least distance from a limit.', example: '5.02 mm, 0.13 mm inside its limit', max: 500 })
  said!: string;

  @Choice({
    description:
      'less-than-deviation: with the deviation that was found a reading might lie on the other side of its limit; enough: it would not; '
      + 'not-comparable: there is no limit to compare with, or none in such a unit.',
    example: 'enough', of: MARGIN_FINDINGS,
  })
  margin!: (typeof MARGIN_FINDINGS)[number];
}

/** A time in which nobody can be sure of the instrument. */
export class DoubtfulSpanAnswer {
  @When({ description: 'From when: the last calibration in tolerance, null when there was none; or the one that left it out of tolerance.', example: '2026-01-15T08:00:00.000000Z', optional: true })
  from!: string | null;

  @When({ description: 'To the calibration that found it, or the one after that which left it out of tolerance; absent when there is none.', example: '2026-03-09T08:00:00.000000Z', optional: true })
  to!: string | null;

  @Id({ description: 'The calibration that found it, or left it so.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b43' })
  foundById!: string;

  @Text({ description: 'What was found.', example: 'as-found 0.021 mm at 5.00 mm, allowed -0.005 to 0.005', max: 4000 })
  found!: string;

  @Parts({ description: 'What was measured with it in that time.', of: () => DoubtfulRecord, max: 100_000 })
  records!: DoubtfulRecord[];

  @Parts({ description: 'Nonconformances to enter, one for each string and one for strip on no string yet; to be read and completed by a person.', of: () => NonconformanceInput, max: 1000 })
  proposals!: NonconformanceInput[];
}

/** A time that no as-found closed. */
export class UnclosedSpanAnswer {
  @When({ description: 'From when; null: before the first calibration.', example: '2026-01-15T08:00:00.000000Z', optional: true })
  from!: string | null;

  @When({ description: 'To the calibration at which no as-found was taken.', example: '2026-03-09T08:00:00.000000Z' })
  to!: string;
}

export class InstrumentDoubtAnswer {
  @Part({ description: 'The instrument.', of: () => RecordLink })
  instrument!: RecordLink;

  @Parts({ description: 'Times in which it is in doubt, with what was measured in them.', of: () => DoubtfulSpanAnswer, max: 1000 })
  spans!: DoubtfulSpanAnswer[];

  @Parts({ description: 'Times that no as-found closed: neither cleared nor condemned.', of: () => UnclosedSpanAnswer, max: 1000 })
  unclosed!: UnclosedSpanAnswer[];

  @Text({ description: 'What the margins say, and what they do not.', example: 'An aid for sorting.', max: 400 })
  caution!: string;
}
