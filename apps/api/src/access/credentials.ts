import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import type { Transaction } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import { ACCOUNT_RULE, ADDRESS_RULE, waitMs, WINDOW_MS } from './backoff.js';
import { PasswordHasher } from './password-hasher.js';
import type { Role } from './permissions.js';

/** Who signs in. */
export interface KnownPerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
}

interface PersonRow extends KnownPerson {
  password_hash: string | null;
}

const PERSON = `
select p.id, p.name, p.roles, c.password_hash
  from person p left join credential c on c.person_id = p.id
 where lower(p.sign_in_name) = lower($1) and p.known_until is null and p.state = 'active' and p.active`;

const FAILURES = (condition: string): string => `
select extract(epoch from clock_timestamp() - at)::float8 * 1000 as age_ms from sign_in_failure
 where ${condition} and at > clock_timestamp() - interval '${WINDOW_MS / 60_000} minutes' order by at desc limit 64`;

/** Checks passwords, slows down guessing, and keeps digests of passwords. */
@Injectable()
export class Credentials {
  constructor(
    private readonly dataSource: DataSource,
    private readonly hasher: PasswordHasher,
  ) {}

  /**
   * The active person with this sign-in name and password. Refuses with 401 when there is none, telling nothing of
   * which of the two was wrong, and with 429 while the account or the sender has to wait. The wait is looked up in
   * turn, just before the comparison, so that tries sent all at once do not pass it together.
   */
  async prove(signInName: string, password: string, sender: string): Promise<KnownPerson> {
    return this.hasher.inTurn(async () => {
      await this.demandNoWait(signInName, sender);
      const rows: PersonRow[] = await this.dataSource.query(PERSON, [signInName]);
      const person = rows[0];
      const right = await this.hasher.matches(person?.password_hash ?? null, password);
      if (right && person !== undefined) return { id: person.id, name: person.name, roles: person.roles };
      await this.dataSource.query(
        'insert into sign_in_failure (sign_in_name, address, at) values ($1, $2, clock_timestamp())',
        [signInName, sender],
      );
      throw new Refused(401, 'wrong-sign-in', 'No active person has this name and password.');
    });
  }

  /** The digest to keep of a password that was found fit. */
  async digestOf(password: string): Promise<string> {
    return this.hasher.inTurn(() => this.hasher.hash(password));
  }

  /** Sets the digest of a person's password, when `tx` commits. */
  async keep(tx: Transaction, personId: string, digest: string): Promise<void> {
    await tx.manager.query(
      `insert into credential (person_id, password_hash) values ($1, $2)
       on conflict (person_id) do update set password_hash = excluded.password_hash, changed_at = clock_timestamp()`,
      [personId, digest],
    );
  }

  private async demandNoWait(signInName: string, sender: string): Promise<void> {
    const byAccount = await this.ages('lower(sign_in_name) = lower($1)', signInName);
    const byAddress = await this.ages('address = $1', sender);
    const wait = Math.max(waitMs(byAccount, 0, ACCOUNT_RULE), waitMs(byAddress, 0, ADDRESS_RULE));
    if (wait === 0) return;
    throw new Refused(429, 'sign-in-wait', 'Too many sign-ins failed. Wait, then try again.', [], {
      retryAfterSeconds: Math.ceil(wait / 1000),
    });
  }

  /** When the latest failures were, in ms before now by the database's clock: negative numbers. */
  private async ages(condition: string, value: string): Promise<number[]> {
    const rows: { age_ms: number }[] = await this.dataSource.query(FAILURES(condition), [value]);
    return rows.map((row) => -row.age_ms);
  }
}
