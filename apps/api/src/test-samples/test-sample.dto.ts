import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Parts, Text, When, Whole } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

export const COIL_ENDS = ['head', 'tail'] as const;
export const STOP_SIDES = ['before', 'after'] as const;
export const ORIENTATIONS = ['longitudinal', 'transverse', 'full-section'] as const;

const LONGEST_MM = 100_000_000;

/** One step of the way from the pipe to the test: who passed the sample on, from where to where. */
export class CustodyPart {
  @Text({ description: 'Who passed it on.', example: 'M. Oster', max: 120 })
  by!: string;

  @When({ description: 'When it was handed over.', example: '2026-03-02T09:30:00Z' })
  at!: string;

  @Text({ description: 'Where it was.', example: 'Uncoiler', max: 200 })
  from!: string;

  @Text({ description: 'Where it went.', example: 'Sample store', max: 200 })
  to!: string;
}

/**
 * `doneBy` took the sample; `observedAt` is when. It has one origin: an end of a coil, a side of a stop of the seam weld, a
 * footage, or a splice. Footages are those marked on the pipe: they do not move when a counter is corrected.
 */
export class TestSampleInput extends StringRecordInput {
  @Text({ description: 'Its number; no other sample of the string has it.', example: 'TS-14', max: 60 })
  number!: string;

  @Id({ description: 'The coil it is an end of.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07', optional: true })
  coilId?: string | null;

  @Choice({ description: 'Which end of the coil.', example: 'head', of: COIL_ENDS, optional: true })
  coilEnd?: (typeof COIL_ENDS)[number] | null;

  @Whole({ description: 'Footage that stood at the weld point while the seam weld stopped.', example: null, min: 0, max: LONGEST_MM, unit: 'mm', optional: true })
  stopFootageMm?: number | null;

  @Choice({ description: 'Side of the stop; before is the pipe that was made first.', example: null, of: STOP_SIDES, optional: true })
  stopSide?: (typeof STOP_SIDES)[number] | null;

  @Id({ description: 'The record of the stop, where there is one: the sample stays beside it when a counter is corrected.', example: null, optional: true })
  seamEventId?: string | null;

  @Whole({ description: 'Footage it was cut at, elsewhere on the pipe.', example: null, min: 0, max: LONGEST_MM, unit: 'mm', optional: true })
  footageMm?: number | null;

  @Id({ description: 'The splice it is a coupon of.', example: null, optional: true })
  spliceId?: string | null;

  @Choice({ description: 'How it lies to the axis of the pipe, or of the strip.', example: 'full-section', of: ORIENTATIONS })
  orientation!: (typeof ORIENTATIONS)[number];

  @Parts({
    description: 'Through whose hands it went, in order of time.', of: () => CustodyPart, max: 50, optional: true,
    example: [
      { by: 'M. Oster', at: '2026-03-02T09:30:00Z', from: 'Uncoiler', to: 'Sample store' },
      { by: 'Courier', at: '2026-03-02T14:00:00Z', from: 'Sample store', to: 'Laboratory' },
    ],
  })
  custody?: CustodyPart[] | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The sample's own fields of an answer. */
export class TestSampleContent extends OmitType(TestSampleInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class TestSampleAnswer extends IntersectionType(RecordAnswer, TestSampleContent) {}
