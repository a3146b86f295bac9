import { joinedWhere, speedOf, type CountedStep } from './counted-steps.js';

/** What counts as a stop. */
export interface StopRule {
  /** The line stands where it goes at this speed or slower, m/min. */
  readonly slowMPerMin: number;
  /** It has stopped once that lasts so long, s. */
  readonly leastSeconds: number;
}

/**
 * Stretches of time, by steps of the counter one after the other, in which the line stood or went slower than the rule says for as
 * long as it says. Between two readings nobody knows when it stood: a stop shorter than the time between them is not seen.
 */
export const stopsOf = (steps: readonly CountedStep[], { slowMPerMin, leastSeconds }: StopRule): CountedStep[] =>
  joinedWhere(steps, (step) => speedOf(step) <= slowMPerMin).filter(({ fromUs, toUs }) => toUs - fromUs >= leastSeconds * 1e6);

/** Stretches of time in which the pipe moved back: from the footage at which it turned to the one that it went back to. */
export const reversalsOf = (steps: readonly CountedStep[]): CountedStep[] => joinedWhere(steps, ({ fromMm, toMm }) => toMm < fromMm);

/** A stretch of pipe that went by outside of a window of speed. */
export interface OddSpeed extends CountedStep {
  readonly side: 'too-slow' | 'too-fast';
  /** Of its steps the slowest, or the fastest, m/min. */
  readonly worstMPerMin: number;
}

/**
 * Steps faster or slower than the window, m/min, both its ends included in it; those on one side that follow each other joined, unless
 * more than `gapMm` lies between them. Pipe that did not move was not inspected, at any speed.
 */
export function oddSpeeds(steps: readonly CountedStep[], fromMPerMin: number, toMPerMin: number, gapMm = 0): OddSpeed[] {
  const found: OddSpeed[] = [];
  let before: CountedStep | null = null;
  for (const step of steps.filter(({ fromMm, toMm }) => Math.round(fromMm) !== Math.round(toMm))) {
    const speed = speedOf(step);
    const side = speed < fromMPerMin ? 'too-slow' : speed > toMPerMin ? 'too-fast' : null;
    const last = found.at(-1);
    const goesOn = last?.side === side && last.toUs === before?.toUs && Math.abs(step.fromMm - last.toMm) <= gapMm && Math.sign(last.toMm - last.fromMm) === Math.sign(step.toMm - step.fromMm);
    if (side !== null && last !== undefined && goesOn) {
      const worstMPerMin = side === 'too-slow' ? Math.min(last.worstMPerMin, speed) : Math.max(last.worstMPerMin, speed);
      found[found.length - 1] = { ...last, toUs: step.toUs, toMm: step.toMm, worstMPerMin };
    } else if (side !== null) found.push({ ...step, side, worstMPerMin: speed });
    before = step;
  }
  return found;
}
