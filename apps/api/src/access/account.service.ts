import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { inTransaction, type Actor } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import { AccessNews } from './access-news.js';
import type { PasswordInput, SignInAnswer, SignInInput } from './account.dto.js';
import { Credentials } from './credentials.js';
import { passwordFault } from './password-rules.js';
import { Sessions } from './sessions.js';

/** What people do with their own access. */
@Injectable()
export class AccountService {
  constructor(
    private readonly dataSource: DataSource,
    private readonly credentials: Credentials,
    private readonly sessions: Sessions,
    private readonly news: AccessNews,
  ) {}

  /** Opens a session for the person with this name and password. */
  async signIn({ name, password }: SignInInput, sender: string): Promise<SignInAnswer> {
    const { id, name: fullName, roles } = await this.credentials.prove(name, password, sender);
    const session = await this.sessions.open(id);
    return { ...session, person: { id, name: fullName, roles } };
  }

  /** Changes the caller's password and ends all their sessions. A wrong current password counts as a failed sign-in. */
  async changePassword(actor: Actor, { current, next }: PasswordInput, sender: string): Promise<void> {
    const owner = await this.ownerOf(actor.personId);
    await this.credentials.prove(owner.signInName, current, sender);
    const fault = next === current ? 'another than the current one' : passwordFault(next, owner);
    if (fault !== null) throw refusedField('unfit-password', 'next', null, fault);
    const digest = await this.credentials.digestOf(next);
    await inTransaction(this.dataSource, actor, null, async (tx) => {
      await this.credentials.keep(tx, actor.personId, digest);
      await this.sessions.endAllOf(tx, actor.personId);
    });
    this.news.changed();
  }

  private async ownerOf(personId: string): Promise<{ name: string; signInName: string }> {
    const rows: { name: string; sign_in_name: string }[] = await this.dataSource.query(
      'select name, sign_in_name from person where id = $1 and known_until is null',
      [personId],
    );
    return { name: rows[0]?.name ?? '', signInName: rows[0]?.sign_in_name ?? '' };
  }
}
