import { describe, expect, test } from '@jest/globals';
import { spliceFaults, spliceFindings, splicePipeLengthMm, type SpliceFigures } from './splice.rules.js';

describe('pipe that a splice takes', () => {
  // 300 mm strip: w / tan α, rounded by hand from tan 60° = 1.7321, tan 30° = 0.57735.
  test.each([[90, 1], [60, 173], [45, 300], [30, 520]])('300 mm strip at %d° takes %d mm', (angleDeg, pipeMm) => {
    expect(splicePipeLengthMm(300, angleDeg)).toBe(pipeMm);
  });

  test('the widest strip at the flattest angle: 2500 / tan 10° (0.176327)', () => {
    expect(splicePipeLengthMm(2500, 10)).toBe(14_178);
  });
});

const said = {
  leavingCoilId: 'a', enteringCoilId: 'b', angleDeg: '45', hand: 'left', verdict: 'open', doubt: null,
} as const;

describe('contradictions', () => {
  test.each([
    ['a bias splice', {}],
    ['a square one', { angleDeg: '90.0', hand: 'square' }],
    ['a doubt with its words', { verdict: 'in-doubt', doubt: 'Hardness over 250 HV10 at one point' }],
  ] as const)('%s is taken', (_, changes) => {
    expect(spliceFaults({ ...said, ...changes })).toEqual([]);
  });

  test.each([
    ['enteringCoilId', { enteringCoilId: 'a' }],
    ['hand', { hand: 'square' }],
    ['hand', { angleDeg: '90', hand: 'right' }],
    ['hand', { angleDeg: '89.9', hand: 'square' }],
    ['doubt', { verdict: 'in-doubt' }],
    ['doubt', { verdict: 'accepted', doubt: 'Hardness' }],
  ] as const)('refused at %s: %j', (field, changes) => {
    expect(spliceFaults({ ...said, ...changes }).map((fault) => fault.field)).toEqual([field]);
  });
});

describe('questions', () => {
  const segments = [
    { coilId: 'a', span: { fromMm: 0, toMm: 100_000 } },
    { coilId: 'b', span: { fromMm: 100_000, toMm: 200_000 } },
    { coilId: 'c', span: { fromMm: 200_400, toMm: 300_000 } },
  ];
  const splice = (fromMm: number, leavingCoilId: string, enteringCoilId: string, angleDeg = '45'): SpliceFigures => ({
    angleDeg, leavingCoilId, enteringCoilId, span: { fromMm, toMm: fromMm + 300 }, segments,
  });
  const limitsOf = (figures: SpliceFigures): string[] => spliceFindings(figures).map(({ limit }) => limit);

  test('an angle of 30° is usual, below it is asked about', () => {
    expect(spliceFindings(splice(100_000, 'a', 'b', '30'))).toEqual([]);
    expect(spliceFindings(splice(100_000, 'a', 'b', '29.9'))).toEqual([
      { tier: 'implausible', field: 'angleDeg', value: '29.9', limit: 'usually at least 30 °' },
    ]);
  });

  test('within 2 m of the boundary on either side is usual, a millimetre more is asked about', () => {
    expect(limitsOf(splice(102_000, 'a', 'b'))).toEqual([]);
    expect(limitsOf(splice(97_700, 'a', 'b'))).toEqual([]);
    const limit = 'usually within 2000 mm of where the segments of the two coils meet; they meet at 100000 mm';
    expect(limitsOf(splice(102_001, 'a', 'b'))).toEqual([limit]);
    expect(limitsOf(splice(97_699, 'a', 'b'))).toEqual([limit]);
  });

  test('a gap between the segments has two ends', () => {
    expect(limitsOf(splice(202_400, 'b', 'c'))).toEqual([]);
    expect(limitsOf(splice(202_401, 'b', 'c'))).toEqual([
      'usually within 2000 mm of where the segments of the two coils meet; they meet at 200000, 200400 mm',
    ]);
  });

  test('coils the wrong way round, or with another between them, meet nowhere', () => {
    const limit = 'usually within 2000 mm of where the segments of the two coils meet; they meet nowhere yet';
    expect(limitsOf(splice(100_000, 'b', 'a'))).toEqual([limit]);
    expect(limitsOf(splice(100_000, 'a', 'c'))).toEqual([limit]);
  });

  test('nothing is asked while one of the coils has no segment on the string', () => {
    expect(limitsOf(splice(900_000, 'a', 'd'))).toEqual([]);
  });
});
