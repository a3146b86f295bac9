import type { WeldLog } from '../signals/weld-log.js';

/** From one reading of the counter to the next. */
export interface CountedStep {
  readonly fromUs: number;
  readonly toUs: number;
  /** Footage at the weld point, mm, unrounded. */
  readonly fromMm: number;
  readonly toMm: number;
}

/** The steps of a log, in order of time. */
export const stepsOf = ({ timesUs, footagesMm }: WeldLog): CountedStep[] => timesUs.slice(1).map((toUs, index) =>
  ({ fromUs: timesUs[index] as number, toUs, fromMm: footagesMm[index] as number, toMm: footagesMm[index + 1] as number }));

/** Speed along the pipe whichever way it went, m/min; of no time, infinite. */
export const speedOf = ({ fromUs, toUs, fromMm, toMm }: CountedStep): number => (Math.abs(toMm - fromMm) / (toUs - fromUs)) * 60_000;

/** Steps in a row that all pass a test, joined to one each. */
export function joinedWhere(steps: readonly CountedStep[], test: (step: CountedStep) => boolean): CountedStep[] {
  const found: CountedStep[] = [];
  let isOpen = false;
  for (const step of steps) {
    const last = found.at(-1);
    if (!test(step)) isOpen = false;
    else if (isOpen && last !== undefined) found[found.length - 1] = { ...last, toUs: step.toUs, toMm: step.toMm };
    else {
      found.push(step);
      isOpen = true;
    }
  }
  return found;
}
