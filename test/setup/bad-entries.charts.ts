import type { EntryKind } from './bad-entries.js';
import { agreement, atWrite, contradiction, EVERYWHERE, leadsNowhere, oneOf, outOfForm } from './entry-faults.js';

const AT = '2026-03-02T12:15:00Z';

const CHARTS: EntryKind = {
  path: 'control-charts',
  right: ({ stringId, channelId }, nth) => ({
    observedAt: AT, stringId, code: `WT-${nth}`, title: 'Least wall', characteristic: { of: 'channel', channelIds: [channelId], statistic: 'least', windowMm: 1_000 }, unit: 'mm',
    subgroup: { size: 5, withinMm: 5_000, everyMm: 50_000 }, leaveOut: { aroundSplicesMm: 500, aroundStopsMm: 1_000 }, chart: 'mean-range', rules: ['one-beyond-3-sigma', 'nine-on-one-side'],
    specification: { lower: '4.75', upper: '5.40', target: '5.00', source: 'PS-4 rev 1, 6.1' },
    reaction: { repeat: 'Read again', causes: ['Rolls worn'], adjust: 'Adjust the last stand', decidedBy: 'Shift lead' },
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('code', 'wt-1', 'WT 1', '-W', 'W'.repeat(21), null), outOfForm('title', '', ' ', 'T'.repeat(121), null), outOfForm('unit', '', 5, null),
    outOfForm('characteristic.of', 'wall', null), outOfForm('characteristic.channelIds', 'ET-A', ['ET-A'], 7), outOfForm('characteristic.statistic', 'median', 1),
    outOfForm('characteristic.windowMm', 0, -1, 1.5, '1000'), outOfForm('subgroup.size', 0, 26, 2.5, '5', null), outOfForm('leaveOut.aroundSplicesMm', -1, '500', null),
    outOfForm('chart', 'x-bar', null), outOfForm('rules', 'one-beyond-3-sigma', ['one-beyond'], null), outOfForm('lambda', '0', '1.1', 0.2, '-0.2'), outOfForm('width', '0', '6.1', 2.7),
    outOfForm('batchSize', 1, 1001, '5'), outOfForm('alpha', '0', '0.06', 0.01), outOfForm('specification.source', '', null), outOfForm('specification.lower', 4.75, '4,75', 'none'),
    outOfForm('reaction.causes', [], null, 'Rolls', [''], Array(21).fill('Rolls')), outOfForm('reaction.decidedBy', '', ' ', null),
    contradiction('no channel', 'characteristic.channelIds', oneOf([], null)),
    contradiction('two channels', 'characteristic.channelIds', ({ channelId, otherChannelId }) => [channelId, otherChannelId], { touches: ['chart'] }),
    contradiction('a channel twice', 'characteristic.channelIds', ({ channelId }) => [channelId, channelId], {
      touches: ['chart'], named: (value, { channelId }) => [{ field: 'characteristic.channelIds', value }, { field: 'characteristic.channelIds[1]', value: channelId }],
    }),
    contradiction('samples of no statistic', 'characteristic.statistic', () => null), contradiction('samples of no length', 'characteristic.windowMm', () => null),
    contradiction('a name of a channel', 'characteristic.name', () => 'wall thickness'), contradiction('a reflector of a channel', 'characteristic.reflector', () => 'N10'),
    contradiction('counters of a channel', 'characteristic.counters', oneOf(['main'], ['main', 'exit'])),
    contradiction('single readings as subgroups', 'subgroup.size', () => 1, {
      touches: ['subgroup.withinMm', 'chart'], named: () => [{ field: 'subgroup.size', value: 1 }, { field: 'subgroup.withinMm', value: 5_000 }],
    }),
    contradiction('subgroups that overlap', 'subgroup.withinMm', oneOf(50_000, 50_001), { touches: ['subgroup.everyMm', 'subgroup.size'] }),
    contradiction('no subgroups', 'subgroup', () => null, { touches: ['chart'] }),
    contradiction('no rule', 'rules', () => [], { touches: ['chart'] }),
    contradiction('a rule twice', 'rules', () => ['nine-on-one-side', 'nine-on-one-side'], { touches: ['chart'], named: () => [{ field: 'rules[1]', value: 'nine-on-one-side' }] }),
    ...[['lambda', '0.2'], ['width', '2.7'], ['k', '0.5'], ['h', '5'], ['batchSize', 10], ['alpha', '0.005']].map(([field, value]) =>
      contradiction(`${field} of another chart`, String(field), () => value, { touches: ['chart'] })),
    contradiction('limits the wrong way', 'specification.upper', () => '4.70', { touches: ['specification.lower', 'specification.target'] }),
    contradiction('aimed beyond the limits', 'specification.target', oneOf('4.70', '5.41'), { touches: ['specification.lower', 'specification.upper'] }),
    contradiction('no limit at all', 'specification.lower', () => null, { touches: ['specification.upper', 'specification.target'], besides: () => ({ 'specification.upper': null }) }),
    contradiction('shares of a channel', 'chart', oneOf('p', 'np', 'u'), {
      touches: ['characteristic', 'subgroup', 'specification'],
      named: (value, _, entry) => [{ field: 'chart', value }, ...['subgroup', 'specification'].map((field) => ({ field, value: entry[field] }))],
    }),
    contradiction('vectors of one channel', 'chart', () => 't-squared', {
      touches: ['characteristic', 'subgroup', 'specification', 'rules', 'alpha'],
      named: (_, { channelId }, entry) => [
        { field: 'characteristic.channelIds', value: [channelId] }, { field: 'alpha', value: null }, ...['subgroup', 'rules', 'specification'].map((field) => ({ field, value: entry[field] })),
      ],
    }),
    ...leadsNowhere('characteristic.channelIds[0]', ['voidChannelId', 'channelElsewhereId', 'gaugeId']),
    ...leadsNowhere('stringId', ['planId'], { touches: ['characteristic'], named: (value, { channelId }) => [{ field: 'stringId', value }, { field: 'characteristic.channelIds[0]', value: channelId }] }),
    atWrite('a code taken', 'code', () => 'WT-0', { touches: ['stringId'] }),
  ],
};

const REACTIONS: EntryKind = {
  path: 'chart-reactions',
  right: ({ stringId, chartId, limitsId, gaugeId, unconcededId }) => ({
    observedAt: AT, stringId, chartId, limitsId, answers: [{ panel: 'weighted averages', rule: 'beyond-limit', fromMm: 10_000, toMm: 10_010 }, { panel: 'weighted averages', rule: 'beyond-limit', label: 'LM-03' }],
    reading: 'real', repeatedValue: '1.62', repeatedWithInstrumentId: gaugeId, watchFromMm: 9_000, watchToMm: 10_010, causesLookedAt: ['Scarfing tool worn'], cause: 'Scarfing tool worn',
    action: 'nonconformance', did: 'Tool changed', nonconformanceId: unconcededId,
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('answers', [], null, 'all', 5), outOfForm('answers[0].panel', 'mean', null), outOfForm('answers[0].rule', 'beyond', 'oneBeyond3Sigma', null), outOfForm('answers[0].fromMm', -1, 1.5, '0'),
    outOfForm('answers[1].label', '', ' ', 5), outOfForm('reading', 'maybe', null), outOfForm('repeatedValue', '1,62', 1.62, 'thick'), outOfForm('watchFromMm', -1, '0', 1.5),
    outOfForm('causesLookedAt', null, 'Rolls', ['']), outOfForm('action', 'nothing', null), outOfForm('did', '', ' ', 7), outOfForm('limitsId', 'L-1', null),
    contradiction('a signal the wrong way', 'answers[0].toMm', oneOf(10_000, 9_999), { touches: ['answers[0].fromMm'] }),
    contradiction('a signal without an end', 'answers[0].toMm', () => null, { touches: ['answers[0].fromMm'] }),
    contradiction('a signal without a beginning', 'answers[0].fromMm', () => null, { touches: ['answers[0].toMm'] }),
    contradiction('a signal nowhere', 'answers[1].label', () => null),
    contradiction('repeated and not', 'reading', () => 'not-repeated', { touches: ['repeatedValue'] }),
    contradiction('repeated, with a reason not to', 'notRepeatedBecause', () => 'Strip had gone', { touches: ['repeatedValue'] }),
    contradiction('not repeated, without a reason', 'repeatedValue', () => null, {
      touches: ['notRepeatedBecause', 'repeatedWithInstrumentId'], besides: () => ({ repeatedWithInstrumentId: null }), named: () => [{ field: 'notRepeatedBecause', value: null }],
    }),
    contradiction('an instrument that read nothing', 'repeatedValue', () => null, {
      touches: ['notRepeatedBecause', 'repeatedWithInstrumentId', 'reading'], besides: () => ({ notRepeatedBecause: 'Strip had gone' }), named: (_, { gaugeId }) => [{ field: 'repeatedWithInstrumentId', value: gaugeId }],
    }),
    contradiction('watched the wrong way', 'watchToMm', oneOf(9_000, 8_999), { touches: ['watchFromMm'] }),
    contradiction('watched without an end', 'watchToMm', () => null, { touches: ['watchFromMm'] }),
    contradiction('watched without a beginning', 'watchFromMm', () => null, { touches: ['watchToMm'] }),
    contradiction('a nonconformance of none', 'nonconformanceId', () => null, { touches: ['action'] }),
    contradiction('a nonconformance of an adjustment', 'action', oneOf('adjusted', 'stopped', 'none-needed'), { touches: ['nonconformanceId', 'did'], named: (_, { unconcededId }) => [{ field: 'nonconformanceId', value: unconcededId }] }),
    contradiction('adjusted without a word', 'action', oneOf('adjusted', 'stopped'), { touches: ['did', 'nonconformanceId'], besides: () => ({ did: null, nonconformanceId: null }), named: () => [{ field: 'did', value: null }] }),
    ...leadsNowhere('limitsId', ['limitsElsewhereId', 'chartId', 'gaugeId'], { touches: ['chartId'] }),
    ...leadsNowhere('chartId', ['voidChartId', 'chartElsewhereId', 'gaugeId'], { touches: ['limitsId'], named: (value, { limitsId }) => [{ field: 'chartId', value }, { field: 'limitsId', value: limitsId }] }),
    ...leadsNowhere('repeatedWithInstrumentId', ['voidGaugeId', 'shiftId'], { touches: ['repeatedValue'] }),
    ...leadsNowhere('nonconformanceId', ['concededElsewhereId', 'gaugeId'], { touches: ['action'] }),
    agreement('a signal past the end of the string', 'answers[0].toMm', oneOf(4_000_001, 90_000_000), { touches: ['answers[0].fromMm'] }),
    agreement('watched past the end of the string', 'watchToMm', oneOf(4_000_001, 90_000_000), { touches: ['watchFromMm'] }),
  ],
};

/** Control charts, and what people answered to their signals. */
export const CHART_ENTRIES: readonly EntryKind[] = [CHARTS, REACTIONS];
