import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { CounterPeriodVersion } from '../../apps/api/src/line/counter-period.entity.js';
import { CutOutVersion } from '../../apps/api/src/line/cut-out.entity.js';
import { CoilSegmentsService } from '../../apps/api/src/segments/coil-segments.service.js';
import { startTestApi, type TestApi } from '../setup/api.js';
import { AT, countsOfOneMm, each, StringBench, type Fields } from '../setup/string-bench.js';
import { permitted } from '../setup/string-builder.js';

const NOT_ACCEPTED = 'a coil that was accepted, or for which a deviation permit stands';

let api: TestApi;
let bench: StringBench;
let stringId: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  stringId = await bench.string();
});
afterAll(() => api.close());

const place = (fromMm: number, toMm?: number): Fields => ({
  from: { footageMm: fromMm }, ...(toMm === undefined ? {} : { to: { footageMm: toMm } }),
});

/** 100 m of pipe from 100 m of strip. */
const segment = (coilId: string, fromMm: number, stripFromMm: number, changes: Fields = {}): Fields => ({
  stringId, coilId, ...place(fromMm, fromMm + 100_000), stripFromMm, stripToMm: stripFromMm + 100_000, runs: 'head-first', ...changes,
});

describe('coil segments', () => {
  test('a coil may run head first or tail first; the answer says what was sent', async () => {
    const coilId = await bench.coil();
    const head = await bench.enter('coil-segments', segment(coilId, 0, 1000));
    const tail = await bench.enter('coil-segments', segment(coilId, 100_000, 101_000, { runs: 'tail-first', note: 'Turned round' }));
    expect(head).toMatchObject({
      status: 201,
      body: { coilId, runs: 'head-first', stripFromMm: 1000, stripToMm: 101_000, footageFromMm: 0, footageToMm: 100_000, marks: [] },
    });
    expect(tail).toMatchObject({
      status: 201, body: { runs: 'tail-first', from: { footageMm: 100_000 }, to: { footageMm: 200_000 }, note: 'Turned round' },
    });
  });

  test('ground that a segment has is refused to another, to the millimetre, and nothing is written', async () => {
    const own = await bench.string();
    const [first, second] = [await bench.coil(), await bench.coil()];
    await bench.made('coil-segments', segment(first, 100_000, 0, { stringId: own }));
    const overlapping = await bench.enter('coil-segments', segment(second, 199_999, 0, { stringId: own }));
    expect(overlapping).toMatchObject({
      status: 409, body: { errors: [{ field: 'from', limit: 'overlaps another segment of this string' }] },
    });
    expect(await bench.count(`coil-segments?stringId=${own}`)).toBe(1);
    expect(await bench.enter('coil-segments', segment(second, 200_000, 0, { stringId: own }))).toMatchObject({ status: 201 });
  });

  test('of 20 segments sent for the same ground at once, one stands', async () => {
    const own = await bench.string();
    const coils = await Promise.all(Array.from({ length: 20 }, () => bench.coil()));
    const answers = await Promise.all(
      coils.map((coilId, index) => bench.enter('coil-segments', segment(coilId, index * 1000, 0, { stringId: own }))),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array.from({ length: 19 }, () => 409)]);
    expect(await bench.count(`coil-segments?stringId=${own}`)).toBe(1);
  });

  test('one coil may serve two strings, but no strip of it twice', async () => {
    const [here, there, coilId] = [await bench.string(), await bench.string(), await bench.coil()];
    const one = await bench.made('coil-segments', segment(coilId, 0, 0, { stringId: here }));
    const two = await bench.made('coil-segments', segment(coilId, 0, 100_000, { stringId: there }));
    const again = segment(coilId, 500_000, 199_999, { stringId: here });
    expect(await bench.enter('coil-segments', again)).toMatchObject({
      status: 409, body: { errors: [{ field: 'stripFromMm', value: 199_999, limit: 'this strip of the coil stands elsewhere already' }] },
    });
    const rows = await api.app.get(CoilSegmentsService).ofCoils([coilId], null);
    expect(new Set(rows.map(({ id }) => id))).toEqual(new Set([one, two]));
    expect(await bench.withdraw(`coil-segments/${two}`, 1)).toMatchObject({ status: 200, body: { state: 'void' } });
    expect(await bench.enter('coil-segments', again)).toMatchObject({ status: 201 });
  });

  test('beyond the string, reversed, without an end, or of an unknown coil: refused', async () => {
    const coilId = await bench.coil();
    expect(await bench.enter('coil-segments', segment(coilId, 3_900_001, 0))).toMatchObject({
      status: 422, body: { type: 'urn:everymetre:problem:outside-string' },
    });
    const refusedAt = async (changes: Fields): Promise<unknown[]> => each(await bench.enter('coil-segments', segment(coilId, 300_000, 0, changes)), 'errors', 'field');
    expect(await refusedAt({ to: { footageMm: 300_000 } })).toEqual(['to']);
    expect(await refusedAt({ to: null })).toEqual(['to']);
    expect(await refusedAt({ stripToMm: 0 })).toEqual(['stripToMm']);
    expect(await refusedAt({ stripToMm: 100_000, stripFromMm: 100_000 })).toEqual(['stripToMm']);
    expect(await refusedAt({ coilId: uuidv7() })).toEqual(['coilId']);
    expect(await bench.count(`coil-segments?coilId=${coilId}`)).toBe(0);
  });

  test('of a coil that nobody accepted it is refused at the coil, and taken once its use is permitted', async () => {
    const coilId = await bench.unpermittedCoil();
    const body = segment(coilId, 600_000, 0);
    expect(await bench.enter('coil-segments', body)).toMatchObject({ status: 409, body: { errors: [{ field: 'coilId', value: coilId, limit: NOT_ACCEPTED }] } });
    expect(await bench.count(`coil-segments?coilId=${coilId}`)).toBe(0);
    await permitted(bench.who, coilId);
    expect(await bench.enter('coil-segments', body)).toMatchObject({ status: 201 });
  });

  test('amended to be of such a coil it is refused; it stands as it was', async () => {
    const path = `coil-segments/${await bench.made('coil-segments', segment(await bench.coil(), 700_000, 0))}`;
    const coilId = await bench.unpermittedCoil();
    expect(await bench.amend(path, 1, { coilId })).toMatchObject({ status: 409, body: { errors: [{ field: 'coilId', value: coilId, limit: NOT_ACCEPTED }] } });
    expect(await bench.get(path)).toMatchObject({ status: 200, body: { version: 1 } });
  });

  test('an unlikely elongation is asked about once and marked; an amendment of something else does not ask again', async () => {
    const coilId = await bench.coil();
    const id = uuidv7();
    const stretched = segment(coilId, 1_000_000, 0, { id, stripToMm: 90_000 });
    const asked = await bench.enter('coil-segments', stretched);
    expect(asked).toMatchObject({ status: 422, body: { errors: [{ field: 'to', value: '1.11111' }] } });
    const confirmed = await bench.enter('coil-segments', { ...stretched, confirm: each(asked, 'errors', 'confirm') });
    expect(confirmed).toMatchObject({ status: 201, body: { marks: [{ kind: 'confirmed-implausible', field: 'to', value: '1.11111' }] } });
    expect(await bench.amend(`coil-segments/${id}`, 1, { note: 'Taped' })).toMatchObject({ status: 200, body: { version: 2, note: 'Taped' } });
    expect(await bench.amend(`coil-segments/${id}`, 2, { stripToMm: 91_000 })).toMatchObject({ status: 422 });
  });
});

describe('splices', () => {
  const splice = (coils: readonly [string, string], fromMm: number, changes: Fields = {}): Fields => ({
    stringId, number: `S-${fromMm}`, leavingCoilId: coils[0], enteringCoilId: coils[1], ...place(fromMm), angleDeg: '45',
    hand: 'left', confirmed: false, verdict: 'open', ...changes,
  });
  let coils: [string, string];
  beforeAll(async () => {
    coils = [await bench.coil(), await bench.coil({ widthMm: '383.0', massKg: '7516' })];
  });

  test.each([['leavingCoilId', 0], ['enteringCoilId', 1]] as const)('of a coil that nobody accepted it is refused at %s', async (field, place) => {
    const coilId = await bench.unpermittedCoil();
    const both: [string, string] = place === 0 ? [coilId, coils[1]] : [coils[0], coilId];
    const answer = await bench.enter('splices', splice(both, 2_005_000 + place));
    expect(answer).toMatchObject({ status: 409, body: { errors: [{ field, value: coilId, limit: NOT_ACCEPTED }] } });
    expect(await bench.count(`splices?stringId=${stringId}`)).toBe(0);
  });

  test('without an end it takes what angle and entering width give; a given end stands as given', async () => {
    const computed = await bench.enter('splices', splice(coils, 2_000_000));
    // 383 mm at 45°: 383 mm. At 60°: 383 / 1.73205 = 221.1 mm, by hand.
    expect(computed).toMatchObject({
      status: 201, body: { footageFromMm: 2_000_000, footageToMm: 2_000_383, pipeLengthMm: 383, to: null, doubt: null },
    });
    const path = `splices/${String(computed.body['id'])}`;
    expect(await bench.amend(path, 1, { angleDeg: '60' })).toMatchObject({ status: 200, body: { footageToMm: 2_000_221, pipeLengthMm: 221 } });
    expect(await bench.amend(path, 2, { angleDeg: '90', hand: 'square' })).toMatchObject({ body: { footageToMm: 2_000_001 } });
    expect(await bench.amend(path, 3, { to: { footageMm: 2_000_040 } })).toMatchObject({ body: { footageToMm: 2_000_040, to: { footageMm: 2_000_040 } } });
    expect(await bench.amend(path, 4, { to: null })).toMatchObject({ body: { footageToMm: 2_000_001, to: null } });
  });

  test('its number is its own on the string, however it is written', async () => {
    await bench.made('splices', splice(coils, 2_010_000, { number: 's-7' }));
    const twice = await bench.enter('splices', splice(coils, 2_020_000, { number: 'S-7' }));
    expect(twice).toMatchObject({ status: 409, body: { errors: [{ field: 'number', value: 'S-7' }] } });
    const elsewhere = await bench.string();
    expect(await bench.enter('splices', splice(coils, 2_020_000, { number: 'S-7', stringId: elsewhere }))).toMatchObject({ status: 201 });
  });

  test('outside the string it is refused, also when only its computed end lies there', async () => {
    for (const fromMm of [4_000_000, 3_999_618]) {
      expect(await bench.enter('splices', splice(coils, fromMm))).toMatchObject({
        status: 422, body: { type: 'urn:everymetre:problem:outside-string' },
      });
    }
    expect(await bench.enter('splices', splice(coils, 3_999_617))).toMatchObject({ status: 201, body: { footageToMm: 4_000_000 } });
  });

  test('a contradiction is refused at its field', async () => {
    const refusedAt = async (changes: Fields): Promise<unknown> => {
      const answer = await bench.enter('splices', splice(coils, 2_030_000, changes));
      return [answer.status, ...each(answer, 'errors', 'field')];
    };
    expect(await refusedAt({ enteringCoilId: coils[0] })).toEqual([422, 'enteringCoilId']);
    expect(await refusedAt({ hand: 'square' })).toEqual([422, 'hand']);
    expect(await refusedAt({ verdict: 'in-doubt' })).toEqual([422, 'doubt']);
    expect(await refusedAt({ angleDeg: '9.9' })).toEqual([400, 'angleDeg']);
    expect(await refusedAt({ angleDeg: '20' })).toEqual([422, 'angleDeg']);
    expect(await refusedAt({ leavingCoilId: uuidv7() })).toEqual([422, 'leavingCoilId']);
  });

  test('far from where the segments of its coils meet it is asked about', async () => {
    const own = await bench.string();
    await bench.made('coil-segments', segment(coils[0], 0, 0, { stringId: own }));
    await bench.made('coil-segments', segment(coils[1], 100_000, 0, { stringId: own }));
    expect(await bench.enter('splices', splice(coils, 102_001, { stringId: own }))).toMatchObject({
      status: 422, body: { errors: [{ field: 'from', value: '102001' }] },
    });
    expect(await bench.enter('splices', splice(coils, 102_000, { stringId: own }))).toMatchObject({ status: 201, body: { marks: [] } });
  });

  test('a corrected counter moves it with its own length, in a new version that says why', async () => {
    const own = await bench.string();
    const periodId = await bench.stand(CounterPeriodVersion, countsOfOneMm(own));
    const made = await bench.enter('splices', splice(coils, 0, { stringId: own, from: { counterReading: '50000' } }));
    expect(made.body).toMatchObject({ footageFromMm: 50_000, footageToMm: 50_383, restsOn: [{ kind: 'counter-period', id: periodId }] });
    await bench.correct(CounterPeriodVersion, own, periodId, { scaleMmPerCount: '1.01' });
    expect(await bench.get(`splices/${String(made.body['id'])}`)).toMatchObject({
      body: {
        version: 2, from: { counterReading: '50000' }, footageFromMm: 50_500, footageToMm: 50_883,
        reason: 'Position derived again because the counter was corrected: footage [50000, 50383) mm became [50500, 50883) mm.',
      },
    });
  });
});

describe('re-joins', () => {
  const cutOut = (onString: string): Promise<string> =>
    bench.stand(CutOutVersion, {
      stringId: onString, given: { from: { footageMm: 5000 }, to: { footageMm: 6000 } }, span: { fromMm: 5000, toMm: 6000 },
      fromUMm: '0', toUMm: '0', predicted: false, restsOn: [], cause: 'Weld stop', piece: null, note: null,
    });
  const rejoin = (onString: string, cutOutId: string): Fields => ({
    stringId: onString, cutOutId, procedure: 'Pipe weld procedure PW-2 rev 1', verdict: 'open',
  });

  test('one stands for a cut-out of its string, until it is withdrawn', async () => {
    const own = await bench.string();
    const cutOutId = await cutOut(own);
    const first = await bench.enter('rejoins', { ...rejoin(own, cutOutId), examination: 'Radiography, no indication' });
    expect(first).toMatchObject({ status: 201, body: { cutOutId, verdict: 'open', examination: 'Radiography, no indication', note: null } });
    expect(await bench.enter('rejoins', rejoin(own, cutOutId))).toMatchObject({ status: 409, body: { errors: [{ field: 'cutOutId', value: cutOutId }] } });
    const path = `rejoins/${String(first.body['id'])}`;
    expect(await bench.amend(path, 1, { verdict: 'rejected' })).toMatchObject({ status: 200, body: { version: 2, verdict: 'rejected' } });
    await bench.withdraw(path, 2);
    expect(await bench.enter('rejoins', rejoin(own, cutOutId))).toMatchObject({ status: 201 });
  });

  test('a cut-out of another string, or none at all, is refused', async () => {
    const [own, other] = [await bench.string(), await bench.string()];
    for (const cutOutId of [await cutOut(other), uuidv7()]) {
      expect(await bench.enter('rejoins', rejoin(own, cutOutId))).toMatchObject({ status: 422, body: { errors: [{ field: 'cutOutId' }] } });
    }
    expect(await bench.count(`rejoins?stringId=${own}`)).toBe(0);
  });
});

test('who may write: the shift and the engineers; an auditor only reads', async () => {
  const [auditor, inspector, coilId] = [await api.signIn('auditor'), await api.signIn('qc-inspector'), await bench.coil()];
  const body = { id: uuidv7(), observedAt: AT, ...segment(coilId, 3_000_000, 0) };
  expect(await auditor.send('POST', '/api/coil-segments', { body })).toMatchObject({ status: 403 });
  expect(await inspector.send('POST', '/api/coil-segments', { body })).toMatchObject({ status: 201 });
  expect(await auditor.send('GET', `/api/coil-segments/${body.id}`)).toMatchObject({ status: 200 });
});
