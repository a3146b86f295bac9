import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { run, type Actor } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import { Credentials, type KnownPerson } from './credentials.js';

/** How a signer was proved, as signatures keep it. */
export const SIGNED_BY = 'secret entered again';

/** Proves who signs: the person who is signed in, by the secret entered again for this one signature. */
@Injectable()
export class Signers {
  constructor(
    private readonly dataSource: DataSource,
    private readonly credentials: Credentials,
  ) {}

  /** Refuses with 403 when the secret is wrong: it counts as a failed sign-in, and who is signed in stays so. */
  async prove(actor: Actor, secret: string, sender: string): Promise<KnownPerson> {
    const { rows } = await run<{ sign_in_name: string }>(this.dataSource.manager, 'select sign_in_name from person where id = $1 and known_until is null', [actor.personId]);
    try {
      return await this.credentials.prove(rows[0]?.sign_in_name ?? '', secret, sender);
    } catch (error) {
      if (!(error instanceof Refused) || error.status !== 401) throw error;
      throw new Refused(403, 'wrong-secret', 'The secret is not yours: nothing was signed.', [{ field: 'secret', value: null, limit: 'your own secret' }]);
    }
  }
}
