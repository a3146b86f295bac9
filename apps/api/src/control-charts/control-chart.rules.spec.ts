import { describe, expect, test } from '@jest/globals';
import { CHART_FAMILIES, CHART_KINDS, type ChartKind } from '#libs/charting';
import { CHARACTERISTICS, type Characteristic } from './control-chart-plan.js';
import type { ChartedCharacteristicPart } from './control-chart.dto.js';
import { charted, chartFaults, chartLabel, specified } from './control-chart.rules.js';

type Chart = Parameters<typeof chartFaults>[0];

/** What each characteristic has to say beside what it is. */
const SAID: Readonly<Record<Characteristic, Partial<ChartedCharacteristicPart>>> = {
  inspected: { name: 'bead height' }, 'rejected-inspections': { name: 'seam', windowMm: 100_000 }, 'splice-reading': { name: 'hardness-weld' }, 'coil-reading': { name: 'thickness' },
  channel: { channelIds: ['c'], statistic: 'least', windowMm: 1_000 }, 'reference-amplitude': { channelIds: ['c'], reflector: 'N10' }, 'counter-ratio': { counters: ['main', 'exit'], windowMm: 10_000 },
  'between-indications': {}, indications: { windowMm: 100_000 }, repairs: { windowMm: 1_000_000 },
};
const FITTING: Readonly<Record<Characteristic, ChartKind>> = {
  inspected: 'mean-range', 'rejected-inspections': 'p', 'splice-reading': 'individuals', 'coil-reading': 'ewma', channel: 'batch-means', 'reference-amplitude': 'cusum', 'counter-ratio': 'residuals',
  'between-indications': 't', indications: 'u', repairs: 'c',
};
const TUNING: Partial<Readonly<Record<ChartKind, Partial<Chart>>>> = {
  ewma: { lambda: '0.2', width: '2.7' }, cusum: { k: '0.5', h: '5' }, 'batch-means': { batchSize: 10 }, 't-squared': { alpha: '0.005' },
};
const unitOf = (of: Characteristic, kind: ChartKind): string =>
  (kind === 'c' ? '1' : ({ 'rejected-inspections': '1', 'counter-ratio': '1', 'between-indications': 'm', indications: '1/m', repairs: '1/km' } as Partial<Record<Characteristic, string>>)[of] ?? 'mm');
const WITHOUT_RULES: readonly ChartKind[] = ['ewma', 'cusum', 't', 'g', 't-squared'];

/** A chart that is right, but for `changes`. */
function chart(of: Characteristic, changes: Partial<Chart> = {}, kind: ChartKind = FITTING[of]): Chart {
  const family = CHART_FAMILIES[kind];
  const isOfReadings = family === 'subgroups' || family === 'values';
  return {
    characteristic: { of, ...SAID[of] }, unit: unitOf(of, kind), chart: kind, rules: WITHOUT_RULES.includes(kind) ? [] : ['one-beyond-3-sigma'], ...TUNING[kind],
    subgroup: isOfReadings ? { size: family === 'subgroups' ? 5 : 1, withinMm: family === 'subgroups' ? 2_000 : 0, everyMm: 50_000 } : null, ...changes,
  };
}
const fields = (one: Chart): string[] => chartFaults(one).map(({ field }) => field);
const saying = (of: Characteristic, changes: Partial<ChartedCharacteristicPart>, kind?: ChartKind): string[] => fields(chart(of, { characteristic: { of, ...SAID[of], ...changes } }, kind));

describe('what a control chart charts', () => {
  test('is right where each characteristic says what it needs, and nothing else', () => {
    expect(CHARACTERISTICS.map((of) => [of, fields(chart(of))])).toEqual(CHARACTERISTICS.map((of) => [of, []]));
    expect(CHARACTERISTICS.map((of) => [of, fields(chart(of, { characteristic: { of } }))])).toEqual(CHARACTERISTICS.map((of) => [of, Object.keys(SAID[of]).map((name) => `characteristic.${name}`).sort(byOrder)]));
    const all = { name: 'seam', channelIds: ['c'], statistic: 'mean', reflector: 'N10', counters: ['main', 'exit'], windowMm: 5 } as const;
    const may = (of: Characteristic): string[] => [...Object.keys(SAID[of]), ...(of === 'indications' || of === 'between-indications' ? ['channelIds'] : [])];
    for (const one of CHARACTERISTICS) {
      const said = saying(one, { ...all, channelIds: [...all.channelIds], counters: [...all.counters], name: SAID[one].name ?? 'seam' });
      expect([one, said]).toEqual([one, Object.keys(all).filter((name) => !may(one).includes(name)).map((name) => `characteristic.${name}`)]);
    }
  });

  test('has a name that splice steps or incoming checks know', () => {
    expect([saying('splice-reading', { name: 'thickness' }), saying('coil-reading', { name: 'hardness-weld' }), saying('inspected', { name: 'anything' })]).toEqual([['characteristic.name'], ['characteristic.name'], []]);
  });

  test('is of one channel, or of 2 to 12 as a vector, each once', () => {
    const many = (count: number): string[] => Array.from({ length: count }, (_, nth) => `c${nth}`);
    const of = (count: number, kind?: ChartKind): string[] => saying('channel', { channelIds: many(count) }, kind);
    expect([of(1), of(2), of(1, 't-squared'), of(2, 't-squared'), of(12, 't-squared'), of(13, 't-squared')]).toEqual([
      [], ['characteristic.channelIds'], ['characteristic.channelIds'], [], [], ['characteristic.channelIds'],
    ]);
    expect(saying('channel', { channelIds: ['a', 'b', 'a'] }, 't-squared')).toEqual(['characteristic.channelIds[2]']);
    expect([saying('reference-amplitude', { channelIds: many(2) }), saying('indications', { channelIds: many(20) }), saying('between-indications', { channelIds: ['a', 'a'] })]).toEqual([
      ['characteristic.channelIds'], [], ['characteristic.channelIds[1]'],
    ]);
  });

  test('is of two counters', () => {
    expect([saying('counter-ratio', { counters: ['main'] }), saying('counter-ratio', { counters: ['main', 'main'] })]).toEqual([['characteristic.counters'], ['characteristic.counters[1]']]);
  });

  test('has the unit that what is counted comes in; what was read has any', () => {
    expect(CHARACTERISTICS.filter((of) => fields(chart(of, { unit: 'kN' })).includes('unit'))).toEqual(['rejected-inspections', 'counter-ratio', 'between-indications', 'indications', 'repairs']);
    expect([fields(chart('indications', { unit: '1' })), fields(chart('indications', { unit: '1/m' }, 'c')), fields(chart('repairs', { unit: '1/m' }, 'u'))]).toEqual([['unit'], ['unit'], ['unit']]);
  });

  test('goes with charts whose points it can make', () => {
    const families = (of: Characteristic): string[] => {
      const right = CHART_KINDS.filter((kind) => !fields(chart(of, {}, kind)).includes('chart'));
      return [...new Set(right.map((kind) => CHART_FAMILIES[kind]))];
    };
    const asRead = ['subgroups', 'values'];
    expect(Object.fromEntries(CHARACTERISTICS.map((of) => [of, families(of)]))).toEqual({
      inspected: asRead, 'splice-reading': asRead, 'coil-reading': asRead, 'reference-amplitude': asRead, 'counter-ratio': asRead, channel: [...asRead, 'vectors'],
      'rejected-inspections': ['shares'], indications: ['rates'], repairs: ['rates'], 'between-indications': ['gaps'],
    });
  });
});

describe('how a control chart puts readings together and judges them', () => {
  const grouped = (size: number, withinMm: number, everyMm: number, kind: ChartKind = 'mean-range'): string[] => fields(chart('inspected', { subgroup: { size, withinMm, everyMm } }, kind));

  test('in subgroups that do not overlap, or reading by reading', () => {
    expect([grouped(2, 999, 1_000), grouped(2, 1_000, 1_000), grouped(1, 0, 0, 'individuals'), grouped(1, 5, 10, 'individuals'), grouped(3, 5, 10, 'individuals'), grouped(1, 0, 10)]).toEqual([
      [], ['subgroup.withinMm'], [], ['subgroup.withinMm'], [], ['subgroup.size'],
    ]);
    expect([fields(chart('inspected', { subgroup: null })), fields(chart('inspected', { subgroup: undefined }, 'individuals'))]).toEqual([['subgroup'], ['subgroup']]);
    for (const one of ['rejected-inspections', 'repairs', 'between-indications'] as const) expect(fields(chart(one, { subgroup: { size: 1, withinMm: 0, everyMm: 5 } }))).toEqual(['subgroup']);
  });

  test('in subgroups that windows of pipe can lie in', () => {
    const windows = (of: 'channel' | 'counter-ratio', size: number, withinMm: number): string[] =>
      fields(chart(of, { characteristic: { of, ...SAID[of], windowMm: 1_000 }, subgroup: { size, withinMm, everyMm: 50_000 } }, size === 1 ? 'individuals' : 'mean-range'));
    for (const one of ['channel', 'counter-ratio'] as const) expect([windows(one, 5, 4_000), windows(one, 5, 3_999), windows(one, 1, 0)]).toEqual([[], ['subgroup.withinMm'], []]);
  });

  test('by rules, each once, where the chart takes them', () => {
    for (const kind of CHART_KINDS) {
      const of = CHARACTERISTICS.find((one) => !fields(chart(one, {}, kind)).includes('chart'))!;
      const isNone = WITHOUT_RULES.includes(kind);
      const ruled = (rules: Chart['rules']): string[] => fields(chart(of, { rules }, kind)).filter((field) => field.startsWith('rules'));
      expect([kind, ruled([]), ruled(['seven-on-one-side']), ruled(['seven-on-one-side', 'six-steadily', 'seven-on-one-side'])]).toEqual([kind, isNone ? [] : ['rules'], isNone ? ['rules'] : [], isNone ? ['rules'] : ['rules[2]']]);
    }
  });

  test('by what tunes this chart, and no other', () => {
    const all = { lambda: '0.2', width: '2.7', k: '0.5', h: '5', batchSize: 10, alpha: '0.005' };
    const own: Partial<Record<ChartKind, string[]>> = { ewma: ['lambda', 'width'], cusum: ['k', 'h'], 'batch-means': ['batchSize'] };
    for (const kind of ['mean-range', 'individuals', 'ewma', 'cusum', 'batch-means'] as const) {
      const none = Object.fromEntries(Object.keys(all).map((name) => [name, null]));
      expect([kind, fields(chart('inspected', none, kind)), fields(chart('inspected', all, kind))]).toEqual([kind, own[kind] ?? [], Object.keys(all).filter((name) => own[kind]?.includes(name) !== true)]);
    }
    expect(fields(chart('channel', { characteristic: { of: 'channel', ...SAID.channel, channelIds: ['a', 'b'] }, alpha: null }, 't-squared'))).toEqual(['alpha']);
  });

  test('beside limits in order, of readings alone', () => {
    const limited = (lower: string | null, target: string | null, upper: string | null): string[] => fields(chart('inspected', { specification: { lower, target, upper, source: 'PS-4' } }));
    const right = [limited('4.75', '5', '5.40'), limited('5', '5.0', '5.00'), limited(null, '5', '5.40'), limited('4.75', null, null), limited('9.5', '10', '10.5')];
    expect(right).toEqual([[], [], [], [], []]);
    expect([limited('5.40', '5', '4.75'), limited('4.75', '4.7', '5.40'), limited(null, '5.41', '5.40'), limited(null, '5', null)]).toEqual([
      ['specification.upper'], ['specification.target'], ['specification.target'], ['specification.lower'],
    ]);
    for (const one of ['rejected-inspections', 'repairs', 'between-indications'] as const) expect(fields(chart(one, { specification: { lower: '0', source: 'PS-4' } }))).toEqual(['specification']);
  });
});

test('a chart is kept with all that it can say', () => {
  expect(charted({ of: 'repairs', windowMm: 5 })).toEqual({ of: 'repairs', name: null, channelIds: [], statistic: null, reflector: null, counters: [], windowMm: 5 });
  expect(specified({ lower: '1', source: 'PS-4' })).toEqual({ lower: '1', upper: null, target: null, source: 'PS-4' });
  expect(chartLabel({ code: 'OD-1', title: 'Outside diameter' })).toBe('OD-1: Outside diameter');
});

/** In the order in which faults are told. */
function byOrder(one: string, other: string): number {
  const order = ['name', 'channelIds', 'statistic', 'reflector', 'counters', 'windowMm'].map((name) => `characteristic.${name}`);
  return order.indexOf(one) - order.indexOf(other);
}
