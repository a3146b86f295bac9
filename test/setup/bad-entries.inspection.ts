import type { EntryKind } from './bad-entries.js';
import { INTERVAL } from './bad-entries.pipe.js';
import { agreement, atWrite, contradiction, EVERYWHERE, impossible, leadsNowhere, oneOf, outOfForm } from './entry-faults.js';

const AT = '2026-03-02T12:15:00Z';

const CHANNELS: EntryKind = {
  path: 'channels',
  right: ({ stringId }, nth) => ({
    observedAt: AT, stringId, name: `ET-X${nth}`, measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', clockFromDeg: '345', clockToDeg: '15',
    sampling: { per: 'length', everyMm: '1.0' }, threshold: { sense: 'above', level: '60' }, required: true, missingValues: ['-999'], saturatesAt: { high: '100', low: '0' },
    plausible: { from: '0', to: '100' }, speedWindow: { fromMPerMin: '4', toMPerMin: '18' }, repeats: 'best',
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('name', 'ET seam', '', '-ET', 'É-1', 'x'.repeat(41)), outOfForm('measures', 'thickness', 'Speed'), outOfForm('missingValues', ['nothing'], '-999', [-999], ['-999,0']),
    outOfForm('clockFromDeg', '361', '-1', '11 h'), outOfForm('sampling.per', 'metre', null), outOfForm('threshold.level', '60 %', 60), outOfForm('required', 'yes', null, 1),
    outOfForm('stuckAfter', 1, 0, '400', 2.5), outOfForm('checkEveryMinutes', 0, -240, '4 h'), outOfForm('repeats', 'first', null), outOfForm('unit', ' ', 5),
    contradiction('an amplitude by no method', 'method', () => null, { touches: ['measures'] }),
    contradiction('a speed by a method', 'measures', () => 'speed', { touches: ['method'], named: () => [{ field: 'method', value: 'ET' }] }),
    contradiction('half of what it sees', 'clockToDeg', () => null, { touches: ['clockFromDeg'] }),
    contradiction('sampled by length with no step', 'sampling.everyMm', () => null, { touches: ['sampling.per', 'sampling.everyMs'] }),
    contradiction('sampled by length and time', 'sampling.everyMs', oneOf('20', '0.5'), { touches: ['sampling.per'] }),
    contradiction('a range that falls', 'plausible.to', oneOf('0', '-5', '0.00')),
    contradiction('saturation upside down', 'saturatesAt.high', oneOf('-1', '0')),
    contradiction('speeds upside down', 'speedWindow.toMPerMin', oneOf('4', '3.9')),
    ...leadsNowhere('stringId', ['channelId', 'gaugeId']),
    atWrite('a name taken', 'name', oneOf('ET-X0', 'et-x0'), { touches: ['stringId'] }),
  ],
};

const RUNS: EntryKind = {
  path: 'inspection-runs',
  right: ({ stringId, channelId, otherChannelId, standardId }) => ({
    observedAt: AT, stringId, endedAt: '2026-03-02T14:00:00Z', channelIds: [channelId, otherChannelId], settings: [{ channelId: otherChannelId, gainDb: '42.5', threshold: '60' }],
    standardId, endReason: 'End of shift',
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('channelIds', [], null, 'ET-A', ['ET-A']), outOfForm('endedAt', '14:00', '2026-02-30T14:00:00Z'), outOfForm('settings[0].gainDb', '42,5', 42.5, '900'), outOfForm('counter', '', ' '),
    contradiction('it ends before it starts', 'endedAt', oneOf(AT, '2026-03-02T12:14:59Z', '2001-01-01T00:00:00Z'), { touches: ['observedAt'] }),
    contradiction('why it ended though it goes on', 'endedAt', () => null, { touches: ['endReason'], named: () => [{ field: 'endReason', value: 'End of shift' }] }),
    contradiction('a channel twice', 'channelIds[1]', ({ channelId }) => channelId, {
      touches: ['channelIds', 'channelIds[0]', 'settings'], named: (value, { otherChannelId }) => [{ field: 'channelIds[1]', value }, { field: 'settings[0].channelId', value: otherChannelId }],
    }),
    contradiction('a setting of a channel that it does not have', 'settings[0].channelId', ({ idleChannelId }) => idleChannelId, { touches: ['channelIds'] }),
    ...leadsNowhere('channelIds[0]', ['voidChannelId', 'channelElsewhereId', 'gaugeId'], { touches: ['channelIds', 'stringId'] }),
    ...leadsNowhere('standardId', ['voidGaugeId', 'channelId']),
  ],
};

const MARKS: EntryKind = {
  path: 'signal-marks',
  right: ({ stringId, runId, channelId, otherChannelId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, runId, channelIds: [channelId, otherChannelId], effect: 'not-valid', cause: 'probe-lifted',
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL,
    outOfForm('effect', 'ignored', null), outOfForm('cause', 'rain', 'Splice'), outOfForm('channelIds', [], null, ['ET-A']), outOfForm('runId', 'last', null),
    contradiction('another cause without words', 'cause', () => 'other', { touches: ['note'], named: () => [{ field: 'note', value: null }] }),
    contradiction('a channel twice', 'channelIds[1]', ({ channelId }) => channelId, { touches: ['channelIds', 'channelIds[0]'] }),
    ...leadsNowhere('runId', ['voidRunId', 'runElsewhereId', 'channelId'], { touches: ['channelIds'] }),
    agreement('a channel of no run', 'channelIds[0]', ({ idleChannelId }) => idleChannelId, { touches: ['channelIds', 'runId', 'from', 'from.footageMm', 'to'] }),
  ],
};

const REFERENCE_CHECKS: EntryKind = {
  path: 'reference-checks',
  right: ({ stringId, runId, standardId, channelId, otherChannelId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, runId, standardId, mode: 'dynamic', occasion: 'interval',
    results: [
      { channelId, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: '74.5', threshold: '60', sense: 'above' },
      { channelId: otherChannelId, reflector: 'N10 outside', amplitude: '≥ 100', threshold: '60', sense: 'above' },
    ],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('mode', 'quick', null), outOfForm('occasion', 'lunch', 'Start'), outOfForm('results[0].threshold', '60 %', 60, null), outOfForm('results[1].sense', 'over', null),
    outOfForm('results[0].reflector', '', ' '), outOfForm('from.footageMm', -5, 1.5, '10000'), outOfForm('runId', 'last', 3),
    impossible('digits that are none', 'results[0].amplitude', oneOf('74,5', 'full', '74.5 %', '7 4')),
    impossible('only a sign', 'results[1].amplitude', oneOf('<', '≥')),
    contradiction('nowhere', 'from', () => ({}), { touches: ['from.footageMm'], named: () => [{ field: 'from', value: null }] }),
    contradiction('counted without a result', 'results', () => [], {
      touches: ['results[0].threshold', 'results[1].sense', 'results[0].reflector', 'results[0].amplitude', 'results[1].amplitude', 'voidReason', 'runId'],
    }),
    contradiction('a reflector of a channel twice', 'results[1].channelId', ({ channelId }) => channelId, {
      touches: ['results', 'results[0].reflector', 'results[0].channelId'], named: () => [{ field: 'results[1].reflector', value: 'N10 outside' }],
    }),
    ...leadsNowhere('runId', ['voidRunId', 'runElsewhereId', 'channelId'], { touches: ['results'] }), ...leadsNowhere('standardId', ['voidGaugeId', 'runId']),
    agreement('a channel of no run', 'results[0].channelId', ({ idleChannelId }) => idleChannelId, { touches: ['results', 'runId', 'from', 'from.footageMm'] }),
    atWrite('past the end of the string', 'from.footageMm', () => 4_000_001, { touches: ['from'], status: 422, named: () => [{ field: 'from', value: 4_000_001 }] }),
  ],
};

/** Channels of the line, their runs, marks in their signals, and their reference checks. */
export const INSPECTION_ENTRIES: readonly EntryKind[] = [CHANNELS, RUNS, MARKS, REFERENCE_CHECKS];
