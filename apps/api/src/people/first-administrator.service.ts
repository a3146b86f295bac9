import { Injectable } from '@nestjs/common';
import { v7 as uuidv7 } from 'uuid';
import type { NewVersion } from '#libs/persistence';
import { Credentials } from '../access/credentials.js';
import { passwordFault } from '../access/password-rules.js';
import { isPrintable } from '../http/fields.js';
import { Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { Person } from './person.entity.js';

export interface FirstAdministrator {
  readonly name: string;
  readonly signInName: string;
  readonly password: string;
  /** A new one when absent. */
  readonly id?: string;
}

/** Any number, the same in every process: two first administrators made at once are one. */
const FIRST_LOCK = 4_113_067_922_502;

/** Makes the administrator with whom everything begins. There is no route to it: it is called by command only. */
@Injectable()
export class FirstAdministratorService {
  constructor(
    private readonly desk: RecordDesk,
    private readonly credentials: Credentials,
  ) {}

  /**
   * Makes the administrator, entered by themselves, since there is nobody else. Gives the id. Refuses names and
   * passwords that are not fit, and everything while there is an active administrator.
   */
  async make(administrator: FirstAdministrator): Promise<string> {
    const { name, signInName, password } = administrator;
    if (!isPrintable(name, 1, 120)) throw unfit('name', '1 to 120 printable characters');
    if (!isPrintable(signInName, 2, 80)) throw unfit('sign-in name', '2 to 80 printable characters');
    const fault = passwordFault(password, administrator);
    if (fault !== null) throw unfit('password', fault);
    return this.enter({ id: uuidv7(), ...administrator }, await this.credentials.digestOf(password));
  }

  private async enter({ id, name, signInName }: FirstAdministrator & { id: string }, passwordDigest: string): Promise<string> {
    const actor = { personId: id, via: 'command', requestId: uuidv7(), deviceId: null };
    await this.desk.transaction(actor, null, async (tx) => {
      await tx.manager.query('select pg_advisory_xact_lock($1)', [FIRST_LOCK]);
      const active = await this.desk.store.select(
        Person, "state = 'active' and active and 'administrator' = any(roles)", [], null, 'limit 1', tx.manager,
      );
      if (active.length > 0) {
        throw new Refused(409, 'administrator-exists', 'There is an active administrator already: people are made by them.');
      }
      const content = { name, signInName, roles: ['administrator' as const], active: true };
      const row: NewVersion<Person> = {
        ...content, id, state: 'active', observedAt: tx.knownAt, doneBy: id, source: 'keyed', reason: null, marks: [],
        digest: digestOf({ ...content, id }),
      };
      await this.desk.store.append(tx, Person, row);
      await this.credentials.keep(tx, id, passwordDigest);
    });
    return id;
  }
}

const unfit = (what: string, limit: string): Refused => new Refused(422, 'unfit', `The ${what} must be: ${limit}.`);
