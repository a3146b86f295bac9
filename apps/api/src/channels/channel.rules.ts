import { compare, decimal } from '#libs/exact';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { ChannelInput, ChannelMeasure, ChannelSamplingPart } from './channel.dto.js';
import type { ChannelSampling } from './channel.entity.js';

type Said = Pick<ChannelInput, 'measures' | 'method' | 'clockFromDeg' | 'clockToDeg' | 'sampling' | 'saturatesAt' | 'plausible' | 'speedWindow'>;

/** What tells of the process and examines nothing. */
const OF_PROCESS: readonly ChannelMeasure[] = ['weld-power', 'temperature', 'speed'];

const isExamined = (measures: ChannelMeasure): boolean => measures.endsWith('-amplitude');

/** What of a channel does not go together, field by field. */
export function channelFaults(said: Said): FieldProblem[] {
  const { saturatesAt, plausible, speedWindow } = said;
  return [
    ...methodFaults(said), ...clockFaults(said), ...samplingFaults(said.sampling),
    ...rising('saturatesAt.high', saturatesAt?.high, 'low', saturatesAt?.low), ...rising('plausible.to', plausible?.to, 'from', plausible?.from),
    ...rising('speedWindow.toMPerMin', speedWindow?.toMPerMin, 'fromMPerMin', speedWindow?.fromMPerMin),
  ];
}

function methodFaults({ measures, method }: Said): FieldProblem[] {
  if (isExamined(measures) && method == null) return [{ field: 'method', value: null, limit: `the method of examination, for ${measures}` }];
  if (OF_PROCESS.includes(measures) && method != null) return [{ field: 'method', value: method, limit: `no method: ${measures} tells of the process` }];
  return [];
}

function clockFaults({ clockFromDeg = null, clockToDeg = null }: Said): FieldProblem[] {
  if ((clockFromDeg === null) === (clockToDeg === null)) return [];
  const field = clockFromDeg === null ? 'clockFromDeg' : 'clockToDeg';
  return [{ field, value: null, limit: 'both ends of what it sees around the pipe, or neither' }];
}

function samplingFaults({ per, everyMm = null, everyMs = null }: ChannelSamplingPart): FieldProblem[] {
  const [own, other] = per === 'length' ? [['everyMm', everyMm], ['everyMs', everyMs]] as const : [['everyMs', everyMs], ['everyMm', everyMm]] as const;
  return [
    ...(own[1] === null ? [{ field: `sampling.${own[0]}`, value: null, limit: `how far apart samples are, per ${per}` }] : []),
    ...(other[1] === null ? [] : [{ field: `sampling.${other[0]}`, value: other[1], limit: `nothing: it is sampled per ${per}` }]),
  ];
}

function rising(field: string, high: string | null | undefined, lowName: string, low: string | null | undefined): FieldProblem[] {
  if (high == null || low == null || compare(decimal(low), decimal(high)) < 0) return [];
  return [{ field, value: high, limit: `more than the ${low} of ${lowName}` }];
}

/** How it is sampled, as columns; of what goes together. */
export function samplingOf({ per, everyMm, everyMs }: ChannelSamplingPart): ChannelSampling {
  return per === 'length' ? { per, everyMm: everyMm ?? '' } : { per, everyMs: everyMs ?? '' };
}

/** A station that the line set-up of the time does not have is taken and marked: the set-up may come later. */
export function stationFindings(station: string | null, stations: readonly string[]): Finding[] {
  if (station === null || stations.includes(station)) return [];
  return [{ tier: 'noted', field: 'station', value: station, limit: 'a station of the line set-up that holds then' }];
}
