import { setTimeout } from 'node:timers/promises';
import { expect } from '@jest/globals';
import type { DataSource, EntityManager } from 'typeorm';
import type { TestApi } from './api.js';
import { asActor, firstVersion, idOf, insertRow, trial, type Columns } from './record-rows.js';

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

/**
 * Has `first` written but not committed while `second` is tried in a transaction of its own, which has to wait. Gives what
 * `second` is answered once `first` is committed. What `first` wrote stays.
 */
export async function raced({ dataSource, owner }: TestApi, first: Work, second: Work): Promise<string> {
  const runner = dataSource.createQueryRunner();
  await runner.startTransaction();
  try {
    await asActor(runner.manager);
    await first(runner.manager);
    const answers: string[] = [];
    const answer = trial(dataSource, second).then((state) => answers.push(state));
    while (answers.length === 0 && !(await isAnyWaiting(owner))) await setTimeout(10);
    expect(answers).toEqual([]);
    await runner.commitTransaction();
    await answer;
    return answers.join();
  } finally {
    await runner.release();
  }
}

/** True when a connection to this file's database waits for a lock. */
async function isAnyWaiting(owner: DataSource): Promise<boolean> {
  const waiting: unknown[] = await owner.query(
    "select 1 from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'",
  );
  return waiting.length > 0;
}
