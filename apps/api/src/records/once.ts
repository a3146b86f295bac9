import type { EntityManager } from 'typeorm';
import type { Transaction } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import type { WriteRequest } from './write-request.js';

/** Thrown out of the transaction of a repeated request: its effect stands already, and this was the answer. */
export class AlreadyDone extends Error {
  constructor(readonly body: unknown) {
    super('this request was answered before');
  }
}

interface KeyRow {
  fingerprint: string;
  body: unknown;
}

/**
 * Takes the request's key inside its transaction. A second request with the key waits for the first to end; then it
 * gets the first answer again (AlreadyDone), or 422 when it asks for something else.
 */
export async function claimKey(tx: Transaction, key: NonNullable<WriteRequest['key']>): Promise<void> {
  const claimed: unknown[] = await tx.manager.query(
    `insert into request_key (actor_id, key, fingerprint) values ($1, $2, $3)
     on conflict do nothing returning key`,
    [tx.actor.personId, key.text, key.fingerprint],
  );
  if (claimed.length === 1) return;
  throw new AlreadyDone(await keptAnswer(tx.manager, tx.actor.personId, key));
}

/** The answer kept beside a key, or null before there is one. Refuses with 422 when the key was used for something else. */
export async function keptAnswer(manager: EntityManager, actorId: string, key: NonNullable<WriteRequest['key']>): Promise<unknown> {
  const rows: KeyRow[] = await manager.query('select fingerprint, body from request_key where actor_id = $1 and key = $2', [actorId, key.text]);
  const [row] = rows;
  if (row === undefined) return null;
  if (row.fingerprint === key.fingerprint) return row.body;
  throw new Refused(422, 'key-reused', 'This idempotency key was used for another request.', [
    { field: 'Idempotency-Key', value: key.text, limit: 'a new key for a new request' },
  ]);
}

/** Keeps the answer beside the key, in the same transaction as the effect. */
export async function keepAnswer(
  tx: Transaction,
  key: NonNullable<WriteRequest['key']>,
  body: unknown,
): Promise<void> {
  await tx.manager.query('update request_key set status = 200, body = $3 where actor_id = $1 and key = $2', [
    tx.actor.personId,
    key.text,
    JSON.stringify(body),
  ]);
}
