import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { CoilsService } from '../../apps/api/src/coils/coils.service.js';
import { CasingStringsService } from '../../apps/api/src/strings/casing-strings.service.js';
import { SurveysService } from '../../apps/api/src/surveys/surveys.service.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';

type Fields = Record<string, unknown>;

let api: TestApi;
let engineer: SignedIn;
let wellId: string;

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  wellId = await made('wells', { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame' });
});
afterAll(() => api.close());

/** The id of a record just entered. */
async function made(path: string, content: Fields): Promise<string> {
  const id = uuidv7();
  const body = { id, observedAt: '2026-03-02T08:15:00Z', ...content };
  expect(await engineer.send('POST', `/api/${path}`, { body })).toMatchObject({ status: 201 });
  return id;
}

async function withdraw(path: string, id: string): Promise<void> {
  const options = { body: { reason: 'Entered in error' }, headers: { 'if-match': '"1"' } };
  expect(await engineer.send('POST', `/api/${path}/${id}/void`, options)).toMatchObject({ status: 200, body: { state: 'void' } });
}

const station = (mdM: string, inclinationDeg: string): Fields => ({ mdM, inclinationDeg, azimuthDeg: '41.30' });

const surveyed = (observedAt: string): Promise<string> =>
  made('surveys', { wellId, observedAt, tool: 'Gyro', stations: [station('0', '80.00'), station('30.50', '78.25')] });

describe('what other features read', () => {
  test('the survey a well goes by is the latest one standing, as known then', async () => {
    const surveys = api.app.get(SurveysService);
    expect(await surveys.activeFor(wellId, null)).toBeNull();
    const late = await surveyed('2026-03-09T08:00:00Z');
    const early = await surveyed('2026-03-05T08:00:00Z');
    const active = await surveys.activeFor(wellId, null);
    expect(active?.id).toBe(late);
    expect(surveys.wellPathOf(active!).mdRange()).toEqual({ fromMdMm: 0, toMdMm: 30_500 });
    await withdraw('surveys', late);
    expect((await surveys.activeFor(wellId, null))?.id).toBe(early);
    expect((await surveys.activeFor(wellId, active!.knownFrom))?.id).toBe(late);
  });

  test('a string is open until it is withdrawn', async () => {
    const strings = api.app.get(CasingStringsService);
    const id = await made('casing-strings', {
      wellId, name: 'Lindmoor 2 main string', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
      lengthRatio: '0.985', lengthRatioU: '0.004',
    });
    const open = await strings.open(id, null);
    expect(open).toMatchObject({ id, lengthRatio: '0.985' });
    await withdraw('casing-strings', id);
    await expect(strings.open(id, null)).rejects.toMatchObject({ status: 409, code: 'void' });
    expect((await strings.open(id, open.knownFrom)).version).toBe(1);
    await expect(strings.open(uuidv7(), null)).rejects.toMatchObject({ status: 404 });
  });

  test('rows by their ids, each once, without those not known', async () => {
    const coils = api.app.get(CoilsService);
    const heatId = await made('heats', { number: 'H40711', grade: 'S420MC' });
    const coil = { heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850' };
    const [one, two] = [await made('coils', { ...coil, number: 'LM-01' }), await made('coils', { ...coil, number: 'LM-02' })];
    const rows = await coils.rowsByIds([one, two, one, uuidv7()], null);
    expect([...rows.keys()].sort()).toEqual([one, two].sort());
    expect(await coils.rowsByIds([one], '2026-03-01T00:00:00Z')).toEqual(new Map());
    expect(await coils.rowsByIds([], null)).toEqual(new Map());
  });
});
