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
  const parameters = [tx.actor.personId, key.text];
  const claimed: unknown[] = await tx.manager.query(
    `insert into request_key (actor_id, key, fingerprint) values ($1, $2, $3)
     on conflict do nothing returning key`,
    [...parameters, key.fingerprint],
  );
  if (claimed.length === 1) return;
  const rows: KeyRow[] = await tx.manager.query(
    'select fingerprint, body from request_key where actor_id = $1 and key = $2',
    parameters,
  );
  if (rows[0]?.fingerprint !== key.fingerprint) {
    throw new Refused(422, 'key-reused', 'This idempotency key was used for another request.', [
      { field: 'Idempotency-Key', value: key.text, limit: 'a new key for a new request' },
    ]);
  }
  throw new AlreadyDone(rows[0].body);
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
