import type { DataSource, EntityManager, EntityMetadata } from 'typeorm';
import { readerOf, writerOf, type Convert } from './column-values.js';
import type { EntityClass } from './data-source.js';
import type { RecordVersion } from './record.js';
import { run, runRows } from './statements.js';
import { openingValues, type Actor, type WriteLock, type Transaction } from './transaction.js';
import { WriteTurns } from './write-turns.js';

type Row = Record<string, unknown>;


export type RecordClass<R extends RecordVersion> = new () => R;

/** What a caller gives of a version; the store adds the rest. */
export type NewVersion<R extends RecordVersion> = Omit<
  R,
  'version' | 'one' | 'knownFrom' | 'knownUntil' | 'enteredAt' | 'keyedBy' | 'deviceId' | 'requestId'
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

/** Versions that stand, by id and number, and how many versions there are in all. */
export interface StandingSince {
  readonly versions: number;
  readonly standing: readonly { readonly id: string; readonly version: number }[];
}

/** A column that versions are written with and read from. */
interface Field {
  readonly property: string;
  readonly column: string;
  readonly type: string;
  /** The SQL type of a parameter for it. */
  readonly cast: string;
  readonly read: Convert;
  readonly write: Convert;
}

interface Shape {
  readonly metadata: EntityMetadata;
  readonly fields: readonly Field[];
  /** Those of all its fields. */
  readonly properties: readonly string[];
  /** The fields of lists of properties asked for before. */
  readonly chosen: WeakMap<readonly string[], readonly Field[]>;
  readonly insert: string;
  readonly insertAlone: string;
  /** Without the row as an answer. */
  readonly insertOnly: string;
  /** The same for `ROWS_AT_ONCE` rows. */
  readonly insertSome: string;
  /** So many rows, with them as an answer. */
  readonly insertReturning: (rows: number) => string;
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

  /**
   * The first version of a record that is all its transaction writes, in one journey to the database: the opening of the
   * write and the row are one statement, with the same checks in the same order. `revision` is that of the string's
   * knowledge the row was derived from; null is answered, and nothing written, when the string has moved on since.
   */
  async appendAlone<R extends RecordVersion>(
    actor: Actor,
    lock: WriteLock,
    revision: string,
    type: RecordClass<R>,
    row: NewVersion<R>,
  ): Promise<R | null> {
    const { insertAlone, fields } = this.shape(type);
    const whole = wholeRow(row, 1, actor, null);
    const values = [...valuesOf(fields, whole), ...openingValues(actor, lock), revision];
    const { rows } = await WriteTurns.of(this.dataSource).run(() => run<Row>(this.dataSource.manager, insertAlone, values));
    return rows[0] === undefined ? null : this.hydrate(type, rows[0]);
  }

  /**
   * The first versions of many new records, sent together: none waits for the answer to another. Throws the database's
   * refusal of the first that is not taken.
   */
  async appendAll<R extends RecordVersion>(tx: Transaction, type: RecordClass<R>, rows: readonly NewVersion<R>[]): Promise<void> {
    const { insertOnly, insertSome, fields } = this.shape(type);
    const values = rows.map((row) => valuesOf(fields, wholeRow(row, 1, tx.actor, tx.knownAt)));
    const whole = values.length - (values.length % ROWS_AT_ONCE);
    const groups = Array.from({ length: whole / ROWS_AT_ONCE }, (_, index) => values.slice(index * ROWS_AT_ONCE, (index + 1) * ROWS_AT_ONCE));
    await Promise.all([
      ...groups.map((group) => run(tx.manager, insertSome, group.flat(1))),
      ...values.slice(whole).map((one) => run(tx.manager, insertOnly, one)),
    ]);
  }

  /** The first versions of some new records, in their order. Throws the database's refusal when one is not taken. */
  async appendTogether<R extends RecordVersion>(tx: Transaction, type: RecordClass<R>, rows: readonly NewVersion<R>[]): Promise<R[]> {
    const { fields, insertReturning } = this.shape(type);
    const groups = Array.from({ length: Math.ceil(rows.length / ROWS_AT_ONCE) }, (_, index) => rows.slice(index * ROWS_AT_ONCE, (index + 1) * ROWS_AT_ONCE));
    const inserted = await Promise.all(groups.map(async (group) => {
      const values = group.flatMap((row) => valuesOf(fields, wholeRow(row, 1, tx.actor, tx.knownAt)));
      return (await run<Row>(tx.manager, insertReturning(group.length), values)).rows;
    }));
    const byId = new Map(inserted.flat().map((row) => [row['id'], row]));
    return rows.map(({ id }) => this.hydrate(type, byId.get(id) ?? {}));
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
    const text = `select ${columnList} from ${metadata.tableName} where id = $1 order by version`;
    const { rows } = await run<Row>(this.dataSource.manager, text, [id]);
    return rows.map((row) => this.hydrate(type, row));
  }

  /** The first versions of some records, in the order of their ids. */
  async firstVersions<R extends RecordVersion>(type: RecordClass<R>, ids: readonly string[]): Promise<R[]> {
    const { columnList, metadata } = this.shape(type);
    const text = `select ${columnList} from ${metadata.tableName} where id = any($1::uuid[]) and version = 1 order by id`;
    const { rows } = await run<Row>(this.dataSource.manager, text, [ids]);
    return rows.map((row) => this.hydrate(type, row));
  }

  /** Some versions of some records, each by its id and number; those that do not exist are left out. */
  async someVersions<R extends RecordVersion>(type: RecordClass<R>, wanted: readonly { readonly id: string; readonly version: number }[]): Promise<R[]> {
    if (wanted.length === 0) return [];
    const { columnList, metadata } = this.shape(type);
    const text = `select ${columnList} from ${metadata.tableName} where (id, version) in (select * from unnest($1::uuid[], $2::int4[]))`;
    const { rows } = await run<Row>(this.dataSource.manager, text, [wanted.map(({ id }) => id), wanted.map(({ version }) => version)]);
    return rows.map((row) => this.hydrate(type, row));
  }

  /**
   * The versions that stand and became known at an instant or later, of records that meet `condition`, by id and number; and how
   * many versions of such records there are in all, at the same moment.
   */
  async standingSince<R extends RecordVersion>(type: RecordClass<R>, condition: string, parameters: readonly unknown[], instant: string): Promise<StandingSince> {
    const { tableName } = this.shape(type).metadata;
    const since = `known_until is null and known_from >= $${parameters.length + 1}::timestamptz`;
    const text = `select (select count(*)::int4 from ${tableName} where ${condition}) as versions,
      (select coalesce(json_agg(json_build_object('id', id, 'version', version)), '[]') from ${tableName} where (${condition}) and ${since}) as standing`;
    const { rows } = await run<StandingSince>(this.dataSource.manager, text, [...parameters, instant]);
    return rows[0] ?? { versions: 0, standing: [] };
  }

  /** One version of one record, or null. */
  async version<R extends RecordVersion>(type: RecordClass<R>, id: string, version: number): Promise<R | null> {
    const all = await this.versions(type, id);
    return all.find((row) => row.version === version) ?? null;
  }

  /**
   * The versions known at `asKnownAt` (null: now) that meet `condition`, an SQL expression over column names whose
   * parameters are `$1`…; `tail` is an ORDER BY and LIMIT. Void records are among them: a condition that wants none says
   * `state = 'active'`.
   */
  async select<R extends RecordVersion>(
    type: RecordClass<R>,
    condition: string,
    parameters: readonly unknown[],
    asKnownAt: string | null,
    tail = '',
    manager: EntityManager = this.dataSource.manager,
  ): Promise<R[]> {
    return this.selectSome(type, this.propertiesOf(type), condition, parameters, asKnownAt, tail, manager) as Promise<R[]>;
  }

  /** As `select`, of some properties alone: where there are very many rows, most of the time goes into columns. */
  async selectSome<R extends RecordVersion, P extends keyof R & string>(
    type: RecordClass<R>,
    properties: readonly P[],
    condition: string,
    parameters: readonly unknown[],
    asKnownAt: string | null,
    tail = '',
    manager: EntityManager = this.dataSource.manager,
  ): Promise<Pick<R, P>[]> {
    const fields = this.fieldsOf(type, properties);
    const known = asKnownAt === null ? 'known_until is null' : KNOWN_AT.replaceAll('?', `$${parameters.length + 1}`);
    const values = asKnownAt === null ? [...parameters] : [...parameters, asKnownAt];
    const columns = fields.map(({ column }) => column).join(', ');
    const text = `select ${columns} from ${this.shape(type).metadata.tableName} where (${condition}) and ${known} ${tail}`;
    const rows = await runRows(manager, text, values);
    return rows.map((row) => made(type, fields, (_, index) => row[index]));
  }

  /**
   * Numbers, at most 500, of records of a kind with a `number` that have their `near_number_key` in common with `number`, void
   * ones left out. Others than it may be far from it: a key knows no zeros.
   */
  async numbersNear<R extends RecordVersion>(type: RecordClass<R>, number: string, asKnownAt: string | null): Promise<string[]> {
    const { tableName } = this.shape(type).metadata;
    const known = asKnownAt === null ? 'known_until is null' : KNOWN_AT.replaceAll('?', '$2');
    const { rows } = await run<{ number: string }>(
      this.dataSource.manager,
      `select number from ${tableName} where near_number_key(number) = near_number_key($1) and state = 'active' and ${known} order by number limit 500`,
      asKnownAt === null ? [number] : [number, asKnownAt],
    );
    return rows.map((row) => row.number);
  }

  /**
   * An SQL expression that gives, as JSON, some properties of the versions known at an instant that meet `condition`;
   * `known` is an SQL expression for the instant, null for now. It lets one statement fetch records of several kinds, and
   * no more of them than is needed; `unpack` reads it.
   */
  packed<R extends RecordVersion>(
    type: RecordClass<R>,
    properties: readonly (keyof R & string)[],
    { condition, order, known }: { readonly condition: string; readonly order: string; readonly known: string | null },
  ): string {
    const columns = this.fieldsOf(type, properties).map(({ type: kind, column }) =>
      TEXT_IN_JSON.has(kind) ? `${column}::text` : column,
    );
    const at = known === null ? 'known_until is null' : KNOWN_AT.replaceAll('?', known);
    return `(select coalesce(json_agg(json_build_array(${columns.join(', ')}) order by ${order}), '[]')
      from ${this.shape(type).metadata.tableName} where (${condition}) and ${at})`;
  }

  /** The rows of a `packed` expression of the same properties. */
  unpack<R extends RecordVersion, P extends keyof R & string>(
    type: RecordClass<R>,
    properties: readonly P[],
    rows: readonly (readonly unknown[])[],
  ): Pick<R, P>[] {
    const fields = this.fieldsOf(type, properties);
    return rows.map((values) => made(type, fields, (_, index) => values[index]));
  }

  /** As `packed`, with all that a version says. */
  packedWhole<R extends RecordVersion>(type: RecordClass<R>, of: Parameters<RecordStore['packed']>[2]): string {
    return this.packed(type, this.propertiesOf(type), of);
  }

  /** The rows of a `packedWhole` expression. */
  unpackWhole<R extends RecordVersion>(type: RecordClass<R>, rows: readonly (readonly unknown[])[]): R[] {
    return this.unpack(type, this.propertiesOf(type), rows) as R[];
  }

  private propertiesOf<R extends RecordVersion>(type: RecordClass<R>): readonly (keyof R & string)[] {
    return this.shape(type).properties as readonly (keyof R & string)[];
  }

  private fieldsOf<R extends RecordVersion>(type: RecordClass<R>, properties: readonly (keyof R & string)[]): readonly Field[] {
    const shape = this.shape(type);
    const kept = shape.chosen.get(properties);
    if (kept !== undefined) return kept;
    const fields = properties.flatMap((property) => shape.fields.filter((field) => field.property === property));
    shape.chosen.set(properties, fields);
    return fields;
  }

  private async close(tx: Transaction, type: EntityClass, id: string, version: number): Promise<void> {
    const { tableName } = this.shape(type).metadata;
    // The instant moves on where a clock stepped back, since versions of a record must follow one another.
    const { count } = await run(
      tx.manager,
      `update ${tableName} set known_until = $3
        where id = $1 and version = $2 and known_until is null and known_from < $3`,
      [id, version, tx.knownAt],
    );
    if (count !== 1) throw new StaleVersion(tableName, id, version);
  }

  private async insert<R extends RecordVersion>(
    tx: Transaction,
    type: RecordClass<R>,
    row: NewVersion<R>,
    version: number,
  ): Promise<R> {
    const { insert, fields } = this.shape(type);
    const whole = wholeRow(row, version, tx.actor, tx.knownAt);
    const { rows } = await run<Row>(tx.manager, insert, valuesOf(fields, whole));
    return this.hydrate(type, rows[0] ?? {});
  }

  private shape(type: EntityClass): Shape {
    const known = this.shapes.get(type);
    if (known !== undefined) return known;
    const metadata = this.dataSource.getMetadata(type);
    const written = metadata.columns.filter((column) => column.generatedType === undefined);
    const fields = written.map((column) => ({
      property: column.propertyName,
      column: column.databaseName,
      type: String(column.type),
      cast: column.isArray ? `${String(column.type)}[]` : String(column.type),
      read: readerOf(column),
      write: writerOf(column),
    }));
    const columnList = fields.map(({ column }) => column).join(', ');
    const places = fields.map((_, index) => `$${index + 1}`).join(', ');
    const insertOnly = `insert into ${metadata.tableName} (${columnList}) values (${places})`;
    const insert = `${insertOnly} returning ${columnList}`;
    const shape: Shape = {
      metadata, fields, properties: fields.map(({ property }) => property), chosen: new WeakMap(), insert, insertAlone: insertAlone(metadata.tableName, fields),
      insertOnly, insertSome: insertSome(metadata.tableName, fields, ROWS_AT_ONCE), columnList,
      insertReturning: remembering((rows) => `${insertSome(metadata.tableName, fields, rows)} returning ${columnList}`),
    };
    this.shapes.set(type, shape);
    return shape;
  }

  private hydrate<R extends RecordVersion>(type: RecordClass<R>, row: Row): R {
    return made(type, this.shape(type).fields, ({ column }) => row[column]);
  }
}

/** Texts by a number, each made once. */
function remembering(make: (count: number) => string): (count: number) => string {
  const made = new Map<number, string>();
  return (count) => {
    const text = made.get(count) ?? make(count);
    made.set(count, text);
    return text;
  };
}

function made<R extends RecordVersion>(
  type: RecordClass<R>,
  fields: readonly Field[],
  valueOf: (field: Field, index: number) => unknown,
): R {
  const record = new type();
  const properties = record as unknown as Record<string, unknown>;
  fields.forEach((field, index) => {
    properties[field.property] = field.read(valueOf(field, index));
  });
  return record;
}

/** JSON would take the digits or the microseconds from these, or does not know them. */
const TEXT_IN_JSON: ReadonlySet<string> = new Set(['numeric', 'timestamptz', 'int8', 'int8range', 'int8multirange', 'tstzrange']);

const KNOWN_AT = 'known_from <= ?::timestamptz and (known_until is null or known_until > ?::timestamptz)';

/** Rows of one statement where there are many: each statement costs a journey of its own through the connection. */
const ROWS_AT_ONCE = 10;

function insertSome(table: string, fields: readonly Field[], count: number): string {
  const row = (nth: number): string => fields.map(({ cast }, index) => `$${nth * fields.length + index + 1}::${cast}`).join(', ');
  const rows = Array.from({ length: count }, (_, nth) => `(${row(nth)})`);
  return `insert into ${table} (${fields.map(({ column }) => column).join(', ')}) values ${rows.join(', ')}`;
}

/** The statement of `appendAlone`: the row's values, then the arguments of `open_write`, then the revision. */
function insertAlone(table: string, fields: readonly Field[]): string {
  const columns = fields.map(({ column }) => column).join(', ');
  const next = fields.length + 1;
  const values = fields.map(({ column, cast }, index) =>
    column === 'known_from' ? `coalesce($${index + 1}::${cast}, opened.known_at)` : `$${index + 1}::${cast}`,
  );
  return `with opened as materialized (
      select known_at, revision
        from open_write($${next}::text, $${next + 1}::text, $${next + 2}::text, $${next + 3}::uuid, $${next + 4}::boolean))
    insert into ${table} (${columns})
    select ${values.join(', ')} from opened where opened.revision = $${next + 5}::text returning ${columns}`;
}

/** A version with the columns that the writing itself decides. */
function wholeRow<R extends RecordVersion>(row: NewVersion<R>, version: number, actor: Actor, knownFrom: string | null): object {
  const { personId: keyedBy, deviceId, requestId } = actor;
  // Assigned, not spread: spreading so many fields costs twenty times as much.
  return Object.assign({}, row, { version, knownFrom, knownUntil: null, keyedBy, deviceId, requestId });
}

function valuesOf(fields: readonly Field[], whole: object): unknown[] {
  return fields.map((field) => field.write(property(whole, field.property)));
}

function property(row: object, name: string): unknown {
  return (row as Record<string, unknown>)[name];
}
