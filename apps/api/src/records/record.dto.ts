import { MARK_KINDS, SOURCES, type Mark, type Source } from '#libs/persistence';
import { Anything, Choice, Computed, Id, Parts, Text, Texts, When, YesNo } from '../http/fields.js';

/** What every new record says beside its content. */
export class RecordInput {
  @Id({
    description: 'Made by the client (UUIDv7); a repeated request with it has the effect of one.',
    example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b01',
    optional: true,
  })
  id?: string;

  @When({ description: 'When it happened.', example: '2026-03-02T08:15:00Z' })
  observedAt!: string;

  @Id({
    description: 'Who did the work; the signed-in person when absent.',
    example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02',
    optional: true,
  })
  doneBy?: string;

  @Choice({ description: 'Where the entry comes from; keyed when absent.', example: 'keyed', of: SOURCES, optional: true })
  source?: Source;

  @Texts({
    description: 'Codes, from an earlier refusal, of implausible values that are true.',
    example: [],
    max: 1000,
    each: 100,
    optional: true,
  })
  confirm?: string[];
}

/** What every new record on a casing string says. */
export class StringRecordInput extends RecordInput {
  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;
}

/** A remark the program put on a value. */
export class MarkAnswer implements Mark {
  @Choice({
    description:
      'confirmed-implausible: asked about and confirmed; out-of-specification: taken though beyond its limit; ' +
      'noted: unlikely or without a place, taken without a question.',
    example: 'out-of-specification',
    of: MARK_KINDS,
  })
  kind!: Mark['kind'];

  @Text({ description: 'The field.', example: 'value', max: 200 })
  field!: string;

  @Text({ description: 'The value.', example: '268', max: 200 })
  value!: string;

  @Text({ description: 'The limit it was held against.', example: 'at most 250 HV10', max: 300 })
  limit!: string;
}

/** What every answered record says beside its content. */
export class RecordAnswer {
  @Id({ description: 'The record.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b01' })
  id!: string;

  @Computed({ description: 'The version answered; amendments name it in If-Match.', example: 1 })
  version!: number;

  @Choice({ description: 'Void records stay readable.', example: 'active', of: ['active', 'void'] })
  state!: 'active' | 'void';

  @When({ description: 'When it happened.', example: '2026-03-02T08:15:00.000000Z' })
  observedAt!: string;

  @When({ description: 'When the system learned of this version.', example: '2026-03-02T08:15:09.402113Z' })
  recordedAt!: string;

  @When({ description: 'When the next version took its place.', example: null, optional: true })
  knownUntil!: string | null;

  @YesNo({ description: 'First recorded more than an hour after it happened.', example: false })
  late!: boolean;

  @Id({ description: 'Who did the work.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  doneBy!: string;

  @Id({ description: 'Who entered it.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  keyedBy!: string;

  @Id({ description: 'The line computer it came from.', example: null, optional: true })
  deviceId!: string | null;

  @Choice({ description: 'Where the entry comes from.', example: 'keyed', of: SOURCES })
  source!: Source;

  @Text({ description: 'Why this version was made.', example: null, max: 2000, optional: true })
  reason!: string | null;

  @Parts({ description: 'Remarks the program put on values.', of: () => MarkAnswer, max: 1000, example: [] })
  marks!: readonly Mark[];
}

/** A withdrawal. */
export class VoidInput {
  @Text({ description: 'Why the record is withdrawn.', example: 'Entered twice: see splice S-3.', max: 2000, min: 3 })
  reason!: string;
}

/** One field that an amendment changed. */
export class FieldChange {
  @Text({ description: 'The field.', example: 'value', max: 200 })
  field!: string;

  @Anything({ description: 'What it said before; null for nothing.', example: '4.61' })
  before!: unknown;

  @Anything({ description: 'What it says now; null for nothing.', example: '4.67' })
  after!: unknown;
}

/** One step in the life of a record. */
export class HistoryEntry {
  @Computed({ description: 'The version made.', example: 2 })
  version!: number;

  @Choice({
    description: 'What was done.',
    example: 'amended',
    of: ['created', 'amended', 'voided'],
  })
  action!: 'created' | 'amended' | 'voided';

  @When({ description: 'When the system learned of it.', example: '2026-03-02T10:40:12.118020Z' })
  recordedAt!: string;

  @Id({ description: 'Who entered it.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  keyedBy!: string;

  @Text({ description: 'Who entered it, by name.', example: 'Ilka Brandt', max: 200 })
  keyedByName!: string;

  @Text({ description: 'Why.', example: 'Gauge read again in good light.', max: 2000, optional: true })
  reason!: string | null;

  @Parts({ description: 'What changed, field by field.', of: () => FieldChange, max: 1000 })
  changes!: FieldChange[];
}

/** The versions of a record, oldest first. */
export class HistoryAnswer {
  @Id({ description: 'The record.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b01' })
  id!: string;

  @Parts({ description: 'Its versions, oldest first.', of: () => HistoryEntry, max: 100000 })
  versions!: HistoryEntry[];
}

