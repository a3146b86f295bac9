import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { CounterPeriodVersion } from '../../apps/api/src/line/counter-period.entity.js';
import { NonconformancesService } from '../../apps/api/src/nonconformances/nonconformances.service.js';
import { startTestApi, type TestApi } from '../setup/api.js';
import { AT, countsOfOneMm, each, StringBench, type Fields } from '../setup/string-bench.js';

let api: TestApi;
let bench: StringBench;
let stringId: string;
let finderId: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  finderId = (await api.signIn('qc-inspector')).personId;
});
afterAll(() => api.close());
beforeEach(async () => {
  stringId = await bench.string();
});

const extent = (fromMm: number, toMm: number): Fields => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } });

const nonconformance = (changes: Fields = {}): Fields => ({
  title: 'Wall below minimum after splice S-3', severity: 'major', origin: 'line', stringId, extents: [extent(212_000, 212_600)],
  extentBasis: 'bracketed',
  requirement: { document: 'Pipe inspection plan', revision: '2', clause: '4.3', limit: 'wall at least 4.75 mm' },
  found: { value: '4.610', unit: 'mm', uncertainty: '0.02', method: 'ultrasonic', instrument: 'UT-04', at: AT, by: finderId },
  stage: 'open', ...changes,
});

const lastNumber = async (): Promise<number> => {
  const rows: { number: string }[] = await api.owner.query('select coalesce(max(number), 0) as number from nonconformance');
  return Number(rows[0]?.number);
};

const service = (): NonconformancesService => api.app.get(NonconformancesService);
const ids = (rows: readonly { readonly id: string }[]): string[] => rows.map(({ id }) => id);

describe('numbers', () => {
  test('20 creations at once, some refused: those taken are numbered without a gap, and nothing of the others is written', async () => {
    const before = await lastNumber();
    const wrong: Fields[] = [
      // Refused by the database, after the number was drawn.
      { extents: [extent(3_999_999, 4_000_001)] },
      { extents: [extent(5_000_000, 5_000_001)] },
      { extents: [] },
      { found: { ...(nonconformance()['found'] as Fields), by: uuidv7() } },
      { stage: 'closed' },
      { severity: 'huge' },
      { extents: [], coilExtents: [{ coilId: uuidv7() }] },
    ];
    const sent = Array.from({ length: 20 }, (_, index) => ({ id: uuidv7(), ...nonconformance(wrong[index % 3 === 0 ? index / 3 : -1]) }));
    const answers = await Promise.all(sent.map((content) => bench.enter('nonconformances', content)));
    const taken = answers.filter(({ status }) => status === 201);
    expect(answers.map(({ status }) => status).filter((status) => status !== 201).sort()).toEqual([400, 422, 422, 422, 422, 422, 422]);
    expect(taken.map(({ body }) => Number(body['number'])).sort((a, b) => a - b)).toEqual(taken.map((_, index) => before + 1 + index));
    expect(await lastNumber()).toBe(before + taken.length);
    expect(new Set(ids(await service().ofString(stringId, null)))).toEqual(new Set(taken.map(({ body }) => body['id'])));
  });

  test('the label is the number as people say it', async () => {
    const { body } = await bench.enter('nonconformances', nonconformance());
    expect(body['label']).toBe(`NC-${String(body['number']).padStart(4, '0')}`);
  });
});

describe('a retry', () => {
  test('one write sent 50 times at once is one record with one number', async () => {
    const before = await lastNumber();
    const content = { id: uuidv7(), ...nonconformance() };
    const answers = await Promise.all(Array.from({ length: 50 }, () => bench.enter('nonconformances', content)));
    for (const answer of answers) expect(answer).toMatchObject({ status: 201, body: { id: content.id, version: 1, number: before + 1 } });
    expect(ids(await service().ofString(stringId, null))).toEqual([content.id]);
    expect((await bench.enter('nonconformances', nonconformance())).body['number']).toBe(before + 2);
  });

  test('the same by an idempotency key, without an id of the client', async () => {
    const before = await lastNumber();
    const body = { observedAt: AT, ...nonconformance() };
    const headers = { 'idempotency-key': uuidv7() };
    const answers = await Promise.all(
      Array.from({ length: 50 }, () => bench.who.send('POST', '/api/nonconformances', { body, headers })),
    );
    expect(answers[0]).toMatchObject({ status: 201, body: { number: before + 1 } });
    for (const { status, body: again } of answers) expect([status, again]).toEqual([201, answers[0]?.body]);
    expect(await lastNumber()).toBe(before + 1);
  });

  test('the same id with other content is refused and draws no number', async () => {
    const before = await lastNumber();
    const content = { id: uuidv7(), ...nonconformance() };
    await bench.made('nonconformances', content);
    const other = await bench.enter('nonconformances', { ...content, title: 'Another title' });
    expect(other).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:id-taken' } });
    expect(each(other, 'errors', 'field')).toContain('title');
    expect(await lastNumber()).toBe(before + 1);
  });
});

describe('the life of a nonconformance', () => {
  test('amended, withdrawn, and readable as known at every moment', async () => {
    const made = await bench.enter('nonconformances', nonconformance());
    const path = `nonconformances/${String(made.body['id'])}`;
    const disposition = { kind: 'repair', text: 'Clamp sleeve', approvedBy: bench.who.personId, approvedAt: '2026-03-02T11:30:00+00:00' };
    const amended = await bench.amend(path, 1, {
      severity: 'critical', extents: [extent(212_000, 213_000), extent(300_000, 300_001)], disposition, stage: 'disposition-approved',
    });
    expect(amended).toMatchObject({
      status: 200,
      body: {
        version: 2, number: made.body['number'], severity: 'critical', title: 'Wall below minimum after splice S-3',
        footage: [{ fromMm: 212_000, toMm: 213_000 }, { fromMm: 300_000, toMm: 300_001 }],
        found: { value: '4.610', unit: 'mm', uncertainty: '0.02', text: null },
        disposition: { ...disposition, approvedAt: '2026-03-02T11:30:00.000000Z' },
      },
    });
    expect(await bench.amend(path, 1, { severity: 'minor' })).toMatchObject({ status: 412, body: { currentVersion: 2 } });
    expect(await bench.amend(path, 2, { stage: 'closed', disposition: null })).toMatchObject({ status: 422, body: { errors: [{ field: 'disposition' }] } });
    const closed = await bench.amend(path, 2, { stage: 'closed' });
    expect(closed).toMatchObject({ status: 200, body: { version: 3, stage: 'closed', severity: 'critical' } });
    const voided = await bench.withdraw(path, 3);
    expect(voided).toMatchObject({ status: 200, body: { version: 4, state: 'void', number: made.body['number'] } });
    expect(await bench.amend(path, 4, { stage: 'open' })).toMatchObject({ status: 409 });

    const history = await bench.get(`${path}/history`);
    expect(each(history, 'versions', 'action')).toEqual(['created', 'amended', 'amended', 'voided']);
    expect(each(history, 'versions', 'reason')).toEqual([null, 'Read again', 'Read again', 'Entered twice']);
    const changed = (each(history, 'versions', 'changes') as Fields[][]).map((changes) => changes.map(({ field }) => field));
    expect(changed).toEqual([[], ['severity', 'extents', 'footage', 'stage', 'disposition'], ['stage'], ['state']]);
    for (const known of [made, amended, closed, voided]) {
      const then = await bench.get(`${path}?asKnownAt=${String(known.body['recordedAt'])}`);
      expect(then.body).toEqual({ ...known.body, knownUntil: then.body['knownUntil'] });
    }
    expect(await bench.get(`${path}?asKnownAt=2026-01-01T00:00:00Z`)).toMatchObject({ status: 404 });
    expect(await bench.count(`nonconformances?stringId=${stringId}`)).toBe(0);
    expect(await bench.count(`nonconformances?stringId=${stringId}&includeVoid=true`)).toBe(1);
  });

  test('a withdrawn number is not given out again', async () => {
    const { body } = await bench.enter('nonconformances', nonconformance());
    await bench.withdraw(`nonconformances/${String(body['id'])}`, 1);
    expect((await bench.enter('nonconformances', nonconformance())).body['number']).toBe(Number(body['number']) + 1);
  });

  test('every field comes back as it was sent', async () => {
    const coilId = await bench.coil();
    const content = nonconformance({
      coilExtents: [{ coilId, stripFromMm: 212_000, stripToMm: 236_500 }, { coilId, stripFromMm: null, stripToMm: 500 }],
      found: { value: null, text: 'Thin band along the seam', unit: null, uncertainty: null, method: 'visual', instrument: 'eye', at: AT, by: finderId },
      containment: { action: 'Line stopped', footageMm: 241_300, at: AT, by: finderId },
      disposition: { kind: 'further-inspection', text: 'Gauge every 50 mm', approvedBy: bench.who.personId, approvedAt: AT },
      note: 'Splices S-2 and S-4 gauged: conform',
    });
    const { status, body } = await bench.enter('nonconformances', content);
    expect(status).toBe(201);
    expect(body).toMatchObject(content);
  });

  test('a corrected counter moves the pipe it concerns, not what was given as footage', async () => {
    const periodId = await bench.stand(CounterPeriodVersion, countsOfOneMm(stringId));
    const byReading = { from: { counterReading: '100000' }, to: { counterReading: '200000' } };
    const made = await bench.enter('nonconformances', nonconformance({ extents: [byReading, extent(212_000, 212_600)] }));
    const fixed = await bench.made('nonconformances', nonconformance());
    expect(made.body).toMatchObject({ restsOn: [{ kind: 'counter-period', id: periodId }] });
    await bench.correct(CounterPeriodVersion, stringId, periodId, { scaleMmPerCount: '1.01' });
    expect(await bench.get(`nonconformances/${String(made.body['id'])}`)).toMatchObject({
      body: {
        version: 2, number: made.body['number'], extents: [byReading, extent(212_000, 212_600)],
        footage: [{ fromMm: 101_000, toMm: 202_000 }, { fromMm: 212_000, toMm: 212_600 }],
      },
    });
    expect(await bench.get(`nonconformances/${fixed}`)).toMatchObject({ body: { version: 1 } });
  });
});

describe('what it concerns', () => {
  test('strip alone needs no string; strip and pipe are found by coil, footage and time', async () => {
    const coilId = await bench.coil();
    const strip = await bench.enter('nonconformances', nonconformance({ stringId: null, extents: [], coilExtents: [{ coilId }] }));
    expect(strip).toMatchObject({ status: 201, body: { stringId: null, footage: [], coilExtents: [{ coilId, stripFromMm: null, stripToMm: null }] } });
    const pipe = await bench.made('nonconformances', nonconformance({ extents: [extent(0, 100), extent(500, 600)] }));
    const path = `nonconformances/${String(strip.body['id'])}`;
    expect(await bench.amend(path, 1, { severity: 'minor' })).toMatchObject({ status: 200, body: { severity: 'minor', stringId: null } });

    expect(ids(await service().ofCoils([coilId, uuidv7()], null))).toEqual([strip.body['id']]);
    expect(ids(await service().touching(stringId, '{[599,700)}', null))).toEqual([pipe]);
    expect(ids(await service().touching(stringId, '{[100,500),[600,700)}', null))).toEqual([]);
    expect(ids(await service().ofString(stringId, null))).toEqual([pipe]);
    const [asMinor] = await service().ofCoils([coilId], null);
    const [asMajor] = await service().ofCoils([coilId], String(strip.body['recordedAt']));
    expect([asMinor?.severity, asMajor?.severity]).toEqual(['minor', 'major']);
    expect(await service().ofCoils([coilId], '2026-01-01T00:00:00Z')).toEqual([]);
  });

  test('what it cannot concern is refused at its field', async () => {
    const refusedAt = async (changes: Fields): Promise<unknown> => {
      const answer = await bench.enter('nonconformances', nonconformance(changes));
      return [answer.status, ...each(answer, 'errors', 'field')];
    };
    const coilId = await bench.coil();
    expect(await refusedAt({ stringId: null })).toEqual([422, 'stringId']);
    expect(await refusedAt({ stringId: uuidv7() })).toEqual([422, 'stringId']);
    expect(await refusedAt({ extents: [extent(5, 9), extent(9, 9)] })).toEqual([422, 'extents[1].to']);
    expect(await refusedAt({ extents: [{ from: { counterReading: '5' } }] })).toEqual([422, 'extents[0].from.counterReading']);
    expect(await refusedAt({ extents: Array.from({ length: 51 }, () => extent(5, 9)) })).toEqual([400, 'extents']);
    expect(await refusedAt({ extents: [{ ...extent(5, 9), depthMm: 4 }] })).toEqual([400, 'extents[0].depthMm']);
    expect(await refusedAt({ coilExtents: [{ coilId }, { coilId: uuidv7() }] })).toEqual([422, 'coilExtents[1].coilId']);
    expect(await refusedAt({ containment: { action: 'Line stopped', at: AT, by: uuidv7() } })).toEqual([422, 'containment.by']);
    const own = { kind: 'reject', text: 'Cut out', approvedBy: finderId, approvedAt: AT };
    expect(await refusedAt({ disposition: own })).toEqual([422, 'disposition.approvedBy']);
    expect(await service().ofString(stringId, null)).toEqual([]);
  });

  test('a string keeps the ground that it concerns', async () => {
    await bench.made('nonconformances', nonconformance({ extents: [extent(1_000_000, 1_000_100)] }));
    expect(await bench.amend(`casing-strings/${stringId}`, 1, { footageLimitMm: 1_000_099 })).toMatchObject({ status: 422 });
    expect(await bench.amend(`casing-strings/${stringId}`, 1, { footageLimitMm: 1_000_100 })).toMatchObject({ status: 200 });
  });
});
