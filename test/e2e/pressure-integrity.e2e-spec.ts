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
    const { writeFileSync } = await import('node:fs');
    for (const [name, query] of [['csv', ''], ['las', '?wall=outer'], ['svg', ''], ['pdf', '']] as const) {
      const answer = await api.app.getHttpAdapter().getInstance().inject({ headers: { authorization: `Bearer ${made.bench.who.token}` }, url: `/api/casing-strings/${made.stringId}/pressure-integrity.${name}${query}` });
      const bytes = answer.rawPayload;
      if (bytes !== undefined) writeFileSync(`/tmp/w/out.${name}`, bytes);
    }
  });
});
