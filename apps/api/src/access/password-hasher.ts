import { Injectable } from '@nestjs/common';
import { hash, verify } from '@node-rs/argon2';
import { Configuration } from '../configuration.js';
import { newSecret } from './token.js';
import { canonicalPassword } from './password-rules.js';
import { Slots } from './slots.js';

/** Each hash takes 19 MiB and a core for some 30 ms, so only few are made at once. */
const AT_ONCE = 2;
const MOST_WAITING = 200;

/** Hashes and compares passwords: argon2id, at most two pieces of work at once. */
@Injectable()
export class PasswordHasher {
  private readonly slots = new Slots(AT_ONCE, MOST_WAITING, 'Too many people are signing in just now.');
  private nobodys: Promise<string> | null = null;

  constructor(private readonly configuration: Configuration) {}

  /** Runs `work`, which may call `matches` and `hash`, when its turn comes. */
  async inTurn<T>(work: () => Promise<T>): Promise<T> {
    return this.slots.run(work);
  }

  /** The text to keep of a password. Call it in turn. */
  async hash(password: string): Promise<string> {
    const { memoryKib, passes } = this.configuration.passwordHash;
    return hash(canonicalPassword(password), { memoryCost: memoryKib, timeCost: passes, parallelism: 1 });
  }

  /** True when `password` is the one kept. Takes as long, and is false, when none is kept. Call it in turn. */
  async matches(kept: string | null, password: string): Promise<boolean> {
    this.nobodys ??= this.hash(newSecret());
    const equal = await verify(kept ?? (await this.nobodys), canonicalPassword(password));
    return equal && kept !== null;
  }
}
