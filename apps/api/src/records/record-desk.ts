import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { DataSource } from 'typeorm';
import { Clock, DatabaseClock, inTransaction, RecordStore, type Actor, type WriteLock, type Transaction } from '#libs/persistence';
import { StringChanges } from './string-changes.js';

const KEPT_PEOPLE = 10_000;

/** What every record service works with. */
@Injectable()
export class RecordDesk {
  readonly store: RecordStore;
  private readonly people = new LRUCache<string, true>({ max: KEPT_PEOPLE });

  constructor(
    readonly dataSource: DataSource,
    readonly changes: StringChanges,
    private readonly clock: Clock,
  ) {
    this.store = new RecordStore(dataSource);
  }

  /** Runs `work` in one transaction that writes records as `actor`, known from what the application's clock says. */
  transaction<T>(actor: Actor, locks: WriteLock | readonly WriteLock[] | null, work: (tx: Transaction) => Promise<T>): Promise<T> {
    return inTransaction(this.dataSource, actor, locks, work, this.clock);
  }

  /** True when things become known at the database's own time: only then may the database set it in one statement. */
  get keepsDatabaseTime(): boolean {
    return this.clock instanceof DatabaseClock;
  }

  /** The database's time now. */
  async databaseNow(): Promise<string> {
    const [row]: { now: string }[] = await this.dataSource.query("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now");
    if (row === undefined) throw new Error('the database told no time');
    return row.now;
  }

  /** True when a person has this id. Nobody is ever deleted: who was found once is not looked for again. */
  async isPerson(tx: Transaction, id: string): Promise<boolean> {
    if (this.people.has(id)) return true;
    const found: unknown[] = await tx.manager.query('select 1 from person where id = $1 and version = 1', [id]);
    if (found.length > 0) this.people.set(id, true);
    return found.length > 0;
  }

  /** The names, as known now, of the people with these ids. */
  async namesOf(personIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const rows: { id: string; name: string }[] = await this.dataSource.query(
      'select id, name from person where known_until is null and id = any($1::uuid[])',
      [[...new Set(personIds)]],
    );
    return new Map(rows.map((row) => [row.id, row.name]));
  }
}
