import {
  isInstant, normalInstant, sqlRefusal, StaleVersion,
  type Mark, type NewVersion, type RecordVersion, type WriteLock, type Transaction,
} from '#libs/persistence';
import { v7 as uuidv7 } from 'uuid';
import { malformed, merged, Refused, refusedField, together } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { amendedInput, amendmentOf, parsedAmendment } from './amendment.js';
import { AlreadyDone, claimKey, keepAnswer } from './once.js';
import { confirmCode, marksOf, type Finding } from './plausibility.js';
import { changesBetween } from './record-answer.js';
import { RecordsReader } from './records-reader.js';
import { SHARED } from './string-changes.js';
import type { RecordAnswer, RecordInput } from './record.dto.js';
import { demandedVersion, digestOf, type WriteRequest } from './write-request.js';

/** A record's own columns, without those every version has. */
export type Content<R extends RecordVersion> = Omit<R, keyof RecordVersion>;

/** A record as it was read from a file; `digest` says of which bytes it was made. */
export interface ReadRecord<R extends RecordVersion> {
  readonly id: string;
  readonly observedAt: string;
  readonly digest: string;
  readonly marks: readonly Mark[];
  readonly content: Content<R>;
}

/** What the caller sees as wrong when the database refuses by this constraint. */
export interface ConstraintMeaning {
  readonly field: string;
  readonly limit: string;
  /** The code of the refusal; `conflict` when absent. */
  readonly code?: string;
}

/**
 * The one way in for records of a kind: validate → invariants → version and history in one transaction → answer.
 * A kind says how a request becomes columns (`content`), how columns are answered (`present`, see the reader) and which
 * values are worth a question or a mark (`findings`); everything else is the same for all kinds.
 */
export abstract class RecordsService<R extends RecordVersion, I extends RecordInput, A extends object> extends RecordsReader<R, A> {
  abstract readonly input: new () => I;
  /**
   * What a write does to the string it is about, or to all strings when it is about none: it `moves` positions (they
   * are derived again), only `shows` in answers (kept copies are old), or neither.
   */
  protected readonly effect: 'moves' | 'shows' | 'none' = 'none';
  protected readonly constraints: Readonly<Record<string, ConstraintMeaning>> = {};
  /** What other records of a transaction named. */
  private readonly seenIn = new WeakMap<Transaction, Map<string, Promise<R | null>>>();

  /** The columns of what was sent. Runs inside the transaction; may refuse. */
  protected abstract content(tx: Transaction, input: I, current: R | null): Content<R> | Promise<Content<R>>;

  /** Values that are implausible or out of specification; looked for inside the transaction. */
  protected findings(
    _input: I,
    _content: Content<R>,
    _tx: Transaction,
    _current: R | null,
  ): readonly Finding[] | Promise<readonly Finding[]> {
    return [];
  }

  /** Further writes that belong to this one, in its transaction. */
  protected async afterWrite(tx: Transaction, row: R, before: R | null): Promise<void> {
    // What moves positions may have moved those of its own kind.
    this.seenIn.set(tx, new Map(this.effect === 'moves' ? [] : [[row.id, Promise.resolve(row)]]));
    if (this.effect === 'none') return;
    const stringId = stringIdOf(row);
    if (this.effect === 'shows' || stringId === null) {
      await this.desk.changes.touch(tx, stringId ?? SHARED);
      return;
    }
    const done = before === null ? 'entered' : row.state === 'void' ? 'withdrawn' : `amended (version ${row.version})`;
    await this.desk.changes.announce(tx, stringId, `${this.kind} ${row.id} was ${done}`);
  }

  /**
   * The lock a write about `subject` takes: that of the casing string it is about, or else of the coil or certificate that it
   * names (a coil's own certificate stands for the coil too), or of the record itself. What shows in a string's model is written one after another: two that meet at a constraint would else
   * wait for each other. Who signs a decision on a coil holds these locks alone, so that nothing comes in meanwhile.
   */
  protected lockOf(subject: I | R): WriteLock | null {
    const stringId = stringIdOf(subject);
    if (stringId !== null) return { about: stringId, mode: this.effect === 'none' ? 'shared' : 'exclusive' };
    const { coilId, certificateId, id } = subject as { coilId?: string | null; certificateId?: string | null; id?: string };
    const about = coilId ?? certificateId ?? id ?? null;
    return about === null ? null : { about, mode: 'shared' };
  }

  /**
   * Makes a record. A repeated request with the same id or idempotency key gives the first answer again; the same id
   * with other content is refused with 409 and the fields that differ.
   */
  async create(body: unknown, request: WriteRequest): Promise<RecordAnswer & A> {
    const input = parsed(this.input, body);
    if (input.id === undefined && request.key === null) {
      throw malformed([
        { field: 'id', value: null, limit: 'an id, or an Idempotency-Key header, so that a repeat does no harm' },
      ]);
    }
    const id = input.id ?? uuidv7();
    await this.prepare(input, id);
    try {
      const alone = await this.createAlone(input, id, request);
      if (alone !== null) return alone;
      return await this.write(request, this.lockOf(input), async (tx) => {
        const row = await this.append(tx, input, id);
        await this.afterWrite(tx, row, null);
        return this.answer(row);
      });
    } catch (error) {
      const again = input.id === undefined ? null : await this.repeated(input, id);
      if (again === null) throw this.explained(error, input);
      return again;
    }
  }

  /** What takes too long to be done while others wait for the transaction. Refuses nothing: `content` does, of all that is wrong. */
  protected async prepare(_input: I, _id: string): Promise<void> {
    // Most kinds have nothing of the kind.
  }

  /** Further writes that come before a withdrawal, in its transaction; may refuse. */
  protected async beforeVoid(_tx: Transaction, _current: R, _reason: string): Promise<void> {
    // Most kinds have none.
  }

  /** The first answer to an entry with this id; null when there was none. Refuses with 409 when it said something else. */
  async repeated(input: I, id: string): Promise<(RecordAnswer & A) | null> {
    const first = await this.desk.store.version(this.entity, id, 1);
    return first === null ? null : this.again(first, input, id);
  }

  /**
   * Makes a record whose entry writes nothing else, in one statement; kinds that are entered by the thousand do so.
   * Null when that cannot be done now, and then the whole transaction is gone through.
   */
  protected createAlone(_input: I, _id: string, _request: WriteRequest): Promise<(RecordAnswer & A) | null> {
    return Promise.resolve(null);
  }

  /** The first version of what was sent, to be stored. */
  protected async firstVersion(tx: Transaction, input: I, id: string): Promise<NewVersion<R>> {
    const content = await this.checkedContent(tx, input, id, null);
    const marks = marksOf(await this.findings(input, content, tx, null), input.confirm ?? []);
    const own = { id, digest: digestOfInput(input, id), marks, state: 'active', reason: null };
    return Object.assign(own, this.common(input, tx, null), content) as unknown as NewVersion<R>;
  }

  /** The columns of what was sent, done by somebody who is on record; who enters a person can be that person. */
  private async checkedContent(tx: Transaction, input: I, id: string, current: R | null): Promise<Content<R>> {
    const doer = input.doneBy === id ? null : input.doneBy;
    const [content] = await together([
      (async (): Promise<Content<R>> => this.content(tx, input, current))(), doer === undefined || doer === null ? null : this.demandPerson(tx, doer),
    ]);
    return content;
  }

  private async demandPerson(tx: Transaction, doneBy: string): Promise<void> {
    if (await this.desk.isPerson(tx, doneBy)) return;
    throw refusedField('unknown-reference', 'doneBy', doneBy, 'the id of a person');
  }

  /** Adds the first version of what was sent. What follows from it is the caller's to do. */
  protected async append(tx: Transaction, input: I, id: string): Promise<R> {
    return this.desk.store.append(tx, this.entity, await this.firstVersion(tx, input, id));
  }

  /** Makes a record that belongs to another one's entry, in its transaction. */
  createIn(tx: Transaction, body: object, id: string): Promise<R> {
    return this.createParsed(tx, parsed(this.input, body), id);
  }

  /** As `createIn`, of what was parsed already. */
  async createParsed(tx: Transaction, input: I, id: string): Promise<R> {
    try {
      const row = await this.append(tx, input, id);
      await this.afterWrite(tx, row, null);
      return row;
    } catch (error) {
      throw this.explained(error, input);
    }
  }

  /**
   * Makes several records that belong to another one's entry, in its transaction, and in few statements. `partOf` gives each
   * refusal the place of its part.
   */
  async createTogether(tx: Transaction, parts: readonly { readonly input: I; readonly id: string }[], partOf: (error: unknown, index: number) => unknown): Promise<R[]> {
    if (parts.length === 0) return [];
    const made = await Promise.allSettled(parts.map(({ input, id }) => this.firstVersion(tx, input, id)));
    const faults = made.flatMap((outcome, index): unknown[] => (outcome.status === 'rejected' ? [partOf(outcome.reason, index)] : []));
    if (faults.length > 0) throw merged(faults);
    const versions = made.flatMap((outcome) => (outcome.status === 'fulfilled' ? [outcome.value] : []));
    const rows = await this.desk.store.appendTogether(tx, this.entity, versions);
    for (const row of rows) await this.afterWrite(tx, row, null);
    return rows;
  }

  /** Adds records that were read from a file and checked by its reader, in the transaction of the import. */
  async appendRead(tx: Transaction, entries: readonly ReadRecord<R>[]): Promise<void> {
    const rows = entries.map(({ id, observedAt, digest, marks, content }) =>
      Object.assign(
        { id, digest, marks, state: 'active', reason: null, observedAt, enteredAt: tx.knownAt, doneBy: tx.actor.personId, source: 'file' }, content,
      ) as unknown as NewVersion<R>);
    await this.desk.store.appendAll(tx, this.entity, rows);
  }

  /** Marks what strings show as old. The last thing an import does: others wait for it from then until it commits. */
  async touchShown(tx: Transaction): Promise<void> {
    await this.desk.changes.touch(tx, SHARED);
  }

  /** Makes the next version, with the fields of `body` in place of the old ones. */
  async amend(id: string, body: unknown, request: WriteRequest): Promise<RecordAnswer & A> {
    const version = demandedVersion(request);
    const { reason, changes } = amendmentOf(body);
    const current = await this.row(id, null);
    if (current.version !== version && request.key === null) throw await this.stale(id, version);
    const confirmed = current.marks.map((mark) => confirmCode({ tier: 'implausible', ...mark }));
    const input = parsedAmendment(this.input, amendedInput(this.input, this.answer(current), changes, confirmed), changes);
    return this.change(request, current, version, reason, input, async (tx) => {
      const content = await this.checkedContent(tx, input, id, current);
      const marks = marksOf(await this.findings(input, content, tx, current), input.confirm ?? []);
      return Object.assign({ marks, state: 'active' }, this.common(input, tx, current), content);
    });
  }

  /** Withdraws the record; it stays readable with the reason. */
  async void(id: string, reason: string, request: WriteRequest): Promise<RecordAnswer & A> {
    const version = demandedVersion(request);
    const current = await this.row(id, null);
    if (current.version !== version && request.key === null) throw await this.stale(id, version);
    return this.change(request, current, version, reason, null, async (tx) => {
      await this.beforeVoid(tx, current, reason);
      return { ...current, state: 'void' };
    });
  }

  /** The record that `field` of another one names. Refuses with 422 when there is none, or it is void. */
  async named(tx: Transaction, field: string, id: string): Promise<R> {
    const row = await this.looked(tx, id);
    if (row?.state === 'active') return row;
    throw refusedField('unknown-reference', field, id, `the id of a ${this.kind} that is not void`);
  }

  /** As `named`; null where nothing is named. */
  async namedIfAny(tx: Transaction, field: string, id: string | null | undefined): Promise<R | null> {
    return id == null ? null : this.named(tx, field, id);
  }

  /** As `named`, and of this string. A record of no string, such as a nonconformance of strip, is of every one. */
  async namedOnString(tx: Transaction, field: string, id: string, stringId: string): Promise<R> {
    const row = await this.named(tx, field, id);
    const own = stringIdOf(row);
    if (own === null || own === stringId) return row;
    throw refusedField('unknown-reference', field, id, 'one of this string');
  }

  /** The records that some fields name, as `named`, looked for together. */
  async allNamed(tx: Transaction, references: Readonly<Record<string, string>>): Promise<R[]> {
    const seen = this.seenBy(tx);
    const missing = [...new Set(Object.values(references))].filter((id) => !seen.has(id));
    const found = missing.length === 0 ? [] : this.desk.store.select(this.entity, 'id = any($1::uuid[])', [missing], null, '', tx.manager);
    for (const id of missing) seen.set(id, Promise.resolve(found).then((rows) => rows.find((row) => row.id === id) ?? null));
    return together<R[]>(Object.entries(references).map(([field, id]) => this.named(tx, field, id)));
  }

  /** A record as its transaction sees it; looked for once, until one of its kind is written there. */
  private looked(tx: Transaction, id: string): Promise<R | null> {
    const seen = this.seenBy(tx);
    const known = seen.get(id) ?? this.desk.store.find(this.entity, id, null, tx.manager);
    seen.set(id, known);
    return known;
  }

  private seenBy(tx: Transaction): Map<string, Promise<R | null>> {
    const seen = this.seenIn.get(tx) ?? new Map<string, Promise<R | null>>();
    this.seenIn.set(tx, seen);
    return seen;
  }

  /** Runs `work` in one transaction and keeps its answer under the request's key; a repeat gets the first answer. */
  protected async write<T>(
    request: WriteRequest,
    lock: WriteLock | readonly WriteLock[] | null,
    work: (tx: Transaction) => Promise<T>,
  ): Promise<T> {
    try {
      return await this.desk.transaction(request.actor, lock, async (tx) => {
        if (request.key !== null) await claimKey(tx, request.key);
        const answer = await work(tx);
        if (request.key !== null) await keepAnswer(tx, request.key, answer);
        return answer;
      });
    } catch (error) {
      if (error instanceof AlreadyDone) return error.body as T;
      throw error;
    }
  }

  private async change(
    request: WriteRequest,
    current: R,
    version: number,
    reason: string,
    input: I | null,
    next: (tx: Transaction) => Promise<object>,
  ): Promise<RecordAnswer & A> {
    try {
      // What it is about may change with it: both are held.
      const locks = [this.lockOf(current), input === null ? null : this.lockOf(input)].filter((lock) => lock !== null);
      return await this.write(request, locks, async (tx) => {
        if (current.version !== version) throw new StaleVersion(this.kind, current.id, version);
        if (current.state === 'void') throw new Refused(409, 'void', 'A void record is not amended.');
        const row = Object.assign({}, await next(tx), { id: current.id, digest: current.digest, reason });
        const amended = await this.desk.store.amend(tx, this.entity, version, row as unknown as NewVersion<R>);
        await this.afterWrite(tx, amended, current);
        return this.answer(amended);
      });
    } catch (error) {
      if (error instanceof StaleVersion) throw await this.stale(current.id, version);
      throw this.explained(error, input);
    }
  }

  private common(input: I, tx: Transaction, current: R | null): Partial<RecordVersion> {
    return {
      observedAt: input.observedAt,
      doneBy: input.doneBy ?? current?.doneBy ?? tx.actor.personId,
      source: input.source ?? current?.source ?? (tx.actor.deviceId === null ? 'keyed' : 'instrument'),
    };
  }

  /** 412 with what changed since the version the caller had. */
  private async stale(id: string, version: number): Promise<Refused> {
    const versions = await this.desk.store.versions(this.entity, id);
    const had = versions.find((row) => row.version === version);
    const now = versions.at(-1);
    const changes = had === undefined || now === undefined ? [] : changesBetween(this.answer(had), this.answer(now));
    return new Refused(
      412, 'stale-version', `Version ${version} of this ${this.kind} is not the open one.`,
      [{ field: 'If-Match', value: `"${version}"`, limit: `"${now?.version ?? 0}"` }],
      { currentVersion: now?.version ?? 0, recordedAt: now?.knownFrom ?? null, reason: now?.reason ?? null, changes },
    );
  }

  /** The first answer again when the same was sent under this id; else 409 with the fields that differ. */
  protected again(first: R, input: I, id: string): RecordAnswer & A {
    // As it was answered then: a version that followed since is no part of that.
    const answer = this.answer(Object.assign(new this.entity(), first, { knownUntil: null }));
    if (first.digest === digestOfInput(input, id)) return answer;
    const stored = answer as unknown as Record<string, unknown>;
    const differing = Object.entries(input)
      .filter(([field, value]) => field !== 'confirm' && !sameValue(stored[field], value))
      .map(([field, value]) => ({ field, value: value as unknown, limit: `was ${JSON.stringify(stored[field])}` }));
    throw new Refused(409, 'id-taken', `This id names a ${this.kind} with other content.`, differing);
  }

  /** Puts the kind's own words to a refusal by one of its constraints. */
  protected explained(error: unknown, input: object | null): unknown {
    const refusal = sqlRefusal(error);
    const meaning = refusal?.constraint == null ? undefined : this.constraints[refusal.constraint];
    if (meaning === undefined) return error;
    const value = (input as Record<string, unknown> | null)?.[meaning.field] ?? null;
    const status = refusal?.sqlState === '23514' ? 422 : 409;
    return new Refused(status, meaning.code ?? 'conflict', `${meaning.limit}.`, [{ field: meaning.field, value, limit: meaning.limit }]);
  }
}

/** The digest of all that was sent but its confirmations, which a retry may lack. */
function digestOfInput(input: RecordInput, id: string): string {
  return digestOf({ ...input, confirm: undefined, id });
}

/** The casing string a request or record is about, or null. */
function stringIdOf(subject: object): string | null {
  const { stringId } = subject as { stringId?: string | null };
  return stringId ?? null;
}

/** True when both say the same, in whatever spelling of an instant or order of an object's fields; what is null may as well be left out. */
const sameValue = (one: unknown, other: unknown): boolean => digestOf(plainValue(one)) === digestOf(plainValue(other));

function plainValue(value: unknown): unknown {
  if (typeof value === 'string') return isInstant(value) ? normalInstant(value) : value;
  if (Array.isArray(value)) return value.map(plainValue);
  if (typeof value !== 'object' || value === null) return value ?? null;
  return Object.fromEntries(Object.entries(value).filter(([, part]) => part != null).map(([name, part]) => [name, plainValue(part)]));
}
