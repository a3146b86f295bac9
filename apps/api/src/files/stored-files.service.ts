import { Injectable } from '@nestjs/common';
import { DataSource, type EntityManager } from 'typeorm';
import { run, type Transaction } from '#libs/persistence';
import type { Spooled } from './spool.js';
// Foreign keys of other entities lead to this one.
import './stored-file.entity.js';

/** A file that is here. */
export interface StoredFileRow {
  readonly sha256: string;
  readonly mediaType: string;
  readonly sizeBytes: number;
  readonly partCount: number;
}

export const PART_BYTES = 262_144;

/** Files by their content, in the database: what backs the records up backs them up too. */
@Injectable()
export class StoredFiles {
  constructor(private readonly dataSource: DataSource) {}

  /** The file with this content, or null. */
  async find(sha256: string, manager: EntityManager = this.dataSource.manager): Promise<StoredFileRow | null> {
    const { rows } = await run<{ media_type: string; size_bytes: string; part_count: number }>(
      manager, 'select media_type, size_bytes, part_count from stored_file where sha256 = $1', [sha256],
    );
    const [row] = rows;
    return row === undefined ? null : { sha256, mediaType: row.media_type, sizeBytes: Number(row.size_bytes), partCount: row.part_count };
  }

  /** Keeps what was sent, unless its content is here. True when it was not. */
  async keep(tx: Transaction, file: Spooled, mediaType: string): Promise<boolean> {
    const isNew = await this.enter(tx, file, mediaType);
    if (isNew) for await (const [partNo, bytes] of numbered(file)) await keepPart(tx, file, partNo, bytes);
    return isNew;
  }

  /** The bytes of what was sent, part by part, each kept while its reader has it: when all is read, all is kept. */
  async *keepWhileRead(tx: Transaction, file: Spooled, mediaType: string): AsyncGenerator<Buffer> {
    const isNew = await this.enter(tx, file, mediaType);
    let keeping: Promise<void> = Promise.resolve();
    for await (const [partNo, bytes] of numbered(file)) {
      await keeping;
      if (isNew) keeping = keepPart(tx, file, partNo, bytes);
      // Whoever awaits it hears of a refusal; until then it is nobody's.
      keeping.catch(() => undefined);
      yield bytes;
    }
    await keeping;
  }

  /** Enters what the parts of a file belong to. True when it was not here. */
  private async enter(tx: Transaction, file: Spooled, mediaType: string): Promise<boolean> {
    const partCount = Math.ceil(file.sizeBytes / PART_BYTES);
    const { count } = await run(
      tx.manager,
      `insert into stored_file (sha256, media_type, size_bytes, part_count, stored_at, stored_by)
       values ($1, $2, $3, $4, $5, $6) on conflict do nothing`,
      [file.sha256, mediaType, file.sizeBytes, partCount, tx.knownAt, tx.actor.personId],
    );
    return count > 0;
  }

  /** The bytes of a file, part by part. */
  async *read({ sha256, partCount }: StoredFileRow): AsyncGenerator<Buffer> {
    for (let partNo = 0; partNo < partCount; partNo += 1) {
      const { rows } = await run<{ bytes: Buffer }>(
        this.dataSource.manager, 'select bytes from stored_file_part where sha256 = $1 and part_no = $2', [sha256, partNo],
      );
      if (rows[0] === undefined) throw new Error(`part ${partNo} of file ${sha256} is missing`);
      yield rows[0].bytes;
    }
  }
}

async function* numbered(file: Spooled): AsyncGenerator<[partNo: number, bytes: Buffer]> {
  let partNo = 0;
  for await (const bytes of file.parts(PART_BYTES)) {
    yield [partNo, bytes];
    partNo += 1;
  }
}

async function keepPart(tx: Transaction, { sha256 }: Spooled, partNo: number, bytes: Buffer): Promise<void> {
  await run(tx.manager, 'insert into stored_file_part (sha256, part_no, bytes) values ($1, $2, $3)', [sha256, partNo, bytes]);
}
