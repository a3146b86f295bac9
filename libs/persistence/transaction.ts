import type { DataSource, EntityManager } from 'typeorm';
import { DatabaseClock, type Clock } from './clock.js';
import { instantFromDatabase } from './column-values.js';
import { sqlStateOf } from './sql-errors.js';
import { onOneConnection, run } from './statements.js';

/** Who writes, through what, in which request: set in the transaction, demanded by the triggers. */
export interface Actor {
  readonly personId: string;
  /** The session or device the request came through. */
  readonly via: string;
  readonly requestId: string;
  readonly deviceId: string | null;
}

/** How a write stands to the other writes on one casting string. */
export interface StringLock {
  readonly stringId: string;
  /** `exclusive` for what others' positions rest on, `shared` for the rest. */
  readonly mode: 'shared' | 'exclusive';
}

/** One open transaction: the manager to work with and the one instant at which all it writes becomes known. */
export interface Transaction {
  readonly manager: EntityManager;
  readonly actor: Actor;
  readonly knownAt: string;
}

const RETRIED = new Set(['40001', '40P01']);
const ATTEMPTS = 5;
const DATABASE_CLOCK = new DatabaseClock();

/**
 * Runs `work` in one READ COMMITTED transaction as `actor` and commits. The string lock, when asked for, is taken
 * before the clock is read, so that what is known later on a string also has the later instant. Deadlocks and
 * serialization failures are tried again, five times in all; any other error rolls back and is thrown on.
 * `opening` is read under the lock, on the same journey to the database that takes it, and handed to `work`.
 */
export async function inTransaction<T, O = null>(
  dataSource: DataSource,
  actor: Actor,
  lock: StringLock | null,
  work: (tx: Transaction, opened: O) => Promise<T>,
  settings: { readonly clock?: Clock; readonly opening?: (manager: EntityManager) => Promise<O> } = {},
): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await once(dataSource, actor, lock, work, settings);
    } catch (error) {
      if (attempt === ATTEMPTS || !RETRIED.has(sqlStateOf(error) ?? '')) throw error;
      await new Promise((resolve) => setTimeout(resolve, Math.random() * 20 * attempt));
    }
  }
}

function once<T, O>(
  dataSource: DataSource,
  actor: Actor,
  lock: StringLock | null,
  work: (tx: Transaction, opened: O) => Promise<T>,
  { clock = DATABASE_CLOCK, opening }: { readonly clock?: Clock; readonly opening?: (manager: EntityManager) => Promise<O> },
): Promise<T> {
  return onOneConnection(dataSource, async (manager) => {
    try {
      // Sent together and done in this order: none waits for what another answers.
      const [, entered, opened] = await Promise.all([
        run(manager, 'begin', []),
        enter(manager, actor, lock),
        opening?.(manager) ?? null,
      ]);
      const result = await work({ manager, actor, knownAt: clock.knownAt(entered) }, opened as O);
      await run(manager, 'commit', []);
      return result;
    } catch (error) {
      // Where the connection is lost the server rolls back by itself.
      await run(manager, 'rollback', []).catch(() => undefined);
      throw error;
    }
  });
}

async function enter(manager: EntityManager, actor: Actor, lock: StringLock | null): Promise<string> {
  const locked = lock === null ? 'null' : `${LOCKS[lock.mode]}(hashtextextended($4, 0))`;
  const { rows } = await run<{ known_at: string }>(
    manager,
    `with context as materialized (
       select set_config('app.actor', $1, true), set_config('app.via', $2, true), set_config('app.request', $3, true),
              ${locked} as locked)
     select clock_timestamp() as known_at from context`,
    [actor.personId, actor.via, actor.requestId, ...(lock === null ? [] : [lock.stringId])],
  );
  return instantFromDatabase(rows[0]?.known_at ?? '');
}

const LOCKS = { shared: 'pg_advisory_xact_lock_shared', exclusive: 'pg_advisory_xact_lock' } as const;
