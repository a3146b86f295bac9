import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { run, type Transaction } from '#libs/persistence';

/** Stands for what every string's answers may show: wells, surveys, heats, certificates, coils. */
export const SHARED = '00000000-0000-0000-0000-000000000000';

/** Called inside the transaction that changed what positions on `stringId` rest on; `cause` goes into their history. */
export type Follower = (tx: Transaction, stringId: string, cause: string) => Promise<void>;

/**
 * Carries the news that a string's length model changed, from the record that changed to whoever holds positions
 * derived from it, so that neither needs to know the other.
 */
@Injectable()
export class StringChanges {
  private readonly followers: Follower[] = [];
  private readonly touched = new WeakMap<Transaction, Set<string>>();

  /** Has `follower` called on every later change. */
  follow(follower: Follower): void {
    this.followers.push(follower);
  }

  /** True when `tx` itself changed the string's length model: what it sees is not committed yet. */
  hasTouched(tx: Transaction, stringId: string): boolean {
    return this.touched.get(tx)?.has(stringId) ?? false;
  }

  /** Marks cached models of the string as old. */
  async touch(tx: Transaction, stringId: string): Promise<void> {
    const strings = this.touched.get(tx) ?? new Set<string>();
    this.touched.set(tx, strings.add(stringId));
    await tx.manager.query(
      `insert into string_revision (string_id, revision) values ($1, 1)
       on conflict (string_id) do update set revision = string_revision.revision + 1`,
      [stringId],
    );
  }

  /** The revision as a transaction that holds the string's lock sees it. */
  async revisionIn(tx: Transaction, stringId: string): Promise<string> {
    return tx.locked?.about === stringId ? tx.locked.revision : this.revision(tx.manager, stringId);
  }

  /** Moves whenever the string's own model does, or what all strings share; empty before the first change. */
  async revision(manager: EntityManager, stringId: string): Promise<string> {
    const { rows } = await run<{ revision: string }>(manager, 'select revision_of($1) as revision', [stringId]);
    return rows[0]?.revision ?? '';
  }

  /** Marks cached models as old and has every position that rests on the change derived again. */
  async announce(tx: Transaction, stringId: string, cause: string): Promise<void> {
    await this.touch(tx, stringId);
    for (const follower of this.followers) await follower(tx, stringId, cause);
  }
}
