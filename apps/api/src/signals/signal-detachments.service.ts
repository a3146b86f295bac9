import { Injectable } from '@nestjs/common';
import { DataSource, type EntityManager } from 'typeorm';
import { run } from '#libs/persistence';
import { Refused } from '../http/problem.js';

/** Knows which strings have their samples outside the database, in a file. */
@Injectable()
export class SignalDetachments {
  constructor(private readonly dataSource: DataSource) {}

  /**
   * Refuses (409) while the samples of a string are kept outside. They leave and come back in one transaction: asked after
   * something was read, it says whether all that was read was there.
   */
  async refuse(stringId: string, manager: EntityManager = this.dataSource.manager): Promise<void> {
    const { rows } = await run<{ file_name: string; sha256: string }>(
      manager, 'select file_name, sha256 from signal_detachment where string_id = $1 and attached_again is null', [stringId],
    );
    const [row] = rows;
    if (row === undefined) return;
    const limit = 'a string whose samples are in the database';
    throw new Refused(
      409, 'signals-detached', `The samples of this string are kept outside, in the file ${row.file_name} with SHA-256 ${row.sha256}. Attach them again to ask about them or to send more; nothing is known of them until then.`,
      [{ field: 'stringId', value: stringId, limit }],
    );
  }
}
