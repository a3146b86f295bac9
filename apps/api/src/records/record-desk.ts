import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { Clock, DatabaseClock, inTransaction, RecordStore, type Actor, type StringLock, type Transaction } from '#libs/persistence';
import { StringChanges } from './string-changes.js';

/** What every record service works with. */
@Injectable()
export class RecordDesk {
  readonly store: RecordStore;

  constructor(
    readonly dataSource: DataSource,
    readonly changes: StringChanges,
    private readonly clock: Clock,
  ) {
    this.store = new RecordStore(dataSource);
  }

  /** Runs `work` in one transaction that writes records as `actor`, known from what the application's clock says. */
  transaction<T>(actor: Actor, lock: StringLock | null, work: (tx: Transaction) => Promise<T>): Promise<T> {
    return inTransaction(this.dataSource, actor, lock, work, this.clock);
  }

  /** True when things become known at the database's own time: only then may the database set it in one statement. */
  get keepsDatabaseTime(): boolean {
    return this.clock instanceof DatabaseClock;
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
