import type { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { metres } from '../destructive-coverage/test-coverage.js';
import { coveredPipe } from '../inspection-coverage/channel-coverage.js';
import type { PipeSoFar } from '../inspection-coverage/passed-pipe.js';
import type { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { CHANNELS, INSPECTION_RUNS, linkOf } from '../recall/record-kinds.js';
import type { UninspectedTailAnswer } from './line-events.dto.js';

/** What of the pipe made has not passed a channel, and whether a run of it still goes on. @param runs of the string */
export function uninspectedTail(channel: Channel, soFar: PipeSoFar, cutOut: IntervalSet, runs: readonly InspectionRun[]): UninspectedTailAnswer {
  const { notYet, required } = coveredPipe({ soFar, goes: [] }, cutOut);
  const own = runs.filter(({ channelIds }) => channelIds.includes(channel.id));
  const last = own.toSorted((a, b) => microseconds(a.endedAt ?? a.observedAt) - microseconds(b.endedAt ?? b.observedAt)).at(-1);
  // One that another follows has ended, whether or not somebody wrote so: a channel is in one run at a time.
  const lastBegun = own.toSorted((a, b) => microseconds(a.observedAt) - microseconds(b.observedAt)).at(-1);
  const isOpen = lastBegun?.endedAt === null;
  const state = soFar.passedMm === null ? 'not-known' : last === undefined ? 'never-inspected' : isOpen ? 'not-yet' : 'runs-ended';
  const place = channel.station ?? 'the weld point';
  const tail = `As of now, the last ${notYet.totalLengthMm} mm have not passed ${place}`;
  const words: Readonly<Record<UninspectedTailAnswer['state'], string>> = {
    'not-yet': `${tail}; a run of the channel goes on.`,
    'runs-ended': `${tail}, and the last run of the channel ended ${last?.endedAt ?? ''}: nothing will inspect them unless another begins.`,
    'never-inspected': `${tail}, and no run of the channel is on record.`,
    'not-known': `No line set-up says where ${place} is: which of the ${soFar.madeMm} mm made have passed it is not known.`,
  };
  return {
    channel: linkOf(CHANNELS, channel), station: channel.station, pipe: metres(soFar.passedMm === null ? required : notYet), state,
    lastRun: state === 'runs-ended' && last !== undefined ? linkOf(INSPECTION_RUNS, last) : null, words: words[state],
  };
}
