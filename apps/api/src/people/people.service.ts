import { Injectable } from '@nestjs/common';
import type { Actor, Transaction } from '#libs/persistence';
import { AccessNews } from '../access/access-news.js';
import { Credentials } from '../access/credentials.js';
import { passwordFault } from '../access/password-rules.js';
import { Sessions } from '../access/sessions.js';
import { malformed, Refused, refusedField } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import type { RecordAnswer } from '../records/record.dto.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { digestOf, type WriteRequest } from '../records/write-request.js';
import { PersonInput, type PersonContent } from './person.dto.js';
import { Person } from './person.entity.js';
import { changesAccess, losesAdministration, rolesFault } from './person.rules.js';

/** Any number, the same everywhere: who takes administration away waits for whoever does so at the same moment. */
const ADMINISTRATORS_LOCK = 4_113_067_922_501;

@Injectable()
export class PeopleService extends RecordsService<Person, PersonInput, PersonContent> {
  readonly kind = 'person';
  readonly entity = Person;
  readonly input = PersonInput;
  protected override readonly constraints = {
    uq_person_sign_in_name: { field: 'signInName', limit: 'a sign-in name that nobody else has' },
  };
  /** Digests of first passwords, by the write that carries them into its transaction. */
  private readonly firstPasswords = new WeakMap<Actor, string>();

  constructor(
    desk: RecordDesk,
    private readonly credentials: Credentials,
    private readonly sessions: Sessions,
    private readonly news: AccessNews,
  ) {
    super(desk);
  }

  /**
   * Makes a person with a first `password`. It is taken out of the body before anything else sees it, so that neither
   * the record's digest nor the fingerprint kept with an idempotency key can be used to guess it.
   */
  override async create(body: unknown, request: WriteRequest): Promise<RecordAnswer & PersonContent> {
    const { password, ...record } = Object(body) as Record<string, unknown>;
    const input = parsed(PersonInput, Array.isArray(body) ? body : record);
    const fault = passwordFault(password, input);
    if (fault !== null || typeof password !== 'string') {
      throw malformed([{ field: 'password', value: null, limit: fault ?? 'text' }]);
    }
    const actor = { ...request.actor };
    this.firstPasswords.set(actor, await this.credentials.digestOf(password));
    const key = request.key === null ? null : { ...request.key, fingerprint: digestOf(['person', record]) };
    return super.create(record, { ...request, actor, key });
  }

  override async amend(id: string, body: unknown, request: WriteRequest): Promise<RecordAnswer & PersonContent> {
    const answer = await super.amend(id, body, request);
    this.news.changed();
    return answer;
  }

  override async void(id: string, reason: string, request: WriteRequest): Promise<RecordAnswer & PersonContent> {
    const answer = await super.void(id, reason, request);
    this.news.changed();
    return answer;
  }

  protected content(_tx: Transaction, { name, signInName, roles, active }: PersonInput): Content<Person> {
    const fault = rolesFault(roles);
    if (fault !== null) throw refusedField('unfit-roles', 'roles', roles, fault);
    return { name, signInName, roles, active };
  }

  protected present({ name, signInName, roles, active }: Person): PersonContent {
    return { name, signInName, roles, active };
  }

  protected override async afterWrite(tx: Transaction, row: Person, before: Person | null): Promise<void> {
    if (before === null) {
      const digest = this.firstPasswords.get(tx.actor);
      if (digest !== undefined) await this.credentials.keep(tx, row.id, digest);
      return;
    }
    if (changesAccess(before, row)) {
      if (row.id === tx.actor.personId) {
        throw new Refused(403, 'own-access', 'Nobody changes their own roles: another administrator does that.');
      }
      if (losesAdministration(before, row)) await this.demandAdministrator(tx);
      await this.sessions.endAllOf(tx, row.id);
    }
    await this.news.announce(tx);
  }

  private async demandAdministrator(tx: Transaction): Promise<void> {
    await tx.manager.query('select pg_advisory_xact_lock($1)', [ADMINISTRATORS_LOCK]);
    const left: unknown[] = await tx.manager.query(
      `select 1 from person where known_until is null and state = 'active' and active and 'administrator' = any(roles) limit 1`,
    );
    if (left.length === 0) {
      throw new Refused(409, 'last-administrator', 'This is the last active administrator: make another one first.');
    }
  }
}
