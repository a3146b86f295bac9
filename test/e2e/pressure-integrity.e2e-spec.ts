import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { PressureIntegrityAnswer } from '../../apps/api/src/pressure-integrity/pressure-integrity.dto.js';
import { startTestApi, type TestApi } from '../setup/api.js';
import { pressureString, type PressureString } from './pressure-integrity.factory.js';

let api: TestApi;
let made: PressureString;
beforeAll(async () => { api = await startTestApi(); made = await pressureString(api); }, 60_000);
afterAll(() => api.close());
async function asked(query = '', of = made.stringId): Promise<PressureIntegrityAnswer> {
  const answer = await made.bench.who.send<PressureIntegrityAnswer & Record<string, unknown>>('GET', `/api/casing-strings/${of}/pressure-integrity${query}`);
  expect([answer.status, answer.body['errors'], answer.body['detail']]).toEqual([200, undefined, undefined]);
  return answer.body;
}
describe('x', () => {
  test('y', async () => {
    const found = await asked();
    for (const { wall, intervals, weakest } of found.walls) {
      console.log(wall, intervals.map((one) => JSON.stringify([one.footage, one.md, one.inputs.wallThicknessMm?.value, one.inputs.wallThicknessMm?.readAt, one.inputs.yieldMpa?.value, one.inputs.yieldMpa?.what, one.inputs.outsideDiameterMm?.value, one.inputs.lambda?.value, one.collapse.pressureMpa, one.collapse.because])).join('\n'), JSON.stringify(weakest, null, 1));
    }
    console.log(JSON.stringify(found.rules), found.knownAt);
  });
});
