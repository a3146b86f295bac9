import { microseconds } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { Instrument } from '../instruments/instrument.entity.js';
import type { Finding } from '../records/plausibility.js';
import type { InspectionRunInput } from './inspection-run.dto.js';
import type { InspectionRun } from './inspection-run.entity.js';

type Said = Pick<InspectionRunInput, 'observedAt' | 'endedAt' | 'channelIds' | 'settings' | 'endReason'>;

/** What does not go together in a run: an end that is not after its start, a channel twice, a setting of none of its channels, or two of one. */
export function runFaults({ observedAt, endedAt = null, channelIds, settings, endReason = null }: Said): FieldProblem[] {
  const set = settings.map(({ channelId }) => channelId);
  return [
    ...(endedAt !== null && microseconds(endedAt) <= microseconds(observedAt) ? [{ field: 'endedAt', value: endedAt, limit: `after the start, ${observedAt}` }] : []),
    ...(endReason !== null && endedAt === null ? [{ field: 'endReason', value: endReason, limit: 'only of a run that ended' }] : []),
    ...doubleIds('channelIds', channelIds),
    ...set.flatMap((channelId, index): FieldProblem[] => {
      const field = `settings[${index}].channelId`;
      if (!channelIds.includes(channelId)) return [{ field, value: channelId, limit: 'a channel of this run' }];
      return set.indexOf(channelId) < index ? [{ field, value: channelId, limit: 'each channel once' }] : [];
    }),
  ];
}

/** Ids that a list of channels says twice. */
export function doubleIds(field: string, ids: readonly string[]): FieldProblem[] {
  return ids.flatMap((id, index) => (ids.indexOf(id) === index ? [] : [{ field: `${field}[${index}]`, value: id, limit: 'each channel once' }]));
}

/** What the database says of a record of a run whose channels changed at the same moment. */
export const RUN_LOST_CHANNELS = { field: 'runId', limit: 'a run of this string that has these channels' };

/** Channels that a record of a run names and the run does not have. */
export function strangeChannels(fields: Readonly<Record<string, string>>, { channelIds }: Pick<InspectionRun, 'channelIds'>): FieldProblem[] {
  return Object.entries(fields).flatMap(([field, id]) => (channelIds.includes(id) ? [] : [{ field, value: id, limit: 'a channel of its run' }]));
}

type Times = Pick<InspectionRun, 'observedAt' | 'endedAt' | 'channelIds'>;

/** Another run of one of its channels at the same time is taken and marked: one of the two has another start or end. */
export function runFindings(run: Times, others: readonly (Times & Pick<InspectionRun, 'id'>)[]): Finding[] {
  return others.filter((other) => overlap(run, other)).slice(0, 1).map(({ observedAt, endedAt }) => ({
    tier: 'noted', field: 'observedAt', value: run.observedAt,
    limit: `one run of a channel at a time: one of ${observedAt} ${endedAt === null ? 'goes on' : `ends at ${endedAt}`}`,
  }));
}

function overlap(one: Times, other: Times): boolean {
  const isBefore = (first: Times, second: Times): boolean => first.endedAt !== null && microseconds(first.endedAt) <= microseconds(second.observedAt);
  return one.channelIds.some((id) => other.channelIds.includes(id)) && !isBefore(one, other) && !isBefore(other, one);
}

/** What a channel is checked on is a reference standard; another instrument is taken and marked. */
export function standardFindings(standard: Pick<Instrument, 'kind' | 'number'> | null): Finding[] {
  if (standard === null || standard.kind === 'reference-standard') return [];
  return [{ tier: 'noted', field: 'standardId', value: standard.number, limit: `a reference standard; it is on record as a ${standard.kind}` }];
}
