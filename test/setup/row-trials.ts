import type { EntityManager } from 'typeorm';
import type { TestApi } from './api.js';
import { firstVersion, idOf, insertRow, trial, type Columns } from './record-rows.js';

/** What is tried in a transaction. */
export type Work = (manager: EntityManager) => Promise<unknown>;

/** When first versions end here, and second ones begin. */
export const CLOSED_AT = '2026-03-02T10:00:00.000002Z';

/** Inserts the first version of the `nth` record of a table. */
export const another = (manager: EntityManager, table: string, nth: number, changes: Columns = {}): Promise<void> =>
  insertRow(manager, table, firstVersion(table, { id: idOf(table, nth), ...changes }));

/** Closes the first version of the `nth` record of a table and adds the second. */
export async function amend(manager: EntityManager, table: string, nth: number, changes: Columns = {}): Promise<void> {
  const id = idOf(table, nth);
  await manager.query(`update ${table} set known_until = $2 where id = $1`, [id, CLOSED_AT]);
  await insertRow(manager, table, firstVersion(table, { id, version: '2', known_from: CLOSED_AT, reason: 'Read again', ...changes }));
}

/** What the database says to `work`, tried as the application and as the owner: one word when both hear the same. */
export async function saidToBoth({ dataSource, owner }: TestApi, work: Work): Promise<string> {
  const answers = [await trial(dataSource, work), await trial(owner, work)];
  return [...new Set(answers)].join(' to the application, to the owner ');
}
