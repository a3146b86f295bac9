import { describe, expect, test } from '@jest/globals';
import { interval } from '#libs/intervals';
import {
  representedIntervals, type PipeLayout, type Sample, type SamplePlace, type SamplingRule, type TestRepresentation,
} from '#libs/tube-tests';

/** Two coils of 1 m and 0.6 m of pipe, and a stop in the first. */
const layout: PipeLayout = {
  coils: [{ coil: 'K1', pipe: interval(0, 1000) }, { coil: 'K2', pipe: interval(1000, 1600) }],
  stops: [{ stop: 'S1', atMm: 700 }],
};
const ENDS: SamplingRule = { rule: 'coil-ends' };
const STOPS: SamplingRule = { rule: 'stop-sides' };
const every = (everyMm: number): SamplingRule => ({ rule: 'every-length', everyMm });
const coilEnd = (coil: string, end: 'from' | 'to'): SamplePlace => ({ at: 'coil-end', coil, end });
const SOUND = { takenAtUs: 0, failedAtUs: null };
const footage = (footageMm: number): SamplePlace => ({ at: 'footage', footageMm });
const stopSide = (side: 'before' | 'after'): SamplePlace => ({ at: 'stop', stop: 'S1', side });

function represented(rules: readonly SamplingRule[], ...places: SamplePlace[]): TestRepresentation {
  const samples: Sample[] = places.map((place, index) => ({ sample: `P${index + 1}`, test: 'flattening', place, ...SOUND }));
  return representedIntervals(layout, [{ test: 'flattening', rules }], samples).tests[0]!;
}
const pieces = ({ bySample }: TestRepresentation): string[] => bySample.map(({ represents }) => represents.toMultirange());

describe('both ends of each coil', () => {
  test('two samples meet in the middle, and never reach into another coil', () => {
    const found = represented([ENDS], coilEnd('K1', 'from'), coilEnd('K1', 'to'));
    expect(pieces(found)).toEqual(['{[0,500)}', '{[500,1000)}']);
    expect(found.missing.toMultirange()).toBe('{[1000,1600)}');
  });

  test('a single one stands for the coil up to its other end, which is named as not sampled', () => {
    const found = represented([ENDS], coilEnd('K1', 'to'), coilEnd('K2', 'from'), coilEnd('K2', 'to'));
    expect(pieces(found)).toEqual(['{[0,1000)}', '{[1000,1300)}', '{[1300,1600)}']);
    expect(found.missing.isEmpty).toBe(true);
    expect(found.unsampledEnds).toEqual([
      { atMm: 0, pipeLies: 'after', rule: 'coil-ends', words: 'no sample at the first end of coil K1, at 0 mm' },
    ]);
  });

  test('a sample between them takes over what is nearer to it; the middle is rounded down', () => {
    const found = represented([ENDS], coilEnd('K1', 'from'), footage(301), coilEnd('K1', 'to'));
    expect(pieces(found)).toEqual(['{[0,150)}', '{[150,650)}', '{[650,1000)}']);
  });

  test('a sample away from the ends stands for nothing alone', () => {
    const found = represented([ENDS], footage(300));
    expect(pieces(found)).toEqual(['{}']);
    expect(found.bySample[0]!.rules).toEqual([]);
    expect(found.missing.toMultirange()).toBe('{[0,1600)}');
  });

  test('samples of one place stand for the same metres, which count once', () => {
    const found = represented([ENDS], coilEnd('K1', 'from'), coilEnd('K1', 'from'), coilEnd('K1', 'to'));
    expect(pieces(found)).toEqual(['{[0,500)}', '{[0,500)}', '{[500,1000)}']);
    expect(found.represented.totalLengthMm).toBe(1000);
  });

  test('without a rule for stops they do not end what a sample stands for', () => {
    expect(pieces(represented([ENDS], coilEnd('K1', 'from')))).toEqual(['{[0,1000)}']);
  });
});

describe('each side of a stop', () => {
  test('no sample stands for pipe beyond the stop', () => {
    const found = represented([ENDS, STOPS], coilEnd('K1', 'from'), stopSide('before'));
    expect(pieces(found)).toEqual(['{[0,350)}', '{[350,700)}']);
    expect(found.missing.toMultirange()).toBe('{[700,1600)}');
    expect(found.unsampledEnds.map(({ words }) => words)).toEqual([
      'no sample after stop S1 of coil K1, at 700 mm', 'no sample at the last end of coil K1, at 1000 mm',
      'no sample at the first end of coil K2, at 1000 mm', 'no sample at the last end of coil K2, at 1600 mm',
    ]);
  });

  test('by itself it says nothing of coils without a stop', () => {
    const found = represented([STOPS], stopSide('after'), coilEnd('K2', 'from'));
    expect(pieces(found)).toEqual(['{[700,1000)}', '{}']);
    expect(found.missing.toMultirange()).toBe('{[0,700),[1000,1600)}');
  });

  test('a stop where two coils meet has its sides in both', () => {
    const atJoint = { ...layout, stops: [{ stop: 'S1', atMm: 1000 }, { stop: 'S2', atMm: 1000 }] };
    const samples = [{ sample: 'P1', test: 'x', place: stopSide('before'), ...SOUND }, { sample: 'P2', test: 'x', place: stopSide('after'), ...SOUND }];
    const [found] = representedIntervals(atJoint, [{ test: 'x', rules: [STOPS] }], samples).tests;
    expect(pieces(found!)).toEqual(['{[0,1000)}', '{[1000,1600)}']);
    expect(found!.unsampledEnds).toEqual([]);
  });
});

describe('every n metres', () => {
  test('from a sample to the next, n at most, and not into another coil', () => {
    const found = represented([every(400)], footage(100), footage(300), footage(900), footage(1100));
    expect(pieces(found)).toEqual(['{[100,300)}', '{[300,700)}', '{[900,1000)}', '{[1100,1500)}']);
    expect(found.missing.toMultirange()).toBe('{[0,100),[700,900),[1000,1100),[1500,1600)}');
    expect(found.unsampledEnds).toEqual([]);
  });

  test('with the rule for ends a metre counts once, and a sample names both rules', () => {
    const found = represented([ENDS, every(800)], coilEnd('K1', 'from'), coilEnd('K1', 'to'));
    expect(pieces(found)).toEqual(['{[0,800)}', '{[500,1000)}']);
    expect(found.represented.toMultirange()).toBe('{[0,1000)}');
    expect(found.bySample.map(({ rules }) => rules.map(({ rule }) => rule))).toEqual([['coil-ends', 'every-length'], ['coil-ends']]);
  });
});

describe('a failure', () => {
  const found = (rules: readonly SamplingRule[], failedAtUs: number | null, laterUs: number, later: SamplePlace, of = layout): string[] => pieces(representedIntervals(of, [{ test: 'x', rules }], [
    { sample: 'P1', test: 'x', place: coilEnd('K1', 'from'), takenAtUs: 1, failedAtUs },
    { sample: 'P2', test: 'x', place: later, takenAtUs: laterUs, failedAtUs: null },
  ]).tests[0]!);

  test('keeps its metres whatever is sampled after it; what was taken by then, and a pass, is narrowed', () => {
    expect(found([ENDS], 5, 6, footage(2))).toEqual(['{[0,1000)}', '{[1,1000)}']);
    expect(found([ENDS], 5, 5, footage(2))).toEqual(['{[0,1)}', '{[1,1000)}']);
    expect(found([ENDS], null, 6, footage(2))).toEqual(['{[0,1)}', '{[1,1000)}']);
    expect(found([every(800)], 5, 6, footage(2))).toEqual(['{[0,800)}', '{[2,802)}']);
    expect(found([every(800)], 5, 5, footage(2))).toEqual(['{[0,2)}', '{[2,802)}']);
  });

  test('is not cut short by a stop that only a later sample names; by one on record it is', () => {
    const named = (namedAtUs?: number): PipeLayout => ({ ...layout, stops: [{ stop: 'S1', atMm: 2, ...(namedAtUs === undefined ? {} : { namedAtUs }) }] });
    expect(found([ENDS, STOPS], 5, 6, stopSide('after'), named(6))).toEqual(['{[0,1000)}', '{[2,1000)}']);
    expect(found([ENDS, STOPS], 5, 5, stopSide('after'), named(5))).toEqual(['{[0,2)}', '{[2,1000)}']);
    expect(found([ENDS, STOPS], 5, 6, stopSide('after'), named())).toEqual(['{[0,2)}', '{[2,1000)}']);
  });

  test('between the ends counts as soon as any sample makes it count, a later one too', () => {
    const samples = (takenAtUs: number): Sample[] => [
      { sample: 'P1', test: 'x', place: footage(400), takenAtUs: 1, failedAtUs: 5 }, { sample: 'P2', test: 'x', place: coilEnd('K1', 'from'), takenAtUs, failedAtUs: null },
    ];
    const of = (takenAtUs: number): string[] => pieces(representedIntervals(layout, [{ test: 'x', rules: [ENDS] }], samples(takenAtUs)).tests[0]!);
    expect([of(6), of(5)]).toEqual([['{[0,1000)}', '{[0,200)}'], ['{[200,1000)}', '{[0,200)}']]);
  });
});

describe('representedIntervals', () => {
  test('calls a coil by its name where it has one beside its key', () => {
    const named = { ...layout, coils: [{ ...layout.coils[0]!, name: 'LM-01' }] };
    expect(representedIntervals(named, [{ test: 'x', rules: [ENDS] }], []).tests[0]!.unsampledEnds[0]!.words).toBe('no sample at the first end of coil LM-01, at 0 mm');
  });

  test('keeps tests apart, and names samples that no plan is for', () => {
    const samples: Sample[] = [
      { sample: 'P1', test: 'flattening', place: coilEnd('K1', 'from'), ...SOUND }, { sample: 'P2', test: 'flaring', place: coilEnd('K1', 'to'), ...SOUND },
      { sample: 'P3', test: 'macro', place: footage(5), ...SOUND },
    ];
    const found = representedIntervals(layout, [{ test: 'flattening', rules: [ENDS] }, { test: 'flaring', rules: [ENDS] }], samples);
    expect(found.tests.map((one) => [one.test, ...pieces(one)])).toEqual([['flattening', '{[0,1000)}'], ['flaring', '{[0,1000)}']]);
    expect(found.unplanned).toEqual(['P3']);
  });

  test('a test without a sample misses all the pipe', () => {
    expect(represented([ENDS]).missing.toMultirange()).toBe('{[0,1600)}');
  });

  test('says where its rules come from, and that metres between samples are inferred', () => {
    const found = represented([ENDS, STOPS, every(12_500)], coilEnd('K1', 'from'), stopSide('after'));
    expect(found.caution).toContain('inferred, not shown');
    const [first, second] = found.bySample;
    expect(first!.rules[0]!.source).toContain('common practice, no published source');
    expect(second!.rules.map(({ rule }) => rule)).toEqual(['stop-sides', 'every-length']);
    for (const { source } of second!.rules) expect(source).toMatch(/^common practice, no published source; .*our own choice$/);
    expect(second!.rules.at(-1)!.words).toContain('Every 12.5 m');
  });

  test.each<[string, Partial<PipeLayout>]>([
    ['coil comes twice: K1', { coils: [layout.coils[0]!, { coil: 'K1', pipe: interval(2000, 3000) }] }],
    ['the pipe of coils K1 and K3 overlaps', { coils: [{ coil: 'K3', pipe: interval(999, 1200) }, layout.coils[0]!] }],
    ['stop comes twice: S1', { stops: [{ stop: 'S1', atMm: 1 }, { stop: 'S1', atMm: 2 }] }],
    ['stop S2 is at no coil\'s pipe: 1601 mm', { stops: [{ stop: 'S2', atMm: 1601 }] }],
    ['stop S2 is at no coil\'s pipe: 0.5 mm', { stops: [{ stop: 'S2', atMm: 0.5 }] }],
  ])('refuses a layout: %s', (message, changes) => {
    expect(() => representedIntervals({ ...layout, ...changes }, [], [])).toThrow(new RangeError(message));
  });

  test.each<[string, SamplePlace]>([
    ['there is no coil K9', coilEnd('K9', 'from')],
    ['there is no stop S9', { at: 'stop', stop: 'S9', side: 'before' }],
    ['sample P1 is at no coil\'s pipe: after 1600 mm', footage(1600)],
    ['sample P1 is at no coil\'s pipe: after 0.5 mm', footage(0.5)],
  ])('refuses a place: %s', (message, place) => {
    expect(() => represented([ENDS], place)).toThrow(new RangeError(message));
  });

  test.each<[string, readonly SamplingRule[]]>([
    ['flattening: the plan has no rule', []],
    ['flattening: one rule comes twice', [every(1), every(2)]],
    ['flattening: everyMm is not a whole number over 0: 0', [every(0)]],
    ['flattening: everyMm is not a whole number over 0: 1.5', [every(1.5)]],
  ])('refuses a plan: %s', (message, rules) => {
    expect(() => represented(rules)).toThrow(new RangeError(message));
  });

  test('refuses two plans for a test, and one sample twice', () => {
    const plan = { test: 'flattening', rules: [ENDS] };
    expect(() => representedIntervals(layout, [plan, plan], [])).toThrow(new RangeError('two plans are for one test'));
    const sample = { sample: 'P1', test: 'flattening', place: footage(1), ...SOUND };
    expect(() => representedIntervals(layout, [plan], [sample, sample])).toThrow(new RangeError('a sample comes twice'));
  });
});
