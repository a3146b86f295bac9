import type { DataSource, EntityManager } from 'typeorm';
import { DatabaseClock, type Clock } from './clock.js';
import { instantFromDatabase } from './column-values.js';
import { sqlStateOf } from './sql-errors.js';
import { onOneConnection, run } from './statements.js';
import { WriteTurns } from './write-turns.js';

/** Who writes, through what, in which request: set in the transaction, demanded by the triggers. */
export interface Actor {
  readonly personId: string;
  /** The session or device the request came through. */
  readonly via: string;
  readonly requestId: string;
  readonly deviceId: string | null;
}

/** How a write stands to the other writes about one thing: a casing string, a coil, a certificate. */
export interface WriteLock {
  /** Its id. */
  readonly about: string;
  /** `exclusive` for what others rest on, such as positions on a string or a signature on a coil; `shared` for the rest. */
  readonly mode: 'shared' | 'exclusive';
}

/** One open transaction: the manager to work with and the one instant at which all it writes becomes known. */
export interface Transaction {
  readonly manager: EntityManager;
  readonly actor: Actor;
  readonly knownAt: string;
  /** What it holds the lock of, and the revision under the lock of what that shows; a casing string's moves with its model. */
  readonly locked: { readonly about: string; readonly revision: string } | null;
}

const RETRIED = new Set(['40001', '40P01']);
const ATTEMPTS = 5;
const DATABASE_CLOCK = new DatabaseClock();

/**
 * Runs `work` in one READ COMMITTED transaction as `actor` and commits, in its turn (see WriteTurns; throws NoTurn when
 * none comes). The locks that are asked for are taken before the clock is read, each once and in the order of their ids, so
 * that what is known later of a thing also has the later instant. Deadlocks and serialization failures are tried again, five
 * times in all; any other error rolls back and is thrown on.
 */
export async function inTransaction<T>(
  dataSource: DataSource,
  actor: Actor,
  locks: WriteLock | readonly WriteLock[] | null,
  work: (tx: Transaction) => Promise<T>,
  clock: Clock = DATABASE_CLOCK,
): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await WriteTurns.of(dataSource).run(() => once(dataSource, actor, inOrder(locks), work, clock));
    } catch (error) {
      if (attempt === ATTEMPTS || !RETRIED.has(sqlStateOf(error) ?? '')) throw error;
      await new Promise((resolve) => setTimeout(resolve, Math.random() * 20 * attempt));
    }
  }
}

function once<T>(
  dataSource: DataSource,
  actor: Actor,
  locks: readonly WriteLock[],
  work: (tx: Transaction) => Promise<T>,
  clock: Clock,
): Promise<T> {
  const last = locks.at(-1) ?? null;
  return onOneConnection(dataSource, async (manager) => {
    try {
      // Sent together and done in this order: none waits for what another answers.
      const sent = [run(manager, 'begin', []), ...locks.slice(0, -1).map((lock) => hold(manager, lock))];
      const [opened] = await Promise.all([open(manager, actor, last), ...sent]);
      const locked = last === null ? null : { about: last.about, revision: opened.revision };
      const result = await work({ manager, actor, knownAt: clock.knownAt(opened.knownAt), locked });
      await run(manager, 'commit', []);
      return result;
    } catch (error) {
      // Where the connection is lost the server rolls back by itself.
      await run(manager, 'rollback', []).catch(() => undefined);
      throw error;
    }
  });
}

/** Each once, alone where any asks for that, in the order in which every write takes them. */
function inOrder(locks: WriteLock | readonly WriteLock[] | null): readonly WriteLock[] {
  const asked = locks === null ? [] : 'about' in locks ? [locks] : locks;
  const byId = new Map<string, WriteLock>();
  for (const lock of asked) if (byId.get(lock.about)?.mode !== 'exclusive') byId.set(lock.about, lock);
  return [...byId.values()].sort((one, other) => (one.about < other.about ? -1 : 1));
}

/** Takes the lock of one more thing, as `open_write` takes that of the last. */
async function hold(manager: EntityManager, { about, mode }: WriteLock): Promise<void> {
  await run(manager, `select pg_advisory_xact_lock${mode === 'shared' ? '_shared' : ''}(hashtextextended($1::text, 0))`, [about]);
}

/** The arguments of `open_write`, the database function that every write begins with. */
export function openingValues(actor: Actor, lock: WriteLock | null): unknown[] {
  return [actor.personId, actor.via, actor.requestId, lock?.about ?? null, lock?.mode === 'exclusive'];
}

async function open(
  manager: EntityManager,
  actor: Actor,
  lock: WriteLock | null,
): Promise<{ knownAt: string; revision: string }> {
  const text = 'select known_at, revision from open_write($1, $2, $3, $4, $5)';
  const { rows } = await run<{ known_at: string; revision: string }>(manager, text, openingValues(actor, lock));
  return { knownAt: instantFromDatabase(rows[0]?.known_at ?? ''), revision: rows[0]?.revision ?? '' };
}
