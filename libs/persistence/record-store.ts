import type { DataSource, EntityManager, EntityMetadata } from 'typeorm';
import { fromDatabase, toDatabase } from './column-values.js';
import type { EntityClass } from './data-source.js';
import type { RecordVersion } from './record.js';
import type { Transaction } from './transaction.js';

type ColumnMetadata = EntityMetadata['columns'][number];

export type RecordClass<R extends RecordVersion> = new () => R;

/** What a caller gives of a version; the store adds the rest. */
export type NewVersion<R extends RecordVersion> = Omit<
  R,
  'version' | 'one' | 'knownFrom' | 'knownUntil' | 'keyedBy' | 'deviceId' | 'requestId'
>;

/** The open version was not the one the caller meant to close. */
export class StaleVersion extends Error {
  constructor(
    readonly kind: string,
    readonly id: string,
    readonly version: number,
  ) {
    super(`${kind} ${id} is no longer at version ${version}`);
  }
}

interface Shape {
  readonly metadata: EntityMetadata;
  readonly written: readonly ColumnMetadata[];
  readonly insert: string;
  readonly columnList: string;
}

/**
 * Appends and reads the versions of records. It writes SQL itself, from the entity's columns: TypeORM's own save
 * reads before it writes, its hydration loses microseconds, and neither knows of versions.
 * Reads outside a transaction go through the pool; pass a manager to read inside one.
 */
export class RecordStore {
  private readonly shapes = new Map<EntityClass, Shape>();

  constructor(private readonly dataSource: DataSource) {}

  /** The first version of a new record. Throws the database's refusal when the id is taken. */
  async append<R extends RecordVersion>(tx: Transaction, type: RecordClass<R>, row: NewVersion<R>): Promise<R> {
    return this.insert(tx, type, row, 1);
  }

  /** Closes version `version` and adds the next one. Throws StaleVersion when another version is open. */
  async amend<R extends RecordVersion>(
    tx: Transaction,
    type: RecordClass<R>,
    version: number,
    row: NewVersion<R>,
  ): Promise<R> {
    await this.close(tx, type, row.id, version);
    return this.insert(tx, type, row, version + 1);
  }

  /**
   * Amends many records at one instant: all are closed before any is added, so that neighbours may exchange ground
   * without meeting the constraint that keeps them apart.
   */
  async amendTogether<R extends RecordVersion>(
    tx: Transaction,
    type: RecordClass<R>,
    changes: readonly { readonly version: number; readonly row: NewVersion<R> }[],
  ): Promise<void> {
    for (const { row, version } of changes) await this.close(tx, type, row.id, version);
    for (const { row, version } of changes) await this.insert(tx, type, row, version + 1);
  }

  /** The version known at `asKnownAt` (the open one when null), or null. */
  async find<R extends RecordVersion>(
    type: RecordClass<R>,
    id: string,
    asKnownAt: string | null = null,
    manager: EntityManager = this.dataSource.manager,
  ): Promise<R | null> {
    const rows = await this.select(type, 'id = $1', [id], asKnownAt, '', manager);
    return rows[0] ?? null;
  }

  /** All versions of one record, oldest first. */
  async versions<R extends RecordVersion>(type: RecordClass<R>, id: string): Promise<R[]> {
    const { columnList, metadata } = this.shape(type);
    const rows: Record<string, unknown>[] = await this.dataSource.query(
      `select ${columnList} from ${metadata.tableName} where id = $1 order by version`,
      [id],
    );
    return rows.map((row) => this.hydrate(type, row));
  }

  /** One version of one record, or null. */
  async version<R extends RecordVersion>(type: RecordClass<R>, id: string, version: number): Promise<R | null> {
    const all = await this.versions(type, id);
    return all.find((row) => row.version === version) ?? null;
  }

  /**
   * The versions known at `asKnownAt` (null: now) that meet `condition`, an SQL expression over column names whose
   * parameters are `$1`…; `tail` is an ORDER BY and LIMIT. Void records are left out unless the condition says
   * otherwise by naming `state`.
   */
  async select<R extends RecordVersion>(
    type: RecordClass<R>,
    condition: string,
    parameters: readonly unknown[],
    asKnownAt: string | null,
    tail = '',
    manager: EntityManager = this.dataSource.manager,
  ): Promise<R[]> {
    const { columnList, metadata } = this.shape(type);
    const known = asKnownAt === null ? 'known_until is null' : KNOWN_AT.replaceAll('?', `$${parameters.length + 1}`);
    const values = asKnownAt === null ? [...parameters] : [...parameters, asKnownAt];
    const rows: Record<string, unknown>[] = await manager.query(
      `select ${columnList} from ${metadata.tableName} where (${condition}) and ${known} ${tail}`,
      values,
    );
    return rows.map((row) => this.hydrate(type, row));
  }

  private async close(tx: Transaction, type: EntityClass, id: string, version: number): Promise<void> {
    const { tableName } = this.shape(type).metadata;
    // The instant moves on where a clock stepped back, since versions of a record must follow one another.
    const result: [unknown[], number] = await tx.manager.query(
      `update ${tableName} set known_until = $3
        where id = $1 and version = $2 and known_until is null and known_from < $3`,
      [id, version, tx.knownAt],
    );
    if (result[1] !== 1) throw new StaleVersion(tableName, id, version);
  }

  private async insert<R extends RecordVersion>(
    tx: Transaction,
    type: RecordClass<R>,
    row: NewVersion<R>,
    version: number,
  ): Promise<R> {
    const { insert, written } = this.shape(type);
    const whole = {
      ...row,
      version,
      knownFrom: tx.knownAt,
      knownUntil: null,
      keyedBy: tx.actor.personId,
      deviceId: tx.actor.deviceId,
      requestId: tx.actor.requestId,
    } as unknown as R;
    const values = written.map((column) => toDatabase(column, property(whole, column.propertyName)));
    const rows: Record<string, unknown>[] = await tx.manager.query(insert, values);
    return this.hydrate(type, rows[0] ?? {});
  }

  private shape(type: EntityClass): Shape {
    const known = this.shapes.get(type);
    if (known !== undefined) return known;
    const metadata = this.dataSource.getMetadata(type);
    const written = metadata.columns.filter((column) => column.generatedType === undefined);
    const columnList = written.map((column) => column.databaseName).join(', ');
    const places = written.map((_, index) => `$${index + 1}`).join(', ');
    const insert = `insert into ${metadata.tableName} (${columnList}) values (${places}) returning ${columnList}`;
    const shape = { metadata, written, insert, columnList };
    this.shapes.set(type, shape);
    return shape;
  }

  private hydrate<R extends RecordVersion>(type: RecordClass<R>, row: Record<string, unknown>): R {
    const record = new type();
    for (const column of this.shape(type).written) {
      Object.assign(record, { [column.propertyName]: fromDatabase(column, row[column.databaseName]) });
    }
    return record;
  }
}

const KNOWN_AT = 'known_from <= ?::timestamptz and (known_until is null or known_until > ?::timestamptz)';

function property(row: object, name: string): unknown {
  return (row as Record<string, unknown>)[name];
}
