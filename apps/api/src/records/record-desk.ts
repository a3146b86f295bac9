import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { RecordStore } from '#libs/persistence';
import { StringChanges } from './string-changes.js';

/** What every record service works with. */
@Injectable()
export class RecordDesk {
  readonly store: RecordStore;

  constructor(
    readonly dataSource: DataSource,
    readonly changes: StringChanges,
  ) {
    this.store = new RecordStore(dataSource);
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
