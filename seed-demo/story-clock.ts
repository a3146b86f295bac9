import { Clock, instantOf, microseconds, type Instant } from '#libs/persistence';

/**
 * The demo's clock is the story's clock; it exists only in the player. The player makes an application of its own with
 * it, which never listens, so that no request from outside is ever recorded at another time than the database's.
 */
export class StoryClock extends Clock {
  private nowUs = 0;

  /** Sets the clock to a moment of the story. It never goes back, since versions follow one another. */
  set(instant: Instant): void {
    this.nowUs = Math.max(this.nowUs, microseconds(instant));
  }

  /** A microsecond passes with every transaction. */
  override knownAt(): Instant {
    this.nowUs += 1;
    return instantOf(this.nowUs);
  }
}
