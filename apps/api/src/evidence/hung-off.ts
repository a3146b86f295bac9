/** How much pipe had passed the hang-off at an instant: what is entered later comes too late for that pipe. */
import { materialAtStation } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { StringModel } from '../line/length-models.service.js';
import { footageAtUs, weldLogOf, type WeldLog } from '../signals/weld-log.js';
import type { OnTimeFrom } from './record-testimony.js';

/** What tells how the pipe ran. */
export interface RunningLine extends Pick<StringModel, 'line'> {
  readonly lengths: Pick<StringModel['lengths'], 'nets'>;
  readonly string: Pick<StringModel['string'], 'masterCounter'>;
  readonly readings: readonly Pick<StringModel['readings'][number], 'observedAt' | 'reading'>[];
}

/**
 * By the readings of the master counter and the nearer end of the way to the hang-off, so that pipe that may have passed counts as
 * passed; what passed once has passed, whichever way the line went afterwards. Between readings the line is taken to have run
 * evenly. 0 where nothing says where the hang-off is: nothing can be told as late there.
 */
export function hungOff({ line, lengths, string, readings }: RunningLine): OnTimeFrom {
  const log = weldLogOf(line, string.masterCounter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));
  const passedAt = (atUs: number): number => {
    const path = line.hangOffPathAt(atUs);
    if (path === null) return 0;
    return Math.max(0, Math.round(materialAtStation(footageAtUs(log, atUs), path.minMm, lengths.nets.at(atUs)).bestMm));
  };
  const greatest = runningGreatest(log, passedAt);
  return remembered((instant) => {
    const atUs = microseconds(instant);
    const last = lastAtOrBefore(log, atUs);
    return last < 0 ? 0 : Math.max(greatest[last] as number, passedAt(atUs));
  });
}

/** Each record is asked about by several demands. */
function remembered(onTimeFrom: OnTimeFrom): OnTimeFrom {
  const known = new Map<string, number>();
  return (instant) => {
    const before = known.get(instant);
    if (before !== undefined) return before;
    const found = onTimeFrom(instant);
    known.set(instant, found);
    return found;
  };
}

function runningGreatest({ timesUs }: WeldLog, passedAt: (atUs: number) => number): number[] {
  let greatest = 0;
  return timesUs.map((atUs) => (greatest = Math.max(greatest, passedAt(atUs))));
}

/** Index of the last reading at or before an instant; -1 before the first. */
function lastAtOrBefore({ timesUs }: WeldLog, atUs: number): number {
  let [low, high] = [-1, timesUs.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((timesUs[middle] as number) <= atUs) low = middle;
    else high = middle - 1;
  }
  return low;
}
