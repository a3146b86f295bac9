import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { entered } from '../setup/string-builder.js';

const before = '2026-01-05T08:00:00Z';
/** The splice was welded half an hour after midnight, local time of a site one hour ahead of UTC. */
const WELDED_AT = '2026-03-01T23:30:00Z';
let api: TestApi;
let bench: StringBench;
let engineer: SignedIn;
let welder: SignedIn;
let stringId: string;
let spliceId: string;
let meterId: string;
let procedureId: string;
let qualificationId: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  engineer = await api.signIn('materials-engineer');
  welder = await api.signIn('qc-inspector');
  const wellId = await bench.made('wells', { name: 'Lindmoor Geothermal 5', datum: 'Guide frame', timeZone: 'Etc/GMT-1' });
  stringId = await bench.string({ wellId });
  const [leavingCoilId, enteringCoilId] = [await bench.coil(), await bench.coil()];
  spliceId = await bench.made('splices', {
    stringId, number: 'S-1', leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: false, verdict: 'open', from: { footageMm: 100_000 }, observedAt: WELDED_AT,
  });
  meterId = await entered(engineer, 'instruments', { observedAt: before, number: 'WM-3', kind: 'line-instrument', name: 'Weld monitor', measures: ['current', 'voltage'], unit: 'A' });
  await entered(engineer, 'calibrations', {
    observedAt: before, instrumentId: meterId, certificateNumber: 'CAL-WM', laboratory: 'Measuring room', decisionRule: 'simple-acceptance', dueOn: '2026-12-31',
    asFound: [{ point: '200 A', deviation: '0.4', min: '-2', max: '2', unit: 'A' }],
  });
  procedureId = await entered(engineer, 'weld-procedures', procedure());
  qualificationId = await entered(engineer, 'qualifications', {
    observedAt: before, personId: welder.personId, number: 'WO-7', standard: 'ISO 9606-1', subject: 'welding', methods: ['135'],
    scope: [{ name: 'strip-thickness', min: '3', max: '12', unit: 'mm' }], startsOn: '2025-03-02', expiresOn: '2026-03-01', authorisationNeeded: false, examiner: 'Examining body',
  });
}, 60_000);
afterAll(() => api.close());

const procedure = (changes: Fields = {}): Fields => ({
  observedAt: before, number: 'WP-7', revision: 1, title: 'Bias splice of 5 mm strip', purpose: 'splice', process: '135', effectiveFrom: '2025-06-01',
  ranges: [
    { variable: 'current', min: '160', max: '200', unit: 'A' }, { variable: 'voltage', min: '22', max: '26', unit: 'V' },
    { variable: 'strip-thickness', min: '3', max: '12', unit: 'mm' }, { variable: 'heat-input-en', max: '0.75', unit: 'kJ/mm' },
  ],
  lists: [{ choice: 'material', allowed: ['S420MC', 'S460MC'] }],
  test: { number: 'PQR-18', standard: 'ISO 15614-1', testedOn: '2025-05-12', examiner: 'Examining body' }, ...changes,
});

/** The published example of a heat input by EN 1011-1: 24 V, 180 A, 300 mm/min and k = 0.8 give 0.691 kJ/mm. */
const weld = (changes: Fields = {}): Fields => ({
  observedAt: WELDED_AT, stringId, spliceId, weldProcedureId: procedureId, fillerBatch: 'FB-4471',
  readings: [
    { variable: 'current', printed: '180', unit: 'A', instrumentId: meterId }, { variable: 'voltage', printed: '24', unit: 'V', instrumentId: meterId },
    { variable: 'travel-speed', printed: '300', unit: 'mm/min', instrumentId: meterId }, { variable: 'strip-thickness', printed: '5.00', unit: 'mm', instrumentId: meterId },
  ],
  chosen: [{ choice: 'process', value: '135' }, { choice: 'material', value: 'S420MC' }], ...changes,
});

const send = (body: Fields, path = 'welds'): Promise<Answer> => welder.send('POST', `/api/${path}`, { body: { id: uuidv7(), ...body } });
const check = async (id: string, query = ''): Promise<Fields> => (await engineer.send('GET', `/api/welds/${id}/check${query}`)).body;

describe('a weld', () => {
  test('by its procedure is taken without a mark, and its check says what it rests on, value by value', async () => {
    const taken = await send(weld());
    expect(taken).toMatchObject({ status: 201, body: { marks: [] } });
    const found = await check(String(taken.body['id']));
    expect(found).toMatchObject({ verdict: 'conforms', procedure: { label: 'WP-7 rev 1' }, instruments: [{ state: 'good' }] });
    expect((found['lines'] as Fields[]).map(({ subject, verdict }) => [subject, verdict])).toEqual([
      ['current', 'conforms'], ['voltage', 'conforms'], ['strip-thickness', 'conforms'], ['heat-input-en', 'conforms'], ['process', 'conforms'], ['material', 'conforms'], ['travel-speed', 'not-limited'],
    ]);
    const energies = new Map((found['heatInputs'] as Fields[]).map(({ method, kjPerMm }) => [method, kjPerMm]));
    expect(energies.get('heat-input-en')).toBeCloseTo(0.6912, 9);
    expect(energies.get('heat-input-asme')).toBeCloseTo(0.864, 9);
    expect(energies.get('linear-energy')).toBeNull();
  });

  test('half an hour into the day after the last day of a qualification is not proved, though in UTC it was still that day', async () => {
    const id = await entered(welder, 'welds', weld());
    expect(await check(id)).toMatchObject({
      isProved: false, welder: { found: 'nearest', qualifications: [{ state: 'expired' }] }, open: [{ about: 'welder', words: expect.stringContaining('2026-03-02') }],
    });
    const earlier = await entered(welder, 'welds', weld({ observedAt: '2026-03-01T22:59:59Z' }));
    expect(await check(earlier)).toMatchObject({ isProved: true, open: [], welder: { found: 'covering', number: 'WO-7' } });
    // Extended later: what was known before stays what it was.
    const { recordedAt } = (await engineer.send<{ recordedAt: string }>('GET', `/api/welds/${earlier}`)).body;
    const extended = await engineer.send('PATCH', `/api/qualifications/${qualificationId}`, { body: { reason: 'Prolonged.', expiresOn: '2027-03-01' }, headers: { 'if-match': '"1"' } });
    expect(extended).toMatchObject({ status: 200 });
    expect(await check(id)).toMatchObject({ isProved: true });
    expect(await check(id, `?asKnownAt=${encodeURIComponent(recordedAt)}`)).toMatchObject({ isProved: false });
  });

  test('outside its procedure is taken and marked; what was not reported, or read from nothing on record, is open', async () => {
    const taken = await send(weld({
      readings: [{ variable: 'current', printed: '205', unit: 'A' }, { variable: 'voltage', printed: '24', unit: 'V' }], chosen: [{ choice: 'material', value: 'S355' }],
    }));
    expect(taken.status).toBe(201);
    expect((taken.body['marks'] as Fields[]).map(({ kind, field }) => [kind, field])).toEqual([
      ['out-of-specification', 'readings[0].printed'], ['noted', 'strip-thickness'], ['noted', 'readings'], ['noted', 'process'], ['out-of-specification', 'chosen[0].value'],
    ]);
    const found = await check(String(taken.body['id']));
    expect(found).toMatchObject({ verdict: 'does-not-conform', isProved: false });
    expect((found['open'] as Fields[]).map(({ about }) => about)).toEqual(['procedure', 'welder', 'instrument', 'instrument']);
  });

  test('by a procedure without its tests, or before its day, is not proved', async () => {
    const early = await entered(engineer, 'weld-procedures', procedure({ revision: 2, test: null, effectiveFrom: '2026-03-03' }));
    const id = await entered(welder, 'welds', weld({ weldProcedureId: early }));
    expect((await check(id))['open']).toEqual([
      { about: 'procedure', words: 'WP-7 rev 2, for splice, has no record of a test that qualified it' }, { about: 'procedure', words: 'WP-7 rev 2 is in force from 2026-03-03 only' },
    ]);
  });

  describe('recalled', () => {
    interface Recalled { readonly strings: readonly { readonly concerned: Fields[]; readonly footage: Fields }[] }
    const recalled = async (query: string): Promise<{ status: number; body: Recalled }> => (await engineer.send('GET', `/api/recall?${query}`)) as unknown as { status: number; body: Recalled };
    const concerned = ({ body }: { body: Recalled }): unknown[] =>
      body.strings.flatMap((one) => one.concerned.map(({ record, isCertain, footage }) => [(record as Fields)['id'], isCertain, footage]));
    /** The pipe of the splice: 400 mm strip at 45°. */
    const footage = { fromMm: 100_000, toMm: 100_400 };

    test('from its procedure and from the instrument that it was read from, each weld stands with the pipe of its splice', async () => {
      const welds = (await engineer.send('GET', '/api/welds')).body['items'] as { id: string; weldProcedureId: string; readings: { instrumentId: string | null }[] }[];
      const by = (isMeant: (one: (typeof welds)[number]) => boolean): unknown => expect.arrayContaining(welds.filter(isMeant).map(({ id }) => [id, true, footage]));
      const [procedures, instruments] = [await recalled(`weldProcedureId=${procedureId}`), await recalled(`instrumentId=${meterId}`)];
      expect(concerned(procedures)).toEqual(by(({ weldProcedureId }) => weldProcedureId === procedureId));
      expect(concerned(procedures)).toHaveLength(4);
      expect(concerned(instruments)).toEqual(by(({ readings }) => readings.some(({ instrumentId }) => instrumentId === meterId)));
      expect(concerned(instruments)).toHaveLength(4);
    });

    test('from the procedure of a re-join, it stands for the two ends that met, and not for the pipe between them', async () => {
      const own = await bench.string();
      const cutOutId = await bench.made('cut-outs', { stringId: own, from: { footageMm: 40_000 }, to: { footageMm: 40_600 }, cause: 'Lapped edges' });
      const rejoinId = await bench.made('rejoins', { stringId: own, cutOutId, procedure: 'WP-9', verdict: 'open' });
      const rejoinProcedureId = await entered(engineer, 'weld-procedures', procedure({ number: 'WP-9', purpose: 're-join' }));
      const id = await entered(welder, 'welds', weld({ stringId: own, spliceId: null, rejoinId, weldProcedureId: rejoinProcedureId, fillerBatch: null }));
      const found = await recalled(`weldProcedureId=${rejoinProcedureId}`);
      const ends = [{ fromMm: 39_999, toMm: 40_000 }, { fromMm: 40_600, toMm: 40_601 }];
      expect(concerned(found)).toEqual(ends.map((end) => [id, true, end]));
      expect(found.body.strings[0]?.footage).toMatchObject({ certain: ends, nominalMm: 2 });
    });

    test('from a batch of filler, whatever its capitals; possibly where the batch is easily taken for it', async () => {
      const alike = await entered(welder, 'welds', weld({ fillerBatch: 'FB-447l', gasBatch: 'G-1' }));
      const other = await entered(welder, 'welds', weld({ fillerBatch: 'FB-9000' }));
      const found = await recalled('fillerBatch=fb-4471');
      expect(found).toMatchObject({ status: 200, body: { asked: { by: 'fillerBatch', record: null, batch: 'fb-4471' }, strings: [{ footage: { certain: [footage], nominal: [footage], possible: [footage] } }] } });
      const rows = concerned(found);
      expect(rows).toContainEqual([alike, false, footage]);
      expect(rows.filter((row) => (row as unknown[])[1] === true)).toHaveLength(5);
      expect(JSON.stringify(rows)).not.toContain(other);
      // Nothing certain in what is only possible.
      expect((await recalled('gasBatch=G-l')).body.strings[0]?.footage).toEqual({ certain: [], nominal: [], possible: [footage], nominalMm: 0 });
      expect(concerned(await recalled('gasBatch=G-1'))).toEqual([[alike, true, footage]]);
      expect((await recalled('gasBatch=G-2')).body.strings).toEqual([]);
      expect(await recalled('fillerBatch=')).toMatchObject({ status: 400, body: { errors: [{ field: 'fillerBatch', value: '' }] } });
    });
  });

  test('freezes its procedure, which is amended by a new revision', async () => {
    const amended = await engineer.send('PATCH', `/api/weld-procedures/${procedureId}`, { body: { reason: 'Wider.', title: 'Other' }, headers: { 'if-match': '"1"' } });
    expect(amended).toMatchObject({ status: 409, body: { detail: expect.stringContaining('revision 1 of procedure WP-7 is in use') } });
  });

  test('what cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
    const state = await databaseState(api.owner);
    const reading = (variable: string, printed: string, unit: string): Fields => ({ readings: [{ variable, printed, unit }] });
    expect(await send(weld(reading('current', '24', 'V')))).toMatchObject({ status: 400, body: { errors: [{ field: 'readings[0].unit', value: 'V' }] } });
    expect(await send(weld(reading('current', '1,5', 'A')))).toMatchObject({ status: 400, body: { errors: [{ field: 'readings[0].printed', value: '1,5' }] } });
    expect(await send(weld(reading('current', '90000', 'A')))).toMatchObject({ status: 400, body: { errors: [{ field: 'readings[0].printed', limit: 'current from 0 to 20000 A' }] } });
    expect(await send(weld(reading('splice-angle', '12', 'deg')))).toMatchObject({ status: 422, body: { errors: [{ field: 'readings[0].printed', confirm: expect.any(String) }] } });
    expect(await send(weld({ spliceId: null }))).toMatchObject({ status: 422, body: { errors: [{ field: 'spliceId' }] } });
    expect(await send(weld({ stringId: await bench.string() }))).toMatchObject({ status: 422, body: { errors: [{ field: 'spliceId', limit: 'one of this string' }] } });
    expect(await send(weld({ weldProcedureId: uuidv7() }))).toMatchObject({ status: 422, body: { errors: [{ field: 'weldProcedureId' }] } });
    const wrong = await engineer.send('POST', '/api/weld-procedures', {
      body: { id: uuidv7(), ...procedure({ revision: 9, ranges: [{ variable: 'current', min: '200', max: '100', unit: 'kJ/mm' }], lists: [{ choice: 'gas', allowed: [] }] }) },
    });
    expect(wrong).toMatchObject({ status: 422, body: { errors: [{ field: 'ranges[0].unit' }, { field: 'ranges[0].max' }, { field: 'lists[0].allowed' }] } });
    expect(await engineer.send('POST', '/api/weld-procedures', { body: { id: uuidv7(), ...procedure() } })).toMatchObject({ status: 409, body: { errors: [{ field: 'revision' }] } });
    const after = await databaseState(api.owner);
    expect({ ...after, casing_string: null, string_revision: null, request_key: null }).toEqual({ ...state, casing_string: null, string_revision: null, request_key: null });
  });
});
