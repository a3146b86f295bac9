import type { RecordClass, RecordVersion } from '#libs/persistence';
import { notFound } from '../http/problem.js';
import { pageConditions, type ListQuery } from './list-query.js';
import { commonAnswer, historyOf } from './record-answer.js';
import type { RecordDesk } from './record-desk.js';
import type { HistoryAnswer, RecordAnswer } from './record.dto.js';

/** How records of a kind are read: one, some, a page, or all versions of one, as known at an instant or now. */
export abstract class RecordsReader<R extends RecordVersion, A extends object> {
  /** The kind as people read it, such as `coil segment`. */
  abstract readonly kind: string;
  abstract readonly entity: RecordClass<R>;
  /** Fields a list can be filtered by, and their columns. */
  protected readonly filters: Readonly<Record<string, string>> = {};
  /** The most records of a page; fewer for kinds whose records are large. */
  protected readonly longestPage: number = 500;

  constructor(protected readonly desk: RecordDesk) {}

  /** The kind's own fields of an answer; every field of the request appears under the same name. */
  protected abstract present(row: R): A;

  /** The answer for a version. Assigned, not spread: spreading so many fields costs twenty times as much. */
  answer(row: R): RecordAnswer & A {
    return Object.assign(commonAnswer(row), this.present(row));
  }

  /** The record as known at an instant, or now. */
  async get(id: string, asKnownAt: string | null): Promise<RecordAnswer & A> {
    return this.answer(await this.row(id, asKnownAt));
  }

  /** The version known at an instant, or now, void or not. Refuses with 404 when there is none. */
  async row(id: string, asKnownAt: string | null): Promise<R> {
    const row = await this.desk.store.find(this.entity, id, asKnownAt);
    if (row === null) throw notFound(this.kind, id);
    return row;
  }

  /** The versions known at an instant, or now, by id, void ones too; ids not known then are left out. */
  async rowsByIds(ids: readonly string[], asKnownAt: string | null): Promise<Map<string, R>> {
    if (ids.length === 0) return new Map();
    const rows = await this.desk.store.select(this.entity, 'id = any($1::uuid[])', [[...new Set(ids)]], asKnownAt);
    return new Map(rows.map((row) => [row.id, row]));
  }

  /** What a person did, known at an instant, or now, void records left out; by when it was done. */
  async doneBy(personId: string, asKnownAt: string | null): Promise<R[]> {
    return this.desk.store.select(this.entity, "done_by = $1 and state = 'active'", [personId], asKnownAt, 'order by observed_at, id');
  }

  /** Numbers of other records of this kind, known at `asKnownAt`, that may be taken for `number`; for kinds that have one. */
  async numbersNear(number: string, asKnownAt: string | null): Promise<string[]> {
    return (await this.desk.store.numbersNear(this.entity, number, asKnownAt)).filter((other) => other !== number);
  }

  /**
   * An SQL expression for how many versions of records of this kind a string, `$1`, has; for kinds with a string. Versions are only
   * added, and a record keeps its string: while the number stands still, so does all that is known of them.
   */
  versionsOnString(): string {
    return `(select count(*) from ${this.desk.dataSource.getMetadata(this.entity).tableName} where string_id = $1)`;
  }

  /** A page of records, oldest id first. */
  async list(query: ListQuery): Promise<{ items: (RecordAnswer & A)[]; next: string | null }> {
    const limit = Math.min(query.limit, this.longestPage);
    const { condition, parameters } = pageConditions(query, this.filters);
    const tail = `order by id limit $${parameters.length + 1}`;
    const rows = await this.desk.store.select(this.entity, condition, [...parameters, limit + 1], query.asKnownAt, tail);
    const items = rows.slice(0, limit).map((row) => this.answer(row));
    return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
  }

  /** Every version with who, when, why and what changed. */
  async history(id: string): Promise<HistoryAnswer> {
    const rows = await this.desk.store.versions(this.entity, id);
    if (rows.length === 0) throw notFound(this.kind, id);
    const names = await this.desk.namesOf(rows.map((row) => row.keyedBy));
    return { id, versions: historyOf(rows.map((row) => this.answer(row)), names) };
  }
}
