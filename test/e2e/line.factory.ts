import { afterAll, beforeAll, beforeEach, expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';

export type Fields = Record<string, unknown>;

/** A time on the demo's first day of production. */
export const at = (clock: string): string => `2026-03-02T${clock}:00Z`;

export const fieldsRefused = (answer: Answer): unknown[] => (answer.body['errors'] as Fields[]).map(({ field }) => field);

/** An API for the whole file, a new string for each of its tests, and requests that are whole but for what a test changes. */
export function lineFactory() {
  let api: TestApi;
  let engineer: SignedIn;
  let wellId: string;
  let stringId: string;
  let drawn = 0;

  beforeAll(async () => {
    api = await startTestApi();
    engineer = await api.signIn('materials-engineer');
    wellId = await made('wells', { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame', observedAt: at('05:00') });
  }, 30_000);
  afterAll(() => api.close());

  beforeEach(async () => {
    stringId = await made('casing-strings', {
      wellId, name: `Lindmoor 2 string ${String((drawn += 1))}`, footageLimitMm: 4_000_000, outsideDiameterMm: '127.0',
      wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
    });
  });

  async function post(path: string, content: Fields): Promise<Answer> {
    return engineer.send('POST', `/api/${path}`, { body: { id: uuidv7(), ...content } });
  }

  async function made(path: string, content: Fields): Promise<string> {
    const id = uuidv7();
    expect(await post(path, { id, ...content })).toMatchObject({ status: 201 });
    return id;
  }

  async function amend(path: string, id: string, version: number, changes: Fields): Promise<Answer> {
    return engineer.send('PATCH', `/api/${path}/${id}`, { body: { reason: 'Taped again over 20 m.', ...changes }, headers: { 'if-match': `"${version}"` } });
  }

  async function withdraw(path: string, id: string, version: number): Promise<Answer> {
    return engineer.send('POST', `/api/${path}/${id}/void`, { body: { reason: 'Entered by mistake.' }, headers: { 'if-match': `"${version}"` } });
  }

  async function get(path: string, id: string, query = ''): Promise<Fields> {
    const answer = await engineer.send('GET', `/api/${path}/${id}${query}`);
    expect(answer.status).toBe(200);
    return answer.body;
  }

  const reasonsOf = async (path: string, id: string): Promise<unknown[]> => {
    const { versions } = await get(path, `${id}/history`);
    return (versions as Fields[]).map(({ reason }) => reason);
  };

  /** Every row of a table about the string of the test. */
  async function rowsOf(table: string): Promise<number> {
    const rows: { count: string }[] = await api.dataSource.query(`select count(*) from ${table} where string_id = $1`, [stringId]);
    return Number(rows[0]?.count);
  }

  const setup = (changes: Fields = {}): Fields => ({
    stringId, observedAt: at('05:30'), viewing: 'down-the-hole',
    stations: [
      { name: 'strip splice', pathMinMm: -14_000, pathMaxMm: -10_000, uMm: '5' },
      { name: 'wall gauge', pathMinMm: 6_200, pathMaxMm: 6_200, uMm: '3' },
      { name: 'hang-off', role: 'hang-off', pathMinMm: 18_000, pathMaxMm: 18_000, uMm: '10' },
    ],
    ...changes,
  });

  const period = (changes: Fields = {}): Fields => ({
    stringId, observedAt: at('06:00'), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-2',
    ...changes,
  });

  /** One millimetre of count to one of pipe, but the wheel was changed at noon, when the counter said 60000. */
  const continuing = (changes: Fields = {}): Fields =>
    period({ observedAt: at('12:00'), startFootageMm: null, previousEndReading: '60000', wheel: 'W-3', ...changes });

  const reading = (clock: string, counted: string, changes: Fields = {}): Fields => ({
    id: uuidv7(), stringId, observedAt: at(clock), reading: counted, ...changes,
  });

  const seen = (clock: string, from: Fields, changes: Fields = {}): Fields => ({
    stringId, observedAt: at(clock), from, kind: 'visual', characteristic: 'seam', verdict: 'accepted', ...changes,
  });

  const cutOut = (clock: string, from: Fields, to: Fields): Fields => ({
    stringId, observedAt: at(clock), from, to, cause: 'Seam defect', piece: 'LM-P4',
  });

  const hangOff = (): Fields => ({ stringId, observedAt: at('07:00'), from: { footageMm: 2840 }, mdMm: 2500, mdUMm: '5' });

  const tie = (changes: Fields = {}): Fields => ({
    stringId, observedAt: at('17:00'), place: { footageMm: 141_754 }, shoeMdMm: 62_500, shoeUMm: '50', method: 'Wireline tag', ...changes,
  });

  return {
    api: () => api,
    engineer: () => engineer,
    stringId: () => stringId,
    post, made, amend, withdraw, get, reasonsOf, rowsOf, setup, period, continuing, reading, seen, cutOut, hangOff, tie,
  };
}
