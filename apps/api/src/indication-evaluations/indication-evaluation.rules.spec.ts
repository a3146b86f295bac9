import { describe, expect, test } from '@jest/globals';
import { evaluationFaults, evaluationFindings, takenFor } from './indication-evaluation.rules.js';
import { openOfIndication } from './standing-evaluation.js';

type Said = Parameters<typeof evaluationFaults>[0];
const faults = (said: Partial<Said>): string[] => evaluationFaults({ relevant: true, verdict: 'hold', ...said }).map(({ field }) => field);

describe('what of an evaluation does not go together', () => {
  test('nothing, of one that says what it is of and what was measured beside its limits', () => {
    expect(faults({})).toEqual([]);
    expect(faults({ relevant: false, cause: 'noise', verdict: 'accept' })).toEqual([]);
    expect(faults({ method: 'UT', technique: 'T', instrumentId: 'i', remainingWallMm: '4.50', measuredDepthMm: '0.5', limitText: 'P', limitMinWallMm: '4.5', limitMaxDepthMm: '0.50', verdict: 'accept' })).toEqual([]);
  });

  test('a cause of what is relevant, none of what is not, and another cause without words', () => {
    expect(faults({ cause: 'noise' })).toEqual(['cause']);
    expect(faults({ relevant: false })).toEqual(['cause']);
    expect(faults({ relevant: false, cause: 'other' })).toEqual(['causeWords']);
    expect(faults({ causeWords: 'Bead' })).toEqual(['causeWords']);
    expect(faults({ relevant: false, cause: 'stop', verdict: 'repair' })).toEqual(['verdict']);
    expect(faults({ relevant: false, cause: 'stop', verdict: 'cut-out' })).toEqual(['verdict']);
  });

  test('halves: a technique of no method, an instrument of no measurement, limits of nothing and without their source', () => {
    expect(faults({ technique: 'T', instrumentId: 'i', limitMinWallMm: '4', limitMaxDepthMm: '1' })).toEqual(['technique', 'instrumentId', 'limitMinWallMm', 'limitMaxDepthMm', 'limitText']);
    expect(faults({ limitText: 'P' })).toEqual(['limitText']);
  });

  test('acceptance beyond a limit that it states, by any digit', () => {
    const limits = { limitText: 'P', limitMinWallMm: '4.50', limitMaxDepthMm: '0.50' };
    expect(faults({ ...limits, verdict: 'accept', remainingWallMm: '4.499', measuredDepthMm: '0.501' })).toEqual(['verdict']);
    expect(faults({ ...limits, verdict: 'accept', remainingWallMm: '4.5', measuredDepthMm: '0.501' })).toEqual(['verdict']);
    expect(faults({ ...limits, verdict: 'repair', remainingWallMm: '4.499', measuredDepthMm: '0.501' })).toEqual([]);
  });
});

test('values beyond limits are marked, unlikely ones asked about, and level 1 is told', () => {
  const found = evaluationFindings({ measuredDepthMm: '5.1', remainingWallMm: '0.2', limitMinWallMm: '4.5', limitMaxDepthMm: '0.5', level: '1' }, '5.00');
  expect(found.map(({ tier, field }) => [tier, field])).toEqual([
    ['implausible', 'measuredDepthMm'], ['implausible', 'remainingWallMm'], ['out-of-specification', 'remainingWallMm'], ['out-of-specification', 'measuredDepthMm'], ['noted', 'level'],
  ]);
  expect(evaluationFindings({ measuredDepthMm: null, remainingWallMm: null, limitMinWallMm: null, limitMaxDepthMm: null, level: '2' }, '5.00')).toEqual([]);
  expect(takenFor({ at: '2026-03-02T08:15:00.000000Z' }, '2026-03-02T09:15:00+01:00')).toEqual([]);
  expect(takenFor({ at: '2026-03-02T08:15:00.000000Z' }, '2026-03-02T08:15:01Z')).toMatchObject([{ tier: 'noted', field: 'observedAt' }]);
});

describe('an indication is open', () => {
  const evaluated = (clock: string, verdict: Parameters<typeof openOfIndication>[0][number]['verdict'], links: { repairId?: string; cutOutId?: string } = {}) =>
    ({ observedAt: `2026-03-02T${clock}:00.000000Z`, verdict, repairId: null, cutOutId: null, ...links });

  test('until its last evaluation settles it, in whatever order they were entered', () => {
    expect(openOfIndication([])).toBe('nobody evaluated it');
    expect(openOfIndication([evaluated('08:15', 'accept')])).toBeNull();
    expect(openOfIndication([evaluated('08:15', 'mark')])).toBeNull();
    expect(openOfIndication([evaluated('08:20', 'accept'), evaluated('08:15', 'hold')])).toBeNull();
    expect(openOfIndication([evaluated('08:15', 'accept'), evaluated('08:20', 're-inspect')])).toBe('to be inspected again');
  });

  test('while a repair or cut-out that was decided is not linked', () => {
    expect(openOfIndication([evaluated('08:15', 'repair', { cutOutId: 'c' })])).toBe('to be repaired, and no repair is linked');
    expect(openOfIndication([evaluated('08:15', 'cut-out', { repairId: 'r' })])).toBe('to be cut out, and no cut-out is linked');
    expect(openOfIndication([evaluated('08:15', 'repair', { repairId: 'r' })])).toBeNull();
    expect(openOfIndication([evaluated('08:15', 'cut-out', { cutOutId: 'c' })])).toBeNull();
  });

  test('where one of two at the same instant keeps it open', () => {
    expect(openOfIndication([evaluated('08:15', 'accept'), evaluated('08:15', 'hold')])).toBe('on hold');
    expect(openOfIndication([evaluated('08:15', 'hold'), evaluated('08:15', 'hold')])).toBe('on hold');
  });
});
