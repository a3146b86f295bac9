import { describe, expect, test } from '@jest/globals';
import { LengthModel } from '#libs/length';
import type { Coil } from '../coils/coil.entity.js';
import type { CoilExtent } from '../nonconformances/nonconformance.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { extentsOf } from './report-extents.js';
import type { ReportKnowledge, StringKnowledge } from './report-knowledge.js';

/** 400 mm × 5 mm × 7850 kg/m³ is 15.7 kg per metre: 100 m from 1570 kg. */
const coil = { id: 'coil', number: 'LM-02', massKg: '1570', widthMm: '400.0', thicknessMm: '5.00', lengthMm: null } as Coil;
const measured = { ...coil, lengthMm: 99_000 } as Coil;

const segment = (stringId: string, fromMm: number, strip: [number, number], runs: CoilSegmentVersion['runs']): CoilSegmentVersion => ({
  id: `${stringId} ${fromMm}`, version: 1, stringId, coilId: 'coil', runs,
  span: { fromMm, toMm: fromMm + strip[1] - strip[0] }, stripSpan: { fromMm: strip[0], toMm: strip[1] },
  fromUMm: '5', toUMm: '10', predicted: false,
} as CoilSegmentVersion);

/** A string of which nothing was ever read. */
const unread = (name: string, splices: readonly Partial<SpliceVersion>[] = []): StringKnowledge => ({
  model: {
    string: { name }, hangOff: null, readings: [],
    lengths: new LengthModel({
      cutOuts: [], hangOff: null, hangOffPath: [], defaultRatio: { record: null, lambda: 1, u: 0 }, shoeTies: [],
      weldFootage: [], scaleRelativeU: 0, kappa: null,
    }),
  },
  ground: { well: { datum: 'Top of the guide frame' }, pipe: { segments: [], splices, cuts: [] } },
} as unknown as StringKnowledge);

const knowing = (
  coilExtent: Omit<CoilExtent, 'coilId'>, coilSegments: readonly CoilSegmentVersion[], strings: Record<string, StringKnowledge>, of = coil,
): ReportKnowledge => ({
  row: { stringId: null, extentBasis: 'measured', observedAt: '2026-03-02T11:00:00Z', coilExtents: [{ coilId: 'coil', ...coilExtent }] },
  coils: new Map([['coil', of]]), coilSegments, strings: new Map(Object.entries(strings)),
} as unknown as ReportKnowledge);

describe('what became of strip', () => {
  test('each string it went into, and the rest that went nowhere', () => {
    const segments = [segment('a', 500_000, [0, 40_000], 'head-first'), segment('b', 0, [40_000, 60_000], 'tail-first')];
    const extents = extentsOf(knowing({ stripFromMm: 30_000, stripToMm: 70_000 }, segments, { a: unread('A'), b: unread('B') }));
    expect(extents.map(({ string, strips, footage }) => [string?.name, strips[0]?.interval, footage])).toEqual([
      ['A', { fromMm: 30_000, toMm: 40_000 }, { fromMm: 530_000, toMm: 540_000 }],
      ['B', { fromMm: 40_000, toMm: 60_000 }, { fromMm: 0, toMm: 20_000 }],
      [undefined, { fromMm: 60_000, toMm: 70_000 }, null],
    ]);
  });

  test('run tail first, its head comes last', () => {
    const [extent] = extentsOf(knowing({ stripFromMm: 40_000, stripToMm: 41_000 }, [segment('b', 0, [40_000, 60_000], 'tail-first')], { b: unread('B') }));
    expect(extent).toMatchObject({ footage: { fromMm: 19_000, toMm: 20_000 }, footageUncertaintyMm: 20 });
  });

  test('a whole coil ends at its length, which is marked when it is reckoned from the mass', () => {
    const whole = { stripFromMm: null, stripToMm: null };
    expect(extentsOf(knowing(whole, [], {}))).toMatchObject([
      { strips: [{ coilLengthMm: 100_000, interval: { fromMm: 0, toMm: 100_000 } }], marks: ['coil LM-02: length of the coil reckoned from its mass'] },
    ]);
    expect(extentsOf(knowing(whole, [], {}, measured))).toMatchObject([{ strips: [{ interval: { fromMm: 0, toMm: 99_000 } }], marks: [] }]);
  });

  test.each([
    ['unconfirmed, at its end', false, 539_800, ['unconfirmed splice S-1: the strip here is not confirmed']],
    ['confirmed', true, 539_800, []],
    ['unconfirmed, in another segment', false, 560_000, []],
  ])('a splice that is %s', (_what, confirmed, fromMm, marks) => {
    const splices = [{ number: 'S-1', confirmed, span: { fromMm, toMm: fromMm + 400 } }];
    const segments = [segment('a', 500_000, [0, 40_000], 'head-first')];
    const [extent] = extentsOf(knowing({ stripFromMm: 0, stripToMm: 1_000 }, segments, { a: unread('A', splices) }, measured));
    expect(extent?.marks).toEqual(marks);
  });

  test('a string of which nothing was read tells no depth and says why', () => {
    const [extent] = extentsOf(knowing({ stripFromMm: 0, stripToMm: 1_000 }, [segment('a', 0, [0, 40_000], 'head-first')], { a: unread('A') }));
    expect(extent).toMatchObject({
      depthsUnknown: 'the string has no counter reading yet', outerWall: [], innerWall: [],
      locationWhenFound: 'not known: the string has no counter reading yet',
      locationNow: 'not known: the string has no counter reading yet',
    });
  });
});
