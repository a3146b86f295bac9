import { describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Answer } from '../setup/api.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, made, rowsOf, period, reading } = lineFactory();

describe('counter readings of a line computer', () => {
  async function lineComputer(counters: string[]): Promise<(path: string, body: Fields) => Promise<Answer>> {
    const administrator = await api().signIn('administrator');
    const id = uuidv7();
    const body = { id, stringId: stringId(), observedAt: at('05:20'), name: 'Line computer', counters, expiresAt: '2199-01-01T00:00:00Z', active: true };
    expect(await administrator.send('POST', '/api/devices', { body })).toMatchObject({ status: 201 });
    const made = await administrator.send('POST', `/api/devices/${id}/tokens`, { body: {} });
    expect(made.status).toBe(201);
    const headers = { authorization: `Bearer ${String(made.body['token'])}` };
    return (path, content) => api().send('POST', `/api/${path}`, { body: content, headers });
  }

  test('a batch is taken once, however often it is sent', async () => {
    await made('counter-periods', period());
    const send = await lineComputer(['main']);
    const readings = [reading('09:00', '1000'), reading('09:01', '2000.50'), reading('09:02', '3000')];
    const first = await send('counter-readings/batch', { readings });
    expect(first).toMatchObject({
      status: 201, body: { readings: readings.map(({ id, reading: said }) => ({ id, reading: said, source: 'instrument', counter: 'main' })) },
    });
    const again = await send('counter-readings/batch', { readings: [...readings, reading('09:03', '4000')] });
    expect((again.body['readings'] as Fields[]).slice(0, 3)).toEqual(first.body['readings']);
    expect(await rowsOf('counter_reading')).toBe(4);
  });

  test('two of the same batch at once are one batch', async () => {
    await made('counter-periods', period());
    const send = await lineComputer(['main']);
    const readings = Array.from({ length: 50 }, (_, index) => reading('09:00', String(index)));
    const answers = await Promise.all([1, 2, 3].map(() => send('counter-readings/batch', { readings })));
    expect(answers.map(({ status }) => status)).toEqual([201, 201, 201]);
    expect(answers[1]?.body).toEqual(answers[0]?.body);
    expect(await rowsOf('counter_reading')).toBe(50);
  });

  test('unlikely readings, and those without a period, are taken and noted', async () => {
    await made('counter-periods', period());
    const send = await lineComputer(['main', 'exit wheel']);
    const readings = [reading('09:00', '100000'), reading('09:01', '0'), reading('09:02', '7', { counter: 'exit wheel' })];
    const { status, body } = await send('counter-readings/batch', { readings });
    expect({ status, marks: (body['readings'] as Fields[]).map(({ marks }) => marks) }).toMatchObject({
      status: 201, marks: [[], [{ kind: 'noted', field: 'reading', value: '0' }], [{ kind: 'noted', field: 'reading', value: '7' }]],
    });
  });

  test('nothing but its own counters on its own string', async () => {
    await made('counter-periods', period());
    const send = await lineComputer(['exit wheel']);
    const own = { counter: 'exit wheel' };
    const foreign = await send('counter-readings/batch', { readings: [reading('09:00', '1', own), reading('09:01', '2')] });
    expect({ status: foreign.status, fields: fieldsRefused(foreign) }).toEqual({ status: 403, fields: ['readings[1].counter'] });
    expect(await send('counter-readings', reading('09:00', '1', { ...own, stringId: uuidv7() }))).toMatchObject({ status: 403 });
    expect(await send('counter-readings', reading('09:00', '1', { ...own, source: 'keyed' }))).toMatchObject({ status: 403 });
    expect(await send('counter-periods', period())).toMatchObject({ status: 403 });
    expect(await rowsOf('counter_reading')).toBe(0);
    expect(await send('counter-readings', reading('09:00', '1', own))).toMatchObject({ status: 201, body: { source: 'instrument' } });
  });
});

describe('a batch of readings', () => {
  const batch = (readings: Fields[]): Promise<Answer> => engineer().send('POST', '/api/counter-readings/batch', { body: { readings } });

  test.each<[string, () => Fields[], number, string[]]>([
    ['a malformed value', () => [reading('09:00', '1'), reading('09:01', '2 m')], 400, ['readings[1].reading']],
    ['no id', () => [reading('09:00', '1', { id: undefined })], 400, ['readings[0].id']],
    ['another string', () => [reading('09:00', '1'), reading('09:01', '2', { stringId: uuidv7() })], 422, ['readings[1].stringId']],
    ['two unlikely values', () => [reading('09:00', '90000'), reading('09:01', '0'), reading('09:02', '900000')], 422, ['readings[1].reading', 'readings[2].reading']],
    ['nothing', () => [], 400, ['readings']],
  ])('is refused whole for %s', async (_, readings, status, fields) => {
    await made('counter-periods', period());
    const refused = await batch(readings());
    expect({ status: refused.status, fields: fieldsRefused(refused) }).toEqual({ status, fields });
    expect(await rowsOf('counter_reading')).toBe(0);
  });

  test('is refused whole when an id stands with another value', async () => {
    await made('counter-periods', period());
    const taken = reading('09:00', '1000');
    await made('counter-readings', taken);
    const refused = await batch([reading('09:01', '1500'), { ...taken, reading: '1001' }]);
    expect(refused.status).toBe(409);
    expect(fieldsRefused(refused)).toContain('readings[1].reading');
    expect(await rowsOf('counter_reading')).toBe(1);
  });

  test('of 1000 is taken', async () => {
    await made('counter-periods', period());
    const readings = Array.from({ length: 1000 }, (_, index) => reading('09:00', String(index)));
    expect(await batch(readings)).toMatchObject({ status: 201 });
    expect(await rowsOf('counter_reading')).toBe(1000);
    expect(await batch([...readings, reading('09:00', '1000')])).toMatchObject({ status: 400 });
  });
});
