import type { DataSource, EntityManager } from 'typeorm';
import type pg from 'pg';

/** What a statement gave: its rows, and how many it changed. */
export interface Outcome<Row> {
  readonly rows: Row[];
  readonly count: number;
}

type Queryable = Pick<pg.Pool, 'query'>;

/** Names of statements by their text. The texts are the program's own, so there are only so many. */
const NAMES = new Map<string, string>();

function nameOf(text: string): string {
  const known = NAMES.get(text);
  if (known !== undefined) return known;
  const name = `everymetre_${NAMES.size}`;
  NAMES.set(text, name);
  return name;
}

async function connection(manager: EntityManager): Promise<Queryable> {
  const runner = manager.queryRunner;
  if (runner !== undefined) return (await runner.connect()) as Queryable;
  return (manager.dataSource.driver as unknown as { master: Queryable }).master;
}

/**
 * Runs one statement where `manager` works: in its transaction, or on any connection of the pool. The statement is
 * prepared under a name, so that a connection parses and plans it once; its text must therefore be one of few, with
 * everything that varies among its values. Throws pg's own errors.
 */
export async function run<Row extends object>(
  manager: EntityManager,
  text: string,
  values: readonly unknown[],
): Promise<Outcome<Row>> {
  const client = await connection(manager);
  const { rows, rowCount } = await client.query<Row & pg.QueryResultRow>({ name: nameOf(text), text, values: [...values] });
  return { rows, count: rowCount ?? 0 };
}

/** As `run`, of many rows: each as its values in the order of the columns, which costs less than naming them row by row. */
export async function runRows(manager: EntityManager, text: string, values: readonly unknown[]): Promise<unknown[][]> {
  const client = await connection(manager);
  return (await client.query<unknown[]>({ name: nameOf(text), text, values: [...values], rowMode: 'array' })).rows;
}

/** Runs `work` on one connection: statements it does not wait for between are sent together. */
export async function onOneConnection<T>(dataSource: DataSource, work: (manager: EntityManager) => Promise<T>): Promise<T> {
  const runner = dataSource.createQueryRunner();
  try {
    await runner.connect();
    return await work(runner.manager);
  } finally {
    await runner.release();
  }
}
