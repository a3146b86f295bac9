import { COVERAGE_FACTOR, roundMm } from '#libs/length';
import type { Channel } from '../channels/channel.entity.js';
import type { StringModel } from '../line/length-models.service.js';
import { CHANNELS, linkOf } from '../recall/record-kinds.js';
import { grouped } from '../suppliers/grouped.js';
import type { PipeAtChannels } from './line-events.dto.js';
import type { CountedStep } from './counted-steps.js';

const NO_SETUP = 'No line set-up of that time says where the station is.';
const ONLY_STRIP = 'Upstream of the weld point: what was here was strip.';
const NOT_REACHED = 'The pipe had not come here.';

/** The pipe at each place where channels are, while the footage at the weld point went from one to another; set-up and cut-outs as when it began. */
export function pipeAtChannels({ line }: StringModel, channels: readonly Channel[], step: CountedStep): PipeAtChannels[] {
  return [...grouped(channels, ({ station }) => station)].map(([station, own]) => {
    const place = { station, channels: own.map((one) => linkOf(CHANNELS, one)) };
    const probe = line.probeAt(station, step.fromUs);
    if (probe === null) return { ...place, pipe: null, plusMinusMm: null, because: NO_SETUP };
    const path = line.setupAt(step.fromUs)?.stations.find(({ name }) => name === station)?.path;
    const plusMinusMm = path === undefined ? 0 : Math.ceil((path.maxMm - path.minMm) / 2 + COVERAGE_FACTOR * path.uMm);
    if (probe.pathMm < 0) return { ...place, pipe: null, plusMinusMm, because: ONLY_STRIP };
    const ends = [step.fromMm, step.toMm].map((mm) => roundMm(probe.materialMm(mm)));
    const [fromMm, toMm] = [Math.max(0, Math.min(...ends)), Math.max(...ends) + 1];
    return toMm <= fromMm ? { ...place, pipe: null, plusMinusMm, because: NOT_REACHED } : { ...place, pipe: { fromMm, toMm }, plusMinusMm, because: null };
  });
}
