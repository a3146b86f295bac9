import { describe, expect, test } from '@jest/globals';
import { periodFindings, refuseHalfSaidPeriod, type PeriodAsSaid, type PeriodFigures } from './counter-period.rules.js';

const observedAt = '2026-03-02T06:00:00Z';

describe('a period', () => {
  test.each<[string, PeriodAsSaid, string]>([
    ['no start', { observedAt }, 'startFootageMm, or previousEndReading'],
    ['two starts', { observedAt, startFootageMm: 0, previousEndReading: '0' }, 'absent beside startFootageMm'],
    ['an end at its beginning', { observedAt, startFootageMm: 0, until: '2026-03-02T07:00:00+01:00' }, 'after observedAt'],
  ])('is refused with %s', (_, said, limit) => {
    expect(() => { refuseHalfSaidPeriod(said); }).toThrow(limit);
  });

  test('is taken with one start and an end a microsecond later', () => {
    expect(() => { refuseHalfSaidPeriod({ observedAt, previousEndReading: '0', until: '2026-03-02T06:00:00.000001Z' }); }).not.toThrow();
  });
});

describe('against the period before', () => {
  const figures = (scaleMmPerCount: string, startFootageMm: string): PeriodFigures => ({ scaleMmPerCount, startFootageMm, startField: 'startFootageMm' });
  const before = { scaleMmPerCount: 1, reachedMm: 60_000.7 };
  const fields = (period: PeriodFigures, earlier: typeof before | { scaleMmPerCount: number; reachedMm: null } | null): string[] =>
    periodFindings(period, earlier).map(({ field }) => field);

  test('a scale within 2 % and a start at the footage reached are usual', () => {
    expect(fields(figures('1.0199', '60000'), before)).toEqual([]);
    expect(fields(figures('0.9801', '60000'), before)).toEqual([]);
  });

  test('a scale further off and a start below are asked about', () => {
    expect(fields(figures('1.0201', '60000'), before)).toEqual(['scaleMmPerCount']);
    expect(fields(figures('0.9799', '59999.999'), before)).toEqual(['scaleMmPerCount', 'startFootageMm']);
  });

  test('nothing is asked without a period or a reading before', () => {
    expect(fields(figures('25.4', '0'), null)).toEqual([]);
    expect(fields(figures('1', '0'), { scaleMmPerCount: 1, reachedMm: null })).toEqual([]);
  });
});
