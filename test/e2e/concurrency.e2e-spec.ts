import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type TestApi } from '../setup/api.js';
import { recordTables } from '../setup/record-rows.js';
import { AT, StringBench, type Fields } from '../setup/string-bench.js';
import { Wire, type WireAnswer } from '../setup/wire.js';

jest.setTimeout(120_000);

let api: TestApi;
let bench: StringBench;
let wire: Wire;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  wire = new Wire(await api.listen(), bench.who.token);
});
afterAll(async () => {
  wire.close();
  await api.close();
});

const times = <T>(count: number, work: (nth: number) => Promise<T>): Promise<T[]> =>
  Promise.all(Array.from({ length: count }, (_, nth) => work(nth)));

const statusesOf = (answers: readonly WireAnswer[]): number[] => answers.map(({ status }) => status).sort();

const well = (name: string, changes: Fields = {}): Fields => ({ id: uuidv7(), observedAt: AT, name, datum: 'Guide frame', ...changes });

/** How many rows each table of the database has. */
async function rowCounts(): Promise<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const table of [...(await recordTables(api.owner)), 'request_key']) {
    const rows: { count: string }[] = await api.owner.query(`select count(*) from ${table}`);
    counts[table] = Number(rows[0]?.count);
  }
  return counts;
}

/** The tables that have more rows than before, and by how many. */
async function addedSince(before: Record<string, number>): Promise<Record<string, number>> {
  const now = Object.entries(await rowCounts());
  return Object.fromEntries(now.map(([table, count]) => [table, count - (before[table] ?? 0)] as const).filter(([, more]) => more !== 0));
}

describe('amendments at once', () => {
  test('of two, one is taken and the other is told what changed: 100 rounds', async () => {
    const body = well('Raced');
    expect(await wire.post('wells', body)).toMatchObject({ status: 201 });
    const path = `wells/${String(body['id'])}`;
    for (let version = 1; version <= 100; version += 1) {
      const before = await wire.get(path);
      const answers = await times(2, (nth) => wire.amend(path, version, { note: `round ${version}, writer ${nth}` }));
      const [taken, refused] = answers.sort((one, other) => one.status - other.status);
      expect(taken).toMatchObject({ status: 200, body: { version: version + 1 } });
      expect(refused).toMatchObject({
        status: 412,
        body: {
          type: expect.stringContaining('stale-version'), currentVersion: version + 1, reason: 'Read again in good light',
          changes: [{ field: 'note', before: before.body['note'], after: taken?.body['note'] }],
        },
      });
      expect((await wire.get(path)).body).toEqual(taken?.body);
    }
    expect((await wire.get(`${path}/history`)).body['versions']).toHaveLength(101);
  });

  test('of twelve that amend and withdraw one record, one is taken', async () => {
    const body = well('Raced by twelve');
    await wire.post('wells', body);
    const path = `wells/${String(body['id'])}`;
    const withdraw = { method: 'POST', path: `/api/${path}/void`, body: { reason: 'Entered twice' }, headers: { 'if-match': '"1"' } } as const;
    const answers = await times(12, (nth) => (nth % 2 === 0 ? wire.send(withdraw) : wire.amend(path, 1, { note: `writer ${nth}` })));
    expect(statusesOf(answers)).toEqual([200, ...Array<number>(11).fill(412)]);
    expect((await wire.get(path)).body['version']).toBe(2);
  });
});

describe('one write, sent many times at once', () => {
  test('50 times with its id: one record, 50 equal answers', async () => {
    const before = await rowCounts();
    const body = well('Sent fifty times');
    const answers = await times(50, () => wire.post('wells', body));
    expect(answers[0]).toMatchObject({ status: 201, body: { id: body['id'], version: 1 } });
    for (const answer of answers) expect(answer).toEqual(answers[0]);
    expect(await addedSince(before)).toEqual({ well: 1 });
  });

  test('again after it was amended: the first answer, as it was given', async () => {
    const body = well('Amended since');
    const first = await wire.post('wells', body);
    expect(await wire.amend(`wells/${String(body['id'])}`, 1, { note: 'Another' })).toMatchObject({ status: 200 });
    expect(await wire.post('wells', body)).toEqual(first);
  });

  test('50 times with a key and no id: one record, 50 equal answers', async () => {
    const before = await rowCounts();
    const body = well('Sent with a key', { id: undefined });
    const answers = await times(50, () => wire.post('wells', body, { 'idempotency-key': 'fifty' }));
    expect(answers[0]).toMatchObject({ status: 201, body: { version: 1 } });
    for (const answer of answers) expect(answer).toEqual(answers[0]);
    expect(await addedSince(before)).toEqual({ well: 1, request_key: 1 });
  });

  test('an amendment 30 times with a key: one version, 30 equal answers', async () => {
    const body = well('Amended with a key');
    await wire.post('wells', body);
    const before = await rowCounts();
    const send = (): Promise<WireAnswer> => wire.send({
      method: 'PATCH', path: `/api/wells/${String(body['id'])}`, body: { reason: 'Read again', note: 'Once' },
      headers: { 'if-match': '"1"', 'idempotency-key': 'amended' },
    });
    const answers = await times(30, send);
    expect(answers[0]).toMatchObject({ status: 200, body: { version: 2, note: 'Once' } });
    for (const answer of answers) expect(answer).toEqual(answers[0]);
    expect(await addedSince(before)).toEqual({ well: 1, request_key: 1 });
  });

  test('one key for two requests: one of them is taken, the other is 422 however often it comes', async () => {
    const before = await rowCounts();
    const bodies = [well('One of two'), well('Other of two')];
    const answers = await times(40, async (nth) => ({ nth: nth % 2, ...(await wire.post('wells', bodies[nth % 2] ?? {}, { 'idempotency-key': 'two' })) }));
    const taken = answers.filter(({ status }) => status === 201);
    const refused = answers.filter(({ status }) => status === 422);
    expect([taken.length, refused.length]).toEqual([20, 20]);
    expect(new Set(taken.map(({ nth }) => nth)).size).toBe(1);
    for (const { body } of refused) expect(body).toMatchObject({ type: expect.stringContaining('key-reused'), errors: [{ field: 'Idempotency-Key', value: 'two' }] });
    expect(await addedSince(before)).toEqual({ well: 1, request_key: 1 });
  });

  test('one id for two contents: one of them is taken, the other is 409 with the field that differs', async () => {
    const before = await rowCounts();
    const id = uuidv7();
    const bodies = [well('Under one id', { id }), well('Also under it', { id })];
    const answers = await times(40, (nth) => wire.post('wells', bodies[nth % 2] ?? {}));
    const taken = answers.filter(({ status }) => status === 201);
    const refused = answers.filter(({ status }) => status === 409);
    expect([taken.length, refused.length]).toEqual([20, 20]);
    const name = taken[0]?.body['name'];
    for (const { body } of taken) expect(body['name']).toBe(name);
    for (const { body } of refused) expect(body).toMatchObject({ errors: [{ field: 'name', limit: `was ${JSON.stringify(name)}` }] });
    expect(await addedSince(before)).toEqual({ well: 1 });
  });
});

describe('ground', () => {
  test('of 20 segments that overlap, exactly one is taken and the others leave nothing', async () => {
    for (let round = 0; round < 5; round += 1) {
      const stringId = await bench.string();
      const coilIds = await times(20, () => bench.coil());
      const before = await rowCounts();
      const answers = await times(20, (nth) => wire.post('coil-segments', {
        id: uuidv7(), observedAt: AT, stringId, coilId: coilIds[nth], from: { footageMm: 100_000 + nth }, to: { footageMm: 300_000 + nth },
        stripFromMm: 0, stripToMm: 203_000, runs: 'head-first',
      }));
      expect(statusesOf(answers)).toEqual([201, ...Array<number>(19).fill(409)]);
      const refused = answers.filter(({ status }) => status === 409);
      for (const { body } of refused) expect(body).toMatchObject({ errors: [{ field: 'from', limit: 'overlaps another segment of this string' }] });
      expect(await addedSince(before)).toEqual({ coil_segment: 1 });
    }
  });

  test('20 segments that only touch are all taken', async () => {
    const stringId = await bench.string();
    const coilIds = await times(20, () => bench.coil());
    const answers = await times(20, (nth) => wire.post('coil-segments', {
      id: uuidv7(), observedAt: AT, stringId, coilId: coilIds[nth], from: { footageMm: nth * 10_000 }, to: { footageMm: (nth + 1) * 10_000 },
      stripFromMm: 0, stripToMm: 10_152, runs: 'head-first',
    }));
    expect(statusesOf(answers)).toEqual(Array<number>(20).fill(201));
  });
});

describe('a position entered while the scale it rests on is corrected', () => {
  const ROUNDS = 200;
  const ROUNDS_A_STRING = 10;

  test(`agrees with the corrected scale, whichever came first: ${ROUNDS} rounds`, async () => {
    let positionsMoved = 0;
    for (let done = 0; done < ROUNDS; done += ROUNDS_A_STRING) positionsMoved += await roundsOnString();
    // Both orders happened; otherwise nothing raced.
    expect(positionsMoved).toBeGreaterThan(0);
    expect(positionsMoved).toBeLessThan(ROUNDS);
  });

  /** Gives how often the inspection came first and was derived again. */
  async function roundsOnString(): Promise<number> {
    const stringId = await bench.string();
    const periodId = uuidv7();
    const period = { id: periodId, observedAt: '2026-03-01T00:00:00Z', stringId, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.000', scaleRelativeU: '0.0005' };
    expect(await wire.post('counter-periods', period)).toMatchObject({ status: 201 });
    const placedAt = new Map<string, number>();
    let moved = 0;
    for (let round = 1; round <= ROUNDS_A_STRING; round += 1) {
      const id = uuidv7();
      const counts = 10_000 * round;
      placedAt.set(id, counts);
      const inspection = { id, observedAt: AT, stringId, from: { counterReading: String(counts) }, kind: 'visual', characteristic: 'seam', verdict: 'accepted' };
      const thousandths = 1000 + (round % 2) * 10;
      const correct = (): Promise<WireAnswer> => wire.amend(`counter-periods/${periodId}`, round, { scaleMmPerCount: `1.0${round % 2}0` });
      const enter = (): Promise<WireAnswer> => wire.post('inspections', inspection);
      const [one, other] = await Promise.all(round % 4 < 2 ? [enter(), correct()] : [correct(), enter()]);
      expect([one.status, other.status].sort()).toEqual([200, 201]);
      if ((await whereIs(id, counts, thousandths))['version'] === 2) moved += 1;
      if (round === ROUNDS_A_STRING) for (const [each, reading] of placedAt) await whereIs(each, reading, thousandths);
    }
    return moved;

    async function whereIs(id: string, reading: number, thousandths: number): Promise<Fields> {
      const { body } = await wire.get(`inspections/${id}`);
      const footageMm = (reading * thousandths) / 1000;
      expect(body).toMatchObject({ footageFromMm: footageMm, footageToMm: footageMm + 1, restsOn: [{ id: periodId }] });
      return body;
    }
  }
});

describe('numbers of nonconformances', () => {
  test('60 at once, every third refused by the database after its number was drawn: the taken ones have no gap', async () => {
    const stringId = await bench.string();
    const requirement = { document: 'Pipe inspection plan', revision: '2', clause: '4.3', limit: 'wall at least 4.75 mm' };
    const found = { value: '4.610', unit: 'mm', method: 'ultrasonic', instrument: 'UT-04', at: AT, by: bench.who.personId };
    const answers = await times(60, (nth) => {
      const toMm = nth % 3 === 0 ? 4_000_001 : 212_600;
      const extents = [{ from: { footageMm: 212_000 }, to: { footageMm: toMm } }];
      return wire.post('nonconformances', {
        id: uuidv7(), observedAt: AT, title: `Thin wall ${nth}`, severity: 'major', origin: 'line', stringId, extents, extentBasis: 'measured',
        requirement, found, stage: 'open',
      });
    });
    const taken = answers.filter(({ status }) => status === 201);
    expect(taken).toHaveLength(40);
    expect(answers.filter(({ status }) => status === 422)).toHaveLength(20);
    const numbers = taken.map(({ body }) => Number(body['number'])).sort((a, b) => a - b);
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    expect(await api.owner.query("select last_number from number_series where name = 'nonconformance'")).toEqual([{ last_number: '40' }]);
  });
});
