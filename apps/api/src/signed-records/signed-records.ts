import { StaleVersion, type Actor, type StringRecordVersion, type Transaction } from '#libs/persistence';
import type { Signers } from '../access/signers.js';
import type { Slots } from '../access/slots.js';
import { Refused } from '../http/problem.js';
import { parsedWithSecrets } from '../http/secret-fields.js';
import type { RecordAnswer } from '../records/record.dto.js';
import type { RecordDesk } from '../records/record-desk.js';
import { RecordsReader } from '../records/records-reader.js';
import { SignedWithdrawalInput } from './signed-withdrawal.dto.js';

/** Where such rows are kept. */
export interface SignedRows<R> {
  find(id: string, asKnownAt: string | null): Promise<R | null>;
  /** Throws StaleVersion when somebody did already. */
  withdraw(tx: Transaction, row: R, reason: string): Promise<R>;
}

/** What is to be signed: its id by the client, the fingerprint of the request, and the string whose records it rests on. */
export interface ToSign {
  readonly actor: Actor;
  readonly id: string;
  readonly digest: string;
  readonly stringId: () => Promise<string>;
}

/** What people sign about a string by entering their secret again: written once, never amended, withdrawn at most. */
export abstract class SignedRecords<R extends StringRecordVersion, C extends object> extends RecordsReader<R, C> {
  protected abstract readonly rows: SignedRows<R>;
  /** Each holds a connection to the database while others read for it. */
  protected abstract readonly slots: Slots;

  constructor(
    desk: RecordDesk,
    protected readonly signers: Signers,
  ) {
    super(desk);
  }

  /**
   * Writes what is signed, under the lock of its string, so that no record of it comes in between what was seen and what is signed.
   * A repeat with the same id has the effect of one; refuses with 409 when the id names another one.
   */
  protected async signedOnce({ actor, id, digest, stringId }: ToSign, write: (tx: Transaction) => Promise<R>): Promise<RecordAnswer & C> {
    const first = await this.rows.find(id, null);
    if (first !== null) return this.again(first, digest);
    const about = await stringId();
    try {
      return await this.slots.run(() => this.desk.transaction(actor, { about, mode: 'exclusive' }, async (tx) => this.answer(await write(tx))));
    } catch (error) {
      // Sent twice at once: the other one was first.
      const other = await this.rows.find(id, null);
      if (other === null) throw error;
      return this.again(other, digest);
    }
  }

  /** Withdraws one. Refuses with 403 when the secret is wrong, with 404 when there is none, with 409 when it was withdrawn already. */
  async withdraw(actor: Actor, id: string, body: unknown, sender: string): Promise<RecordAnswer & C> {
    const input = parsedWithSecrets(SignedWithdrawalInput, body, ['secret']);
    await this.signers.prove(actor, input.secret, sender);
    const row = await this.row(id, null);
    if (row.state === 'void') throw this.withdrawnAlready(id);
    try {
      return await this.desk.transaction(actor, { about: row.stringId, mode: 'exclusive' }, async (tx) => this.answer(await this.rows.withdraw(tx, row, input.reason)));
    } catch (error) {
      throw error instanceof StaleVersion ? this.withdrawnAlready(id) : error;
    }
  }

  private again(first: R, digest: string): RecordAnswer & C {
    if (first.digest === digest) return this.answer(first);
    throw new Refused(409, 'id-taken', `This id names another ${this.kind}.`, [{ field: 'id', value: first.id, limit: 'a new id for each signature' }]);
  }

  private withdrawnAlready(id: string): Refused {
    return new Refused(409, 'void', `The ${this.kind} ${id} was withdrawn already.`);
  }
}
