import { Injectable } from '@nestjs/common';
import { footageAtReading } from '#libs/length';
import { microseconds, sqlStateOf, type Transaction } from '#libs/persistence';
import { malformed, Refused, refusedField, type FieldProblem } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import type { WriteRequest } from '../records/write-request.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import {
  CounterReadingBatchInput, CounterReadingInput,
  type CounterReadingAnswer, type CounterReadingBatchAnswer, type CounterReadingContent,
} from './counter-reading.dto.js';
import { CounterReading } from './counter-reading.entity.js';
import { notAsked, readingFindings, withoutPeriod, type Reached } from './counter-reading.rules.js';
import type { LineKnowledge } from './line-knowledge.js';
import { Places } from './places.service.js';

const UNIQUE_VIOLATION = '23505';

@Injectable()
export class CounterReadingsService extends RecordsService<CounterReading, CounterReadingInput, CounterReadingContent> {
  readonly kind = 'counter reading';
  readonly entity = CounterReading;
  readonly input = CounterReadingInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { stringId: 'string_id' };

  constructor(desk: RecordDesk, private readonly places: Places, private readonly strings: CasingStringsService) {
    super(desk);
  }

  /** As for all kinds; a line computer may only append readings of its own string and counters (403). */
  override async create(body: unknown, request: WriteRequest): Promise<CounterReadingAnswer> {
    if (request.actor.deviceId !== null) await this.refuseForeign(parsed(CounterReadingInput, body), '', request.device);
    return super.create(body, request);
  }

  /**
   * Takes all of 1 to 1000 readings of one string in one transaction, or none. Each has an id; those that were taken
   * before with the same content give their first answer again. Refusals name `readings[i].…`.
   */
  async createAll(body: unknown, request: WriteRequest): Promise<CounterReadingBatchAnswer> {
    const { readings } = parsed(CounterReadingBatchInput, body);
    const identified = withIds(readings);
    const [first] = identified;
    if (first === undefined) return { readings: [] };
    for (const [index, reading] of readings.entries()) {
      if (request.actor.deviceId !== null) await this.refuseForeign(reading, pathOf(index), request.device);
    }
    const attempt = (): Promise<CounterReadingBatchAnswer> =>
      this.write(request, this.lockOf(first.input), (tx) => this.appendAll(tx, identified));
    try {
      return await attempt();
    } catch (error) {
      // The same batch, sent twice at once: the other one has now committed, and its readings are found.
      if (sqlStateOf(error) !== UNIQUE_VIOLATION) throw error;
      return attempt();
    }
  }

  /** The last reading of a counter before an instant that has a footage, or null. */
  async lastBefore(tx: Transaction, line: LineKnowledge, sought: Sought): Promise<Reached | null> {
    return this.nearest(tx, line, sought, 'observed_at < $3', 'order by observed_at desc, id desc limit 1');
  }

  /** The first reading of a counter at or after an instant that has a footage, or null. */
  async firstFrom(tx: Transaction, line: LineKnowledge, sought: Sought): Promise<Reached | null> {
    return this.nearest(tx, line, sought, 'observed_at >= $3', 'order by observed_at, id limit 1');
  }

  /** All readings of a string, of every counter, known at `asKnownAt`, in the order of time. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<CounterReading[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id',
    );
  }

  /** The readings of one counter of a string known at `asKnownAt`, in the order of time. */
  async ofCounter(stringId: string, counter: string, asKnownAt: string | null): Promise<CounterReading[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and counter = $2 and state = 'active'", [stringId, counter], asKnownAt, 'order by observed_at, id',
    );
  }

  protected async content(tx: Transaction, input: CounterReadingInput): Promise<Content<CounterReading>> {
    const { masterCounter } = await this.places.line(tx, input.stringId);
    return {
      stringId: input.stringId,
      counter: input.counter ?? masterCounter,
      reading: input.reading,
      note: input.note ?? null,
    };
  }

  protected override async findings(
    input: CounterReadingInput,
    { counter }: Content<CounterReading>,
    tx: Transaction,
    current: CounterReading | null,
  ): Promise<readonly Finding[]> {
    const { stringId, observedAt, reading } = input;
    const line = await this.places.line(tx, stringId);
    const now = reachedBy(line, { counter, observedAt, reading });
    if (now === null) return [withoutPeriod(reading, counter)];
    const sought = { stringId, counter, at: observedAt, exceptId: current?.id ?? null };
    const found = readingFindings(reading, now, await this.lastBefore(tx, line, sought));
    return tx.actor.deviceId === null ? found : notAsked(found);
  }

  protected present({ stringId, counter, reading, note }: CounterReading): CounterReadingContent {
    return { stringId, counter, reading, note };
  }

  private async appendAll(tx: Transaction, entries: readonly Entry[]): Promise<CounterReadingBatchAnswer> {
    const stringId = entries[0]?.input.stringId ?? '';
    const taken = await this.takenBefore(entries);
    const answers = new Map<number, CounterReadingAnswer>();
    const problems: Refused[] = [];
    let isNew = false;
    // In order of time, since each is held against the one before it.
    const inTime = [...entries].sort((a, b) => microseconds(a.input.observedAt) - microseconds(b.input.observedAt));
    for (const { input, id, index } of inTime) {
      try {
        const first = taken.get(id);
        isNew ||= first === undefined;
        answers.set(index, first === undefined ? this.answer(await this.append(tx, input, id)) : this.again(first, input, id));
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        problems.push(new Refused(error.status, error.code, error.message, error.errors.map(prefixed(index))));
      }
    }
    refuseTogether(problems);
    if (isNew) await this.desk.changes.touch(tx, stringId);
    return { readings: entries.flatMap(({ index }) => answers.get(index) ?? []) };
  }

  /** The first versions of the readings that stand already. */
  private async takenBefore(entries: readonly Entry[]): Promise<Map<string, CounterReading>> {
    const open = await this.rowsByIds(entries.map(({ id }) => id), null);
    const taken = new Map<string, CounterReading>();
    for (const row of open.values()) {
      taken.set(row.id, row.version === 1 ? row : ((await this.desk.store.version(this.entity, row.id, 1)) ?? row));
    }
    return taken;
  }

  private async nearest(tx: Transaction, line: LineKnowledge, sought: Sought, when: string, tail: string): Promise<Reached | null> {
    const rows = await this.desk.store.select(
      CounterReading,
      `string_id = $1 and counter = $2 and ${when} and state = 'active' and id is distinct from $4`,
      [sought.stringId, sought.counter, sought.at, sought.exceptId], null, tail, tx.manager,
    );
    return rows[0] === undefined ? null : reachedBy(line, rows[0]);
  }

  private async refuseForeign(input: CounterReadingInput, path: string, device: WriteRequest['device']): Promise<void> {
    const refuse = (field: string, value: unknown, limit: string): Refused =>
      new Refused(403, 'other-device', 'A line computer only appends readings of its own string and counters.', [
        { field: `${path}${field}`, value, limit },
      ]);
    if (device == null || input.stringId !== device.stringId) {
      throw refuse('stringId', input.stringId, device?.stringId ?? 'none');
    }
    const counter = input.counter ?? (await this.masterCounterOf(input.stringId));
    if (!device.counters.includes(counter)) throw refuse('counter', counter, `one of ${device.counters.join(', ')}`);
    if (input.source != null && input.source !== 'instrument') throw refuse('source', input.source, 'instrument');
  }

  private async masterCounterOf(stringId: string): Promise<string> {
    return (await this.strings.row(stringId, null)).masterCounter;
  }
}

/** Readings of one counter on a string, other than one, seen from an instant. */
export interface Sought {
  readonly stringId: string;
  readonly counter: string;
  readonly at: string;
  readonly exceptId: string | null;
}

interface Entry {
  readonly input: CounterReadingInput;
  readonly id: string;
  readonly index: number;
}

function reachedBy(line: LineKnowledge, row: { counter: string; observedAt: string; reading: string }): Reached | null {
  const atUs = microseconds(row.observedAt);
  const period = line.periodAt(row.counter, atUs);
  return period === null ? null : { atUs, footageMm: footageAtReading(period, Number(row.reading)) };
}

const pathOf = (index: number): string => `readings[${index}].`;

const prefixed = (index: number) => (problem: FieldProblem): FieldProblem => ({
  ...problem, field: `${pathOf(index)}${problem.field}`,
});

/** Refuses a batch whose readings lack an id, share one, or are of several strings. */
function withIds(readings: readonly CounterReadingInput[]): Entry[] {
  const seen = new Set<string>();
  return readings.map((input, index) => {
    const { id, stringId } = input;
    if (id === undefined) throw malformed([{ field: `${pathOf(index)}id`, value: null, limit: 'an id, so that a repeat does no harm' }]);
    if (seen.has(id)) throw malformed([{ field: `${pathOf(index)}id`, value: id, limit: 'an id that no other reading of the batch has' }]);
    if (stringId !== readings[0]?.stringId) {
      throw refusedField('other-string', `${pathOf(index)}stringId`, stringId, 'the string of the first reading: a batch is of one string');
    }
    seen.add(id);
    return { input, id, index };
  });
}

/** Refuses with everything found wrong in the batch, under the name of the first refusal. */
function refuseTogether(problems: readonly Refused[]): void {
  const [first] = problems;
  if (first === undefined) return;
  const alike = problems.filter(({ status, code }) => status === first.status && code === first.code);
  throw new Refused(first.status, first.code, first.message, alike.flatMap(({ errors }) => errors));
}
