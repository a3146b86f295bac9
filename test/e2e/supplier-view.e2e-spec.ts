import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { SupplierKnowledges } from '../../apps/api/src/suppliers/supplier-knowledge.service.js';
import type { SuppliedCharacteristicAnswer, SupplierViewAnswer } from '../../apps/api/src/suppliers/supplier-view.dto.js';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { COILS, decide, DOUBTFUL, enterMill, GRADE, keyPapers, MILL, type EnteredMill, type Keyed } from './supplier-view.factory.js';

let api: TestApi;
let engineer: SignedIn;
let mill: EnteredMill;
let keyed: Keyed;

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  mill = await enterMill(engineer);
  keyed = await keyPapers(engineer, await api.signIn('qc-inspector'), mill);
  await decide(engineer, uuidv7(), mill.coilIds.get('FS-05')!, 'reject');
  await decide(engineer, uuidv7(), mill.coilIds.get(DOUBTFUL)!, 'hold');
}, 60_000);
afterAll(() => api.close());

const ask = <B = SupplierViewAnswer>(query: Record<string, string>): Promise<Answer<B>> =>
  engineer.send<B>('GET', `/api/supplier-view?${new URLSearchParams(query).toString()}`);

async function view(query: Record<string, string> = {}): Promise<SupplierViewAnswer> {
  const answer = await ask({ mill: MILL, grade: GRADE, thicknessMm: '5.0', ...query });
  expect(answer.status).toBe(200);
  return answer.body;
}

function characteristic(answer: SupplierViewAnswer, name: string, origin = 'certified'): SuppliedCharacteristicAnswer {
  const found = answer.characteristics.find((one) => one.name === name && one.origin === origin);
  if (found === undefined) throw new Error(`${name}, ${origin}, is not in the answer`);
  return found;
}

/** Mean, standard deviation, quartiles and Ppk written down once more, over sums of squares about zero. */
function expected(values: readonly number[], min: number | null, max: number | null): Record<string, number> {
  const n = values.length;
  const sum = values.reduce((total, value) => total + value, 0);
  const squares = values.reduce((total, value) => total + value * value, 0);
  const [mean, s] = [sum / n, Math.sqrt((squares - (sum * sum) / n) / (n - 1))];
  const sorted = [...values].sort((a, b) => a - b);
  const at = (rank: number): number => sorted[Math.floor(rank) - 1]! + (rank % 1) * (sorted[Math.min(Math.floor(rank), n - 1)]! - sorted[Math.floor(rank) - 1]!);
  const sides = [...(min === null ? [] : [(mean - min) / (3 * s)]), ...(max === null ? [] : [(max - mean) / (3 * s)])];
  const ppk = Math.min(...sides);
  const half = 1.96 * Math.sqrt(1 / (9 * n) + (ppk * ppk) / (2 * (n - 1)));
  return { n, mean, s, lower: at((n + 1) / 4), median: at((n + 1) / 2), upper: at((3 * (n + 1)) / 4), ppk, from: ppk - half, to: ppk + half };
}

function expectNumbers(found: SuppliedCharacteristicAnswer, numbers: Record<string, number>): void {
  const { n, mean, standardDeviation, lowerQuartile, median, upperQuartile, performance } = found;
  const pairs = [
    [n, numbers['n']], [mean, numbers['mean']], [standardDeviation, numbers['s']], [lowerQuartile, numbers['lower']], [median, numbers['median']],
    [upperQuartile, numbers['upper']], [performance?.ppk, numbers['ppk']],
  ];
  for (const [one, other] of pairs) expect(one).toBeCloseTo(other!, 8);
  expect(performance?.ppkFrom).toBeCloseTo(numbers['from']!, 4);
  expect(performance?.ppkTo).toBeCloseTo(numbers['to']!, 4);
}

describe('GET /api/supplier-view', () => {
  test('says what was looked at, where the coils stand, and what became of the papers', async () => {
    const { asked, coilCount, isCapped, heatCount, orderCount, standings, papers, notAskedForCount } = await view();
    expect(asked).toEqual({ mill: MILL, grade: GRADE, thicknessMm: '5.0', asKnownAt: null });
    expect({ coilCount, isCapped, heatCount, orderCount }).toEqual({ coilCount: 24, isCapped: false, heatCount: 2, orderCount: 1 });
    expect(Object.fromEntries(standings.map((one) => [one.state, one.coilCount]))).toEqual({
      'not-decided': 22, held: 1, accepted: 0, 'accepted-under-concession': 0, rejected: 1, returned: 0,
    });
    expect(papers).toEqual({
      certificateCount: 3, keyedCount: 3, verifiedCount: 1, keyingsDifferedCount: 2, correctedCount: 1, withWithdrawnKeyingCount: 1,
      correctedShare: 0.333333333333,
    });
    // ReL is on every line, and no requirement asks for it.
    expect(notAskedForCount).toBe(24);
  });

  test('characteristics come in the order of papers, certified before measured', async () => {
    const { characteristics } = await view();
    expect(characteristics.map(({ name, origin }) => `${name}, ${origin}`)).toEqual([
      'thickness, certified', 'thickness, measured', 'C, heat analysis, certified', 'P, heat analysis, certified', 'B, heat analysis, certified',
      'ReH, certified', 'Rm, certified', 'A, certified', 'KV2 at -20 °C, certified',
    ]);
  });

  test('certified thickness, two-sided, about the ordered size', async () => {
    const found = characteristic(await view(), 'thickness');
    const values = COILS.map(({ thicknessMm }) => Number(thicknessMm));
    expectNumbers(found, expected(values, 4.85, 5.15));
    const { mean, s } = expected(values, 4.85, 5.15);
    expect(found.performance?.pp).toBeCloseTo(0.3 / (6 * s!), 8);
    expect(mean).toBeGreaterThan(5);
    expect(found).toMatchObject({ countedBy: 'value', askedCoilCount: 24, coilCount: 24, heatCount: 2, outsideCount: 0, noPerformanceBecause: null });
    expect(found.limits).toEqual([{ limits: '4.85 to 5.15 mm', specifications: ['FSS-4 revision 1'], coilCount: 24 }]);
    expect(found.least).toMatchObject({ value: '4.96', coil: { kind: 'coil', id: mill.coilIds.get('FS-11'), label: 'FS-11' }, heat: { label: 'F-101' }, source: 'certificate FC-2 (3.1), line 3' });
    expect(found.greatest).toMatchObject({ value: '5.06', coil: { label: 'FS-19' }, heat: { label: 'F-102' } });
  });

  test('a histogram that counts every value once, on edges of round numbers', async () => {
    const { histogram, n } = characteristic(await view(), 'thickness');
    // 24 values aim at 6 classes of 0.10/6, which is 0.02.
    const counted = histogram.map(({ from, to, count }) => {
      const within = COILS.filter(({ thicknessMm }) => Number(thicknessMm) >= Number(from) - 1e-9 && Number(thicknessMm) < Number(to) - 1e-9);
      expect(count).toBe(within.length);
      return [from, to];
    });
    expect(counted).toEqual([['4.96', '4.98'], ['4.98', '5'], ['5', '5.02'], ['5.02', '5.04'], ['5.04', '5.06'], ['5.06', '5.08']]);
    expect(histogram.reduce((sum, { count }) => sum + count, 0)).toBe(n);
  });

  test('our own readings stand apart from what is certified; eight are too few for Ppk', async () => {
    const found = characteristic(await view(), 'thickness', 'measured');
    const readings = COILS.flatMap(({ readingsMm }) => readingsMm.map(Number));
    expect(found).toMatchObject({ n: 8, coilCount: 4, askedCoilCount: 24, performance: null, noPerformanceBecause: '8 values are too few: at least 20 are asked for' });
    expect(found.mean).toBeCloseTo(readings.reduce((sum, value) => sum + value, 0) / 8, 10);
    expect(found.least?.source).toContain('incoming check');
  });

  test('yield strength: converted exactly, one outside, one in doubt and left out', async () => {
    const found = characteristic(await view(), 'ReH');
    // 1 ksi is 1000 times 0.45359237 kg × 9.80665 m/s² over (25.4 mm)².
    const mpaPerKsi = (0.453_592_37 * 9.806_65 * 1000) / 25.4 ** 2;
    const values = COILS.filter(({ number }) => number !== DOUBTFUL).map((one) => Number(one.yield) * (one.yieldUnit === 'ksi' ? mpaPerKsi : 1));
    expectNumbers(found, expected(values, 420, null));
    expect(found).toMatchObject({ n: 23, coilCount: 23, inDoubtCount: 1, outsideCount: 1, censoredCount: 0, performance: { pp: null } });
    expect(found.least).toMatchObject({ value: '411', coil: { label: 'FS-05' } });
  });

  test('a heat analysis counts once a heat, by the mean of the different numbers printed of it', async () => {
    const found = characteristic(await view(), 'C, heat analysis');
    // Heat F-101 is printed 0.085 on eight coils and 0.091 on eight; F-102 is 0.070.
    expect(found).toMatchObject({ countedBy: 'heat', n: 2, heatCount: 2, coilCount: 24, mean: 0.079, differingHeatCount: 1, median: 0.079 });
    expect(found.standardDeviation).toBeCloseTo(Math.sqrt(2 * 0.009 ** 2), 12);
    expect(found.least).toMatchObject({ value: '0.07', heat: { label: 'F-102' }, coil: { label: 'FS-17' } });
    expect(found.greatest).toMatchObject({ value: '0.088', heat: { label: 'F-101' }, coil: { label: 'FS-01' } });
    expect(found.noPerformanceBecause).toBe('2 heats are too few: at least 20 are asked for');
  });

  test('censored values are counted apart and make no distribution', async () => {
    const found = characteristic(await view(), 'B, heat analysis');
    expect(found).toMatchObject({ n: 0, mean: null, standardDeviation: null, least: null, histogram: [], censoredCount: 2, censoredOutsideCount: 0, coilCount: 0 });
  });

  test('no Ppk where nothing is limited, where all values are the same, or where tests were made warmer', async () => {
    const answer = await view();
    expect(characteristic(answer, 'Rm')).toMatchObject({ n: 24, noPerformanceBecause: 'the value is only asked to be reported: there is no limit' });
    expect(characteristic(answer, 'A')).toMatchObject({ n: 24, standardDeviation: 0, noPerformanceBecause: 'all 24 values are the same: the standard deviation is 0', histogram: [{ from: '24', to: '24', count: 24 }] });
    expect(characteristic(answer, 'KV2 at -20 °C')).toMatchObject({ n: 16, otherConditionsCount: 8, coilCount: 16 });
  });

  test('what is asked for and never reported is told', async () => {
    expect(characteristic(await view(), 'P, heat analysis')).toMatchObject({ n: 0, askedCoilCount: 24, coilCount: 0 });
  });

  test('without filters other grades and sizes of the mill are in it, and differing limits are listed', async () => {
    const { body } = await ask({ mill: MILL });
    expect([body.coilCount, body.orderCount, body.heatCount]).toEqual([26, 3, 3]);
    expect(characteristic(body, 'ReH').limits).toEqual([
      { limits: 'at least 420 MPa', specifications: ['FSS-4 revision 1'], coilCount: 24 },
      { limits: 'at least 500 MPa', specifications: ['FSS S500MC revision 1'], coilCount: 1 },
      { limits: 'at least 430 MPa', specifications: ['FSS-4 revision 2'], coilCount: 1 },
    ]);
  });

  test('numbers held against different limits have no Ppk', async () => {
    const { body } = await ask({ mill: MILL, grade: GRADE });
    expect(characteristic(body, 'thickness').performance).not.toBeNull();
    const coilId = await thinnerCoil();
    const readings = Array.from({ length: 20 }, (_, index) => ({ printed: index % 2 === 0 ? '3.99' : '4.01', along: 'body', across: 'centre' }));
    const check = { id: uuidv7(), observedAt: '2026-02-03T08:00:00Z', coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', readings };
    expect(await engineer.send('POST', '/api/incoming-checks', { body: check })).toMatchObject({ status: 201 });
    const { body: after } = await ask({ mill: MILL, grade: GRADE });
    expect(characteristic(after, 'thickness', 'measured')).toMatchObject({ n: 28, performance: null, noPerformanceBecause: 'the limits differ: 2 sets of them are in force' });
    // Alone they have one.
    const { body: alone } = await ask({ mill: MILL, thicknessMm: '4' });
    expectNumbers(characteristic(alone, 'thickness', 'measured'), expected(readings.map(({ printed }) => Number(printed)), 3.85, 4.15));
  });

  test('as known before the correction, no paper was corrected and its coil was in doubt', async () => {
    const then = await view({ asKnownAt: keyed.beforeCorrection });
    expect(then.papers).toMatchObject({ keyedCount: 1, correctedCount: 0, keyingsDifferedCount: 1, verifiedCount: 0, withWithdrawnKeyingCount: 0, correctedShare: 0 });
    expect(characteristic(then, 'ReH')).toMatchObject({ n: 7, inDoubtCount: 1 });
    expect(Object.fromEntries(then.standings.map((one) => [one.state, one.coilCount]))).toMatchObject({ 'not-decided': 24, rejected: 0 });
  });

  test('a mill that no order names has no coils, and the answer says so', async () => {
    const { body } = await ask({ mill: MILL.toLowerCase() });
    expect(body).toMatchObject({ coilCount: 0, characteristics: [], papers: { certificateCount: 0, correctedShare: null } });
    expect(body.cautions[0]).toContain('No coil on record');
  });

  test('the same question has the same answer', async () => {
    expect(await view()).toEqual(await view());
  });

  test('what is no question is refused, all of it at once', async () => {
    const { status, body } = await ask<{ errors: { field: string }[] }>({ thicknessMm: '0.4', grade: ' ', coil: 'FS-01', asKnownAt: 'now' });
    expect(status).toBe(400);
    expect(body.errors.map(({ field }) => field).sort()).toEqual(['asKnownAt', 'coil', 'grade', 'mill', 'thicknessMm']);
  });

  test('is for people who are signed in', async () => {
    expect((await api.send('GET', `/api/supplier-view?mill=x`)).status).toBe(401);
  });
});

describe('many coils', () => {
  const QUESTION = { mill: MILL, grade: GRADE, thicknessMm: null, asKnownAt: null };

  test('take as many queries as two', async () => {
    const knowledges = api.app.get(SupplierKnowledges);
    // The one entered last has no certificate, and the one before it has.
    const two = await queriesOf(() => knowledges.of(QUESTION, 2));
    const all = await queriesOf(() => knowledges.of(QUESTION));
    expect(all).toBe(two);
    // Orders, specifications, coils, heats, links, checks, decisions, permits, certificates, keyings, first and withdrawn keyings.
    expect(all).toBe(12);
  });

  test('beyond the cap the ones entered last are looked at, and it is said', async () => {
    const knowledges = api.app.get(SupplierKnowledges);
    const capped = await knowledges.of(QUESTION, 10);
    // The thinner coil was entered after the 24.
    expect(capped.coils.map(({ coil }) => coil.number)).toEqual([...COILS.slice(-9).map(({ number }) => number), 'thinner']);
    expect(capped.isCapped).toBe(true);
    expect((await knowledges.of(QUESTION, 25)).isCapped).toBe(false);
    expect((await knowledges.of(QUESTION, 24)).isCapped).toBe(true);
  });
});

async function thinnerCoil(): Promise<string> {
  const { coils } = await api.app.get(SupplierKnowledges).of({ mill: MILL, grade: GRADE, thicknessMm: '4.000', asKnownAt: null });
  expect(coils.map(({ coil }) => coil.number)).toEqual(['thinner']);
  return coils[0]!.coil.id;
}

/** How many statements some work sends to the database through the pool. */
async function queriesOf(work: () => Promise<unknown>): Promise<number> {
  const pool = (api.dataSource.driver as unknown as { master: { query: (...of: unknown[]) => unknown } }).master;
  const sent = jest.spyOn(pool, 'query');
  try {
    await work();
    return sent.mock.calls.length;
  } finally {
    sent.mockRestore();
  }
}
