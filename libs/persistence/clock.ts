import type { Instant } from './instant.js';

/**
 * Says at which instant what a transaction writes becomes known. The program's clock is the database's; only who plays
 * a story in, in which things became known at their own times, makes the application with another one.
 */
export abstract class Clock {
  /** The instant for a transaction that got its locks when the database's clock said `databaseNow`. */
  abstract knownAt(databaseNow: Instant): Instant;
}

/** The clock of the program in service. */
export class DatabaseClock extends Clock {
  knownAt(databaseNow: Instant): Instant {
    return databaseNow;
  }
}
