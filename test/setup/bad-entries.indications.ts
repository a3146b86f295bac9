import type { EntryKind } from './bad-entries.js';
import { INTERVAL } from './bad-entries.pipe.js';
import { atWrite, contradiction, EVERYWHERE, leadsNowhere, oneOf, outOfForm } from './entry-faults.js';

const AT = '2026-03-02T12:15:00Z';

const RULES: EntryKind = {
  path: 'indication-rules',
  right: ({ stringId, channelId, otherChannelId }, nth) => ({
    observedAt: AT, stringId, name: 'Seam', revision: `X${nth}`, minimumLengthMm: 3, combiningMm: 10, bridgedGapMm: 2, jointMm: 0, excludes: ['splice', 'reference-standard'], spliceMarginMm: 50,
    repeats: 'latest', requirement: 'UT-04 rev 2, 6.1',
    channels: [{ channelId, sense: 'above', threshold: '50', release: '30' }, { channelId: otherChannelId, sense: 'below', threshold: '4.6', release: '4.8' }],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('name', '', ' ', 5), outOfForm('minimumLengthMm', -1, 0.5, '3', null), outOfForm('combiningMm', -10, '10 mm', 100_001), outOfForm('bridgedGapMm', -2, 2.5),
    outOfForm('spliceMarginMm', -1, '50'), outOfForm('excludes', ['rain'], 'splice', null), outOfForm('repeats', 'first', 'Latest', null), outOfForm('channels[0].sense', 'over', null),
    outOfForm('channels[1].threshold', '4,6', 4.6, '4.6 mm', null), outOfForm('channels[0].speaksForMm', 0, -2, '2'),
    contradiction('a channel twice', 'channels[1].channelId', ({ channelId }) => channelId, { touches: ['channels', 'channels[0].channelId'] }),
    contradiction('a release level beyond the threshold', 'channels[0].release', oneOf('50.1', '51', '500'), { touches: ['channels[0].sense', 'channels[0].threshold'] }),
    contradiction('a release level below one that must not be', 'channels[1].release', oneOf('4.59', '0', '-4.8'), { touches: ['channels[1].sense', 'channels[1].threshold'] }),
    ...leadsNowhere('channels[0].channelId', ['voidChannelId', 'channelElsewhereId', 'gaugeId']), ...leadsNowhere('stringId', ['planId'], { touches: ['channels'] }).map((fault) => ({
      ...fault, spoil: (...given: Parameters<typeof fault.spoil>) => {
        const named = fault.spoil(...given);
        const [entry] = given;
        const ids = (entry['channels'] as { channelId: string }[]).map(({ channelId }) => channelId);
        return [...named, ...ids.map((value, index) => ({ field: `channels[${index}].channelId`, value }))];
      },
    })),
    atWrite('a revision taken', 'revision', oneOf('X0', 'x0'), { touches: ['name', 'stringId'] }),
  ],
};

const DETECTIONS: EntryKind = {
  path: 'detections',
  right: ({ stringId, ruleId }) => ({ observedAt: AT, stringId, ruleId, fromMm: 1_000, toMm: 9_000 }),
  faults: [
    ...EVERYWHERE,
    outOfForm('ruleId', 'Seam', null, 5), outOfForm('fromMm', -1, 1.5, '1000', 100_000_001), outOfForm('asKnownAt', 'now', '2026-02-30T08:00:00Z', 5),
    contradiction('an interval the wrong way', 'toMm', oneOf(1_000, 999, 1), { touches: ['fromMm'] }),
    contradiction('what nobody can know yet', 'asKnownAt', oneOf('2199-12-31T00:00:00Z', '2150-01-01T00:00:00+01:00')),
    ...leadsNowhere('ruleId', ['voidRuleId', 'ruleElsewhereId', 'channelId'], { touches: ['stringId'] }),
  ],
};

const PEAK = ['peak', 'peakUnit', 'peakIsBound'];

const INDICATIONS: EntryKind = {
  path: 'indications',
  right: ({ stringId, channelId, otherChannelId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, channelIds: [channelId, otherChannelId], method: 'ET', peak: '78.4', peakUnit: '%', peakIsBound: false,
    clockDeg: '90', surface: 'formed-inside', imperfection: 'penetrator',
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL,
    outOfForm('channelIds', 'ET-A', ['ET-A'], null), outOfForm('clockDeg', '361', '-1', '3 h', 90), outOfForm('surface', 'outer', 'inside'), outOfForm('imperfection', '', ' ', 7),
    contradiction('seen by no method', 'method', () => null),
    contradiction('a peak of no unit', 'peakUnit', () => null, { touches: PEAK }),
    contradiction('a peak of which nobody says whether it is a bound', 'peakIsBound', () => null, { touches: PEAK }),
    contradiction('a unit of no peak', 'peak', () => null, { touches: PEAK, named: () => [{ field: 'peakUnit', value: '%' }, { field: 'peakIsBound', value: false }] }),
    contradiction('a channel twice', 'channelIds[1]', ({ channelId }) => channelId, { touches: ['channelIds', 'channelIds[0]'], named: (value) => [{ field: 'channelIds', value: [value, value] }] }),
    ...leadsNowhere('channelIds[0]', ['voidChannelId', 'channelElsewhereId', 'ruleId'], { touches: ['channelIds'] }),
  ],
};

const EVALUATIONS: EntryKind = {
  path: 'indication-evaluations',
  right: ({ stringId, indicationId, gaugeId, repairId, cutOutId, examinationId }) => ({
    observedAt: AT, stringId, indicationId, relevant: true, method: 'UT', technique: 'UT-07 rev 1', instrumentId: gaugeId, measuredDepthMm: '0.30', measuredLengthMm: '38', remainingWallMm: '4.67',
    limitText: 'Plan 6.2', limitMinWallMm: '4.50', limitMaxDepthMm: '0.40', verdict: 'accept', level: '2', repairId, cutOutId, examinationId,
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('relevant', 'yes', null, 1), outOfForm('verdict', 'fine', 'Accept', null), outOfForm('level', '4', 2, 'II', null), outOfForm('measuredLengthMm', '38 mm', -38, '-1'), outOfForm('causeWords', '', ' '),
    outOfForm('timeLeft', { minutes: '60' }, '60', 5),
    contradiction('a cause of what is relevant', 'cause', oneOf('splice', 'stop', 'noise', 'geometry'), { touches: ['relevant', 'causeWords'] }),
    contradiction('of nothing', 'relevant', () => false, { touches: ['cause', 'causeWords', 'verdict'], named: () => [{ field: 'cause', value: null }] }),
    contradiction('another cause without words', 'cause', () => 'other', { touches: ['relevant', 'causeWords', 'verdict'], besides: () => ({ relevant: false }), named: () => [{ field: 'causeWords', value: null }] }),
    contradiction('noise that is repaired', 'verdict', oneOf('repair', 'cut-out'), { touches: ['relevant', 'cause', 'causeWords'], besides: () => ({ relevant: false, cause: 'noise' }) }),
    contradiction('a technique of no method', 'method', () => null, { touches: ['technique'], named: () => [{ field: 'technique', value: 'UT-07 rev 1' }] }),
    contradiction('a limit that nothing sets', 'limitText', () => null),
    contradiction('a limit of no depth', 'measuredDepthMm', () => null, { touches: ['limitMaxDepthMm', 'verdict'], named: () => [{ field: 'limitMaxDepthMm', value: '0.40' }] }),
    contradiction('accepted though too deep', 'measuredDepthMm', oneOf('0.41', '0.400001', '4'), { touches: ['verdict', 'limitMaxDepthMm', 'remainingWallMm', 'limitMinWallMm'], named: () => [{ field: 'verdict', value: 'accept' }] }),
    contradiction('accepted though too thin', 'remainingWallMm', oneOf('4.49', '4.499999', '1'), { touches: ['verdict', 'limitMinWallMm', 'measuredDepthMm', 'limitMaxDepthMm'], named: () => [{ field: 'verdict', value: 'accept' }] }),
    ...leadsNowhere('indicationId', ['voidIndicationId', 'indicationElsewhereId', 'channelId']), ...leadsNowhere('instrumentId', ['voidGaugeId', 'channelId']),
    ...leadsNowhere('repairId', ['voidRepairId', 'repairElsewhereId']), ...leadsNowhere('cutOutId', ['voidCutOutId', 'cutOutElsewhereId']), ...leadsNowhere('examinationId', ['examinationElsewhereId', 'repairId']),
  ],
};

/** Rules of indications, their runs over samples, what people see, and what they make of it. */
export const INDICATION_ENTRIES: readonly EntryKind[] = [RULES, DETECTIONS, INDICATIONS, EVALUATIONS];
