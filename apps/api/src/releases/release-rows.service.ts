import { Injectable } from '@nestjs/common';
import type { NewVersion, Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { Release } from './release.entity.js';

/** The releases on record. Who may sign one, and on what, is not known here. */
@Injectable()
export class ReleaseRows {
  constructor(private readonly desk: RecordDesk) {}

  /** Those of a string that were not withdrawn, known at `asKnownAt`, in the order in which they became known. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<Release[]> {
    return this.desk.store.select(Release, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by entered_at, id');
  }

  /** The same with those that were withdrawn. */
  async allOfString(stringId: string, asKnownAt: string | null): Promise<Release[]> {
    return this.desk.store.select(Release, 'string_id = $1', [stringId], asKnownAt, 'order by entered_at, id');
  }

  /** One of them, or null. */
  async find(id: string, asKnownAt: string | null): Promise<Release | null> {
    return this.desk.store.find(Release, id, asKnownAt);
  }

  async append(tx: Transaction, row: NewVersion<Release>): Promise<Release> {
    return this.desk.store.append(tx, Release, row);
  }

  /** Withdraws it. Throws StaleVersion when somebody did already. */
  async withdraw(tx: Transaction, row: Release, reason: string): Promise<Release> {
    return this.desk.store.amend(tx, Release, row.version, Object.assign({}, row, { state: 'void', reason }));
  }
}
