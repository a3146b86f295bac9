import { IntervalSet } from '#libs/intervals';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import type { LookedPipeOf, LookedRun } from './looked-pipe.service.js';

/** Pipe that a detection looked at with a channel (null: with any of them), less what marks say by now is not valid. */
export function lookedAt({ runs }: Pick<LookedPipeOf, 'runs'>, channelId: string | null, marks: readonly SignalMark[]): IntervalSet {
  return runs.filter((run) => channelId === null || run.channelId === channelId)
    .map((run) => run.pipe.subtract(notValid(run, marks))).reduce((sum, pipe) => sum.union(pipe), IntervalSet.empty);
}

function notValid({ channelId, runId }: LookedRun, marks: readonly SignalMark[]): IntervalSet {
  const own = marks.filter((mark) => mark.effect === 'not-valid' && mark.runId === runId && mark.channelIds.includes(channelId));
  return IntervalSet.from(own.map(({ span }) => span));
}
