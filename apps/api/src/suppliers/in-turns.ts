import { setImmediate } from 'node:timers/promises';

/** Runs `work` to its end, with everything else that waits getting its turn at each of its yields. Throws what it throws. */
export async function inTurns<T>(work: Generator<undefined, T>): Promise<T> {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    await setImmediate();
  }
}
