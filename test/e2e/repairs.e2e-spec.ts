import { createHash } from 'node:crypto';
import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { databaseState } from '../setup/database-state.js';
import { permitted } from '../setup/string-builder.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, get, period, seen, cutOut } = lineFactory();
const PHOTO = Buffer.from('%PDF-1.7\n% photo of a ground place\n');
const PHOTO_SHA256 = createHash('sha256').update(PHOTO).digest('hex');

let gaugeId: string;
let procedureId: string;
let inspectorId: string;

beforeAll(async () => {
  gaugeId = await made('instruments', { observedAt: at('05:00'), number: 'WG-1', kind: 'gauge', name: 'Wall gauge', measures: ['thickness'], unit: 'mm' });
  procedureId = await made('weld-procedures', {
    observedAt: at('05:00'), number: 'WP-31', revision: 1, title: 'Repair weld', purpose: 'repair', process: '141', effectiveFrom: '2025-06-01',
    ranges: [{ variable: 'current', min: '60', max: '120', unit: 'A' }], lists: [],
  });
  inspectorId = (await api().signIn('qc-inspector')).personId;
  await engineer().send('POST', '/api/files', { body: PHOTO, headers: { 'content-type': 'application/pdf' } });
});

const on = (fromMm: number, toMm: number): Fields => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } });
const ground = (clock: string, changes: Fields = {}): Fields => ({
  stringId: stringId(), observedAt: at(clock), ...on(10_000, 11_000), method: 'grinding', found: 'Scratch 0.3 mm deep', depthRemovedMm: '0.35', remainingWallMm: '4.62',
  wallLimitMm: '4.50', instrumentId: gaugeId, readings: [], chosen: [], photoSha256s: [], ...changes,
});
const welded = (clock: string, changes: Fields = {}): Fields => ground(clock, {
  method: 'weld-repair', depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null, instrumentId: null, weldProcedureId: procedureId,
  readings: [{ variable: 'current', printed: '95', unit: 'A' }], chosen: [{ choice: 'process', value: '141' }], fillerBatch: 'FB-4471', ...changes,
});
const examined = (clock: string, changes: Fields = {}): Fields => ({
  stringId: stringId(), observedAt: at(clock), ...on(9_000, 12_000), method: 'UT', technique: 'UT-04 rev 2', reflector: 'notch-outside', reflectorSizeMm: '0.50',
  outcome: 'accepted', standsInFor: [], photoSha256s: [], ...changes,
});

/** A string beside that of the test. */
async function anotherString(): Promise<string> {
  const wellId = await made('wells', { observedAt: at('05:00'), name: `Lindmoor Geothermal ${uuidv7().slice(-6)}`, datum: 'Guide frame' });
  return made('casing-strings', {
    wellId, name: 'Another string', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
  });
}

async function coil(number: string, heatId: string): Promise<string> {
  const id = await made('coils', { observedAt: at('05:00'), number, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 });
  await permitted(engineer(), id);
  return id;
}

const marksOf = ({ body }: { body: Fields }): unknown[] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);
const reinspection = (repairId: string, query = ''): Promise<Fields> => get('repairs', `${repairId}/re-inspection`, query);
const openOf = async (repairId: string): Promise<unknown[]> =>
  ((await reinspection(repairId))['open'] as Fields[]).map(({ reason, on: pipe }) => [reason, ...(pipe as Fields[]).map(({ fromMm, toMm }) => [fromMm, toMm])]);

async function refusedEach(path: string, refused: readonly (readonly [number, string[], Fields])[]): Promise<void> {
  const state = await databaseState(api().owner);
  for (const [status, fields, body] of refused) {
    const answer = await post(path, body);
    expect([answer.status, fieldsRefused(answer)]).toEqual([status, fields]);
  }
  expect(await databaseState(api().owner)).toEqual(state);
}

describe('a repair', () => {
  test('is taken with what it took and left; a wall below its limit is taken too, and marked', async () => {
    const taken = await post('repairs', ground('10:00', { photoSha256s: [PHOTO_SHA256] }));
    expect(taken).toMatchObject({
      status: 201, body: { marks: [], footageFromMm: 10_000, footageToMm: 11_000, remainingWallMm: '4.62', photoSha256s: [PHOTO_SHA256], doneBy: engineer().personId, spliceId: null },
    });
    expect(marksOf(await post('repairs', ground('10:05', { remainingWallMm: '4.49' })))).toEqual([['out-of-specification', 'remainingWallMm']]);
    const unmeasured = { depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null, instrumentId: null };
    expect(marksOf(await post('repairs', ground('10:10', unmeasured)))).toEqual([['noted', 'depthRemovedMm'], ['noted', 'remainingWallMm']]);
    // Deeper than the wall of the string: asked about once, then taken.
    const deep = ground('10:15', { id: uuidv7(), depthRemovedMm: '5.30' });
    const asked = await post('repairs', deep);
    expect(asked).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:implausible', errors: [{ field: 'depthRemovedMm' }] } });
    const confirm = (asked.body['errors'] as Fields[]).map((error) => error['confirm']);
    expect(marksOf(await post('repairs', { ...deep, confirm }))).toEqual([['confirmed-implausible', 'depthRemovedMm']]);
  });

  test('by welding names its procedure and freezes it; outside of it, or by one for another weld, it is marked', async () => {
    expect(await post('repairs', welded('10:00'))).toMatchObject({ status: 201, body: { marks: [], weldProcedureId: procedureId, fillerBatch: 'FB-4471' } });
    expect(marksOf(await post('repairs', welded('10:05', { readings: [{ variable: 'current', printed: '140', unit: 'A' }] })))).toEqual([['out-of-specification', 'readings[0].printed']]);
    const seam = await made('weld-procedures', {
      observedAt: at('05:00'), number: 'WP-32', revision: 1, title: 'Seam', purpose: 'seam', process: '141', effectiveFrom: '2025-06-01', ranges: [{ variable: 'current', min: '60', max: '120', unit: 'A' }], lists: [],
    });
    expect(marksOf(await post('repairs', welded('10:10', { weldProcedureId: seam })))).toEqual([['noted', 'weldProcedureId']]);
    expect(await amend('weld-procedures', seam, 1, { title: 'Other' })).toMatchObject({ status: 409, body: { detail: expect.stringContaining('revision 1 of procedure WP-32 is in use') } });
  });

  test('moves with the counter it was given by, and holds the ground it stands on, as an examination does', async () => {
    const periodId = await made('counter-periods', period());
    const place = { from: { counterReading: '30000' }, to: { counterReading: '31000' } };
    const [repairId, examinationId] = [await made('repairs', ground('10:00', place)), await made('examinations', examined('11:00', place))];
    await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' });
    for (const [path, id] of [['repairs', repairId], ['examinations', examinationId]] as const) {
      expect(await get(path, id)).toMatchObject({ version: 2, footageFromMm: 30_300, footageToMm: 31_310, restsOn: [{ kind: 'counter-period', id: periodId }] });
    }
    expect(await amend('casing-strings', stringId(), 1, { footageLimitMm: 31_309 })).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:outside-string' } });
    await withdraw('repairs', repairId, 2);
    expect(await amend('casing-strings', stringId(), 1, { footageLimitMm: 31_309 })).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:outside-string' } });
    expect(await amend('casing-strings', stringId(), 1, { footageLimitMm: 31_310 })).toMatchObject({ status: 200 });
  });

  test('that names what lies elsewhere on the pipe is taken and marked', async () => {
    const inspectionId = await made('inspections', seen('09:00', { footageMm: 50_000 }));
    expect(await post('repairs', ground('10:00', { inspectionId }))).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'inspectionId', limit: expect.stringContaining('50000 to 50001 mm') }] } });
    expect(marksOf(await post('repairs', ground('10:00', { ...on(49_000, 51_000), inspectionId })))).toEqual([]);
  });

  test('that cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
    const otherString = await anotherString();
    const inspectionId = await made('inspections', seen('09:00', { footageMm: 10 }, { stringId: otherString }));
    const otherCut = await made('cut-outs', { ...cutOut('09:00', { footageMm: 100 }, { footageMm: 200 }), stringId: otherString });
    const rejoinId = await made('rejoins', { stringId: otherString, observedAt: at('09:00'), cutOutId: otherCut, procedure: 'PW-2', verdict: 'open' });
    const found = { document: 'Plan', revision: '1', clause: '1', limit: 'none' };
    const nonconformanceId = await made('nonconformances', {
      observedAt: at('09:00'), title: 'Scratch', severity: 'minor', origin: 'line', stringId: otherString, extents: [{ from: { footageMm: 5 } }], extentBasis: 'measured', stage: 'open',
      requirement: found, found: { text: 'Scratch', method: 'visual', instrument: 'eye', at: at('09:00'), by: engineer().personId },
    });
    await refusedEach('repairs', [
      [400, ['method'], ground('10:00', { method: 'polish' })],
      [400, ['found'], ground('10:00', { found: null })],
      [400, ['depthRemovedMm', 'remainingWallMm'], ground('10:00', { depthRemovedMm: '-0.1', remainingWallMm: '4,62' })],
      [400, ['readings', 'chosen', 'photoSha256s'], ground('10:00', { readings: null, chosen: null, photoSha256s: null })],
      [400, ['photoSha256s[0]'], ground('10:00', { photoSha256s: ['photo.jpg'] })],
      [400, ['readings[0].printed'], welded('10:00', { readings: [{ variable: 'current', printed: '9x', unit: 'A' }] })],
      [422, ['photoSha256s[0]'], ground('10:00', { photoSha256s: ['0'.repeat(64)] })],
      [422, ['rejoinId'], ground('10:00', { spliceId: uuidv7(), rejoinId: uuidv7() })],
      [422, ['wallLimitMm'], ground('10:00', { remainingWallMm: null })],
      [422, ['instrumentId'], ground('10:00', { depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null })],
      [422, ['weldProcedureId'], welded('10:00', { weldProcedureId: null })],
      [422, ['weldProcedureId', 'readings', 'chosen', 'fillerBatch'], welded('10:00', { method: 'sleeve' })],
      [422, ['weldProcedureId'], welded('10:00', { weldProcedureId: uuidv7() })],
      [422, ['readings[0].instrumentId'], welded('10:00', { readings: [{ variable: 'current', printed: '95', unit: 'A', instrumentId: uuidv7() }] })],
      [422, ['instrumentId'], ground('10:00', { instrumentId: uuidv7() })],
      [422, ['spliceId'], ground('10:00', { spliceId: uuidv7() })],
      [422, ['inspectionId'], ground('10:00', { inspectionId })],
      [422, ['rejoinId'], ground('10:00', { rejoinId })],
      [422, ['nonconformanceId'], ground('10:00', { nonconformanceId })],
      [422, ['stringId'], ground('10:00', { stringId: uuidv7() })],
      [422, ['to'], ground('10:00', on(11_000, 10_000))],
    ]);
    const repairId = await made('repairs', ground('10:00', { stringId: otherString }));
    await refusedEach('examinations', [
      [400, ['method'], examined('10:00', { method: 'XX' })],
      [400, ['technique', 'reflectorSizeMm'], examined('10:00', { technique: '', reflectorSizeMm: '0' })],
      [400, ['outcome'], examined('10:00', { outcome: 'for-evaluation' })],
      [400, ['photoSha256s[0]'], examined('10:00', { photoSha256s: ['x'] })],
      [422, ['photoSha256s[0]'], examined('10:00', { photoSha256s: ['0'.repeat(64)] })],
      [422, ['reflectorSizeMm'], examined('10:00', { reflectorSizeMm: null })],
      [422, ['reflector'], examined('10:00', { reflector: null })],
      [422, ['rejoinId', 'repairId'], examined('10:00', { spliceId: uuidv7(), rejoinId: uuidv7(), repairId: uuidv7() })],
      [422, ['repairId'], examined('10:00', { repairId })],
      [422, ['rejoinId'], examined('10:00', { rejoinId })],
      [422, ['spliceId'], examined('10:00', { spliceId: uuidv7() })],
      [422, ['instrumentId'], examined('10:00', { instrumentId: uuidv7() })],
      [400, ['standsInFor'], examined('10:00', { standsInFor: ['XX'] })],
      [400, ['standsInFor'], examined('10:00', { standsInFor: null })],
      [422, ['standInReason', 'standInBy'], examined('10:00', { standsInFor: ['RT'] })],
      [422, ['standInBy'], examined('10:00', { standsInFor: ['RT'], standInReason: 'No film inside', standInBy: engineer().personId })],
      [422, ['standInBy'], examined('10:00', { standsInFor: ['RT'], standInReason: 'No film inside', standInBy: uuidv7() })],
      [422, ['standsInFor'], examined('10:00', { standsInFor: ['UT'], standInReason: 'No film inside', standInBy: inspectorId })],
    ]);
  });
});

describe('looked at again after a repair', () => {
  test('an earlier result counts beside the repair only; later and as sensitive closes it, the same instant does not', async () => {
    const before = await made('examinations', examined('08:00'));
    const repairId = await made('repairs', ground('10:00'));
    const { recordedAt } = await get('repairs', repairId);
    expect(await reinspection(repairId)).toMatchObject({
      repair: { id: repairId, found: 'Scratch 0.3 mm deep' }, standing: [{ fromMm: 10_000, toMm: 11_000 }], since: [], changedAgain: [],
      noLongerCount: [{
        record: { kind: 'examination', id: before, label: 'UT at 9000 mm' }, method: 'UT', sensitivity: 'notch-outside 0.50 mm', outcome: 'accepted', doneBy: engineer().personId,
        on: [{ fromMm: 10_000, toMm: 11_000 }], countsOn: [{ fromMm: 9_000, toMm: 10_000 }, { fromMm: 11_000, toMm: 12_000 }],
      }],
      open: [{ reason: 'not-looked-at', on: [{ fromMm: 10_000, toMm: 11_000 }], words: '10000 to 11000 mm: not looked at for flaws since; done before and asked for again: UT', before: [expect.objectContaining({ id: before })], since: [] }],
      caution: expect.stringContaining('not a release'),
    });

    const atOnce = await post('examinations', examined('10:00', { repairId }));
    expect(atOnce).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'observedAt' }] } });
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_000, 11_000]]]);

    const coarse = await made('examinations', examined('10:30', { ...on(10_000, 10_600), reflectorSizeMm: '1.0', repairId }));
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_600, 11_000]], ['less-sensitive', [10_000, 10_600]]]);
    expect((await reinspection(repairId))['open']).toContainEqual(expect.objectContaining({ reason: 'less-sensitive', since: [expect.objectContaining({ id: coarse })] }));

    // By wire at one end, and by nobody knows what at the other.
    await made('examinations', examined('10:40', { ...on(10_600, 10_800), reflector: 'wire', reflectorSizeMm: '0.1' }));
    await made('examinations', examined('10:41', { ...on(10_800, 11_000), reflector: null, reflectorSizeMm: null }));
    expect(await openOf(repairId)).toEqual([['not-stated', [10_800, 11_000]], ['not-comparable', [10_600, 10_800]], ['less-sensitive', [10_000, 10_600]]]);

    const fine = await made('examinations', examined('11:00', { reflectorSizeMm: '0.5' }));
    expect(await openOf(repairId)).toEqual([]);
    // As known when only the repair was on record; and once what closed it is withdrawn.
    expect(await reinspection(repairId, `?asKnownAt=${encodeURIComponent(String(recordedAt))}`)).toMatchObject({ since: [], open: [{ reason: 'not-looked-at' }] });
    await withdraw('examinations', fine, 1);
    expect(await openOf(repairId)).toHaveLength(3);
  });

  test('a rejection is not undone by a second look; another repair and a look after it do', async () => {
    const repairId = await made('repairs', ground('10:00'));
    const rejected = await made('examinations', examined('11:00', { outcome: 'rejected', seen: 'Indication at 10.4 m', repairId }));
    const accepted = await made('examinations', examined('11:10', { repairId }));
    const found = await reinspection(repairId);
    expect((found['since'] as Fields[]).map(({ outcome }) => outcome)).toEqual(['rejected', 'accepted']);
    expect(found['open']).toMatchObject([{ reason: 'rejected', since: [{ id: rejected }] }]);

    const again = await made('repairs', ground('12:00', { ...on(10_300, 10_500) }));
    expect(await openOf(repairId)).toEqual([['rejected', [10_000, 10_300], [10_500, 11_000]]]);
    expect(await reinspection(repairId)).toMatchObject({ changedAgain: [{ by: { id: again }, on: [{ fromMm: 10_300, toMm: 10_500 }] }] });
    expect(((await reinspection(again))['noLongerCount'] as Fields[]).map(({ record }) => (record as Fields)['id'])).toEqual([rejected, accepted]);
    expect(await openOf(again)).toEqual([['not-looked-at', [10_300, 10_500]]]);
    await made('examinations', examined('12:30', { repairId: again }));
    expect(await openOf(again)).toEqual([]);
  });

  test('what was seen and measured before has to be seen and measured again; the wall alone is no look', async () => {
    const wall = (clock: string): Fields => seen(clock, { footageMm: 9_000 }, { to: { footageMm: 12_000 }, kind: 'dimensional', characteristic: 'Wall thickness', value: '4.97', unit: 'mm' });
    await made('inspections', wall('08:00'));
    await made('inspections', seen('08:00', { footageMm: 9_000 }, { to: { footageMm: 10_100 } }));
    const repairId = await made('repairs', ground('10:00'));
    await made('inspections', wall('10:30'));
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_000, 11_000]]]);
    await made('examinations', examined('10:40', { method: 'MT', technique: 'MT-01' }));
    expect(await openOf(repairId)).toEqual([['not-repeated', [10_000, 10_100]]]);
    await made('inspections', seen('10:50', { footageMm: 9_000 }, { to: { footageMm: 12_000 }, characteristic: 'Seam' }));
    expect(await openOf(repairId)).toEqual([]);
  });

  test('pipe that was cut out since is nobody\'s any more, and a wall below its limit stays told', async () => {
    const repairId = await made('repairs', ground('10:00', { remainingWallMm: '4.10' }));
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_000, 11_000]], ['beyond-limit', [10_000, 11_000]]]);
    await made('cut-outs', cutOut('13:00', { footageMm: 10_200 }, { footageMm: 12_000 }));
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_000, 10_200]], ['beyond-limit', [10_000, 10_200]]]);
    expect(await reinspection(repairId)).toMatchObject({ standing: [{ fromMm: 10_000, toMm: 10_200 }] });
  });

  test('all repairs of a string are listed with what is open; a void one took nothing', async () => {
    const [first, second] = [await made('repairs', ground('10:00')), await made('repairs', ground('10:30', on(20_000, 20_100)))];
    await made('examinations', examined('11:00'));
    const list = (): Promise<Fields> => get('casing-strings', `${stringId()}/repairs`);
    expect(await list()).toMatchObject({
      repairs: [
        { repair: { id: first, label: 'grinding at 10000 mm' }, method: 'grinding', isClosed: true, open: [] },
        { repair: { id: second }, isClosed: false, open: ['20000 to 20100 mm: not looked at for flaws since'] },
      ],
      openOn: [{ fromMm: 20_000, toMm: 20_100 }],
    });
    await withdraw('repairs', second, 1);
    expect(await list()).toMatchObject({ repairs: [{ repair: { id: first } }], openOn: [] });
    expect(await engineer().send('GET', `/api/repairs/${second}/re-inspection`)).toMatchObject({ status: 409 });
    expect(await engineer().send('GET', `/api/repairs/${uuidv7()}/re-inspection`)).toMatchObject({ status: 404 });
    expect(await engineer().send('GET', `/api/casing-strings/${uuidv7()}/repairs`)).toMatchObject({ status: 404 });
  });
});

describe('the record of a re-join', () => {
  let cutOutId: string;
  let rejoinId: string;
  const record = (query = ''): Promise<Fields> => get('rejoins', `${rejoinId}/record`, query);
  const open = async (): Promise<unknown> => (await record())['open'];
  const weld = (clock: string): Promise<string> => made('welds', {
    stringId: stringId(), observedAt: at(clock), rejoinId, weldProcedureId: procedureId, readings: [{ variable: 'current', printed: '95', unit: 'A' }], chosen: [{ choice: 'process', value: '141' }],
  });
  /** Given at either footage of the joint, or within what was cut out: it is one weld. */
  const ofJoint = (clock: string, footageMm: number, changes: Fields = {}): Fields => examined(clock, { from: { footageMm }, to: null, method: 'RT', technique: 'RT-02 rev 3', reflector: null, reflectorSizeMm: null, rejoinId, ...changes });

  beforeEach(async () => {
    cutOutId = await made('cut-outs', cutOut('09:00', { footageMm: 10_000 }, { footageMm: 10_640 }));
    rejoinId = await made('rejoins', { stringId: stringId(), observedAt: at('09:00'), cutOutId, procedure: 'PW-2 rev 1', verdict: 'accepted', examination: 'Radiography, no indication' });
  });

  test('shows a verdict that rests on words alone, and what closes it', async () => {
    const unproved = 'its verdict is accepted, and no examination on record since its last weld or repair accepts it on both sides';
    expect(await record()).toMatchObject({
      rejoin: { id: rejoinId }, cutOut: { id: cutOutId }, ends: [{ fromMm: 9_999, toMm: 10_000 }, { fromMm: 10_640, toMm: 10_641 }], welds: [], examinations: [], repairs: [],
      open: ['no weld of it is on record', 'no examination of both its sides since it was joined is on record', unproved],
    });
    const weldId = await weld('09:10');
    await made('examinations', ofJoint('09:10', 10_000));
    expect(await open()).toEqual(['no examination of both its sides since its last weld is on record', unproved]);
    await made('examinations', ofJoint('09:20', 10_000));
    const { recordedAt } = await get('welds', weldId);
    const found = await record();
    expect(found['open']).toEqual([]);
    expect([(found['welds'] as unknown[]).length, (found['examinations'] as unknown[]).length]).toEqual([1, 2]);
    expect(await record(`?asKnownAt=${encodeURIComponent(String(recordedAt))}`)).toMatchObject({ examinations: [], welds: [{ id: weldId }] });
  });

  test('is proved by no examination elsewhere that only names it; that is marked, and told', async () => {
    await weld('09:10');
    const elsewhere = await post('examinations', ofJoint('09:20', 900_000));
    expect(elsewhere).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'rejoinId', limit: expect.stringContaining('9999 to 10641 mm') }] } });
    expect(await open()).toEqual([
      'no examination of both its sides since its last weld is on record', expect.stringContaining('its verdict is accepted, and no examination'),
      'RT at 900000 mm names it and lies elsewhere: one of the two is wrong',
    ]);
    expect(marksOf(await post('repairs', welded('09:30', { ...on(900_000, 900_010), rejoinId })))).toEqual([['noted', 'rejoinId']]);
    expect(marksOf(await post('examinations', ofJoint('09:40', 10_641)))).toEqual([]);
  });

  test('welded again or repaired, it has to be examined again, at least as sensitively', async () => {
    await weld('09:10');
    await made('examinations', ofJoint('09:20', 10_000));
    await weld('09:30');
    expect(await open()).toHaveLength(2);
    await made('examinations', ofJoint('09:40', 10_640));
    expect(await open()).toEqual([]);
    // Found on the far side, repaired there; the record of the joint knows both sides.
    const repairId = await made('repairs', welded('10:00', { from: { footageMm: 10_640 }, to: { footageMm: 10_650 }, rejoinId }));
    const lines = await open();
    expect(lines).toEqual([
      'its verdict is accepted, and no examination on record since its last weld or repair accepts it on both sides',
      'weld-repair at 10640 mm of 2026-03-02T10:00:00.000000Z: 9999 to 10000 mm, 10640 to 10650 mm: not looked at for flaws since; done before and asked for again: RT',
    ]);
    // Only what can be radiographed was: the metal beside the joint is still to be looked at.
    await made('examinations', ofJoint('10:30', 10_640));
    expect(await openOf(repairId)).toEqual([['not-looked-at', [10_641, 10_650]]]);
    await made('examinations', ofJoint('10:31', 10_640, { to: { footageMm: 10_660 }, technique: 'RT-02 rev 4' }));
    expect(await openOf(repairId)).toEqual([]);
    expect(await open()).toEqual([]);
    await made('examinations', ofJoint('10:40', 10_000, { outcome: 'rejected' }));
    expect(await open()).toEqual([expect.stringContaining('RT of 2026-03-02T10:40:00.000000Z rejected it')]);
    // The joint welded again is no more what was repaired, nor what was examined; what lies beside it is.
    const again = await weld('11:00');
    expect(await reinspection(repairId)).toMatchObject({ standing: [{ fromMm: 10_641, toMm: 10_650 }], changedAgain: [{ by: { kind: 'weld', id: again }, on: [{ fromMm: 9_999, toMm: 10_000 }, { fromMm: 10_640, toMm: 10_641 }] }] });
    // That does not close the repair: nobody looked at it since.
    const unseen = '9999 to 10000 mm, 10640 to 10641 mm, changed again by the weld of 2026-03-02T11:00:00.000000Z: not looked at for flaws since; done before and asked for again: RT';
    expect((await reinspection(repairId))['open']).toMatchObject([{ reason: 'not-looked-at', words: unseen }]);
    const list = await get('casing-strings', `${stringId()}/repairs`);
    expect(list).toMatchObject({ repairs: [{ repair: { id: repairId }, isClosed: false, open: [unseen] }], openOn: [{ fromMm: 9_999, toMm: 10_000 }, { fromMm: 10_640, toMm: 10_641 }] });
    expect(await open()).toEqual([
      'no examination of both its sides since its last weld is on record', 'its verdict is accepted, and no examination on record since its last weld or repair accepts it on both sides',
      `weld-repair at 10640 mm of 2026-03-02T10:00:00.000000Z: ${unseen}`,
    ]);
    await made('examinations', ofJoint('11:10', 10_000));
    // Both techniques used before are asked for again, the joint welded again or not.
    expect(await open()).toEqual([expect.stringContaining('before: none stated (RT-02 rev 4); since: none stated (RT-02 rev 3)')]);
    await made('examinations', ofJoint('11:20', 10_000, { technique: 'RT-02 rev 4' }));
    expect([await open(), await get('casing-strings', `${stringId()}/repairs`)]).toMatchObject([[], { repairs: [{ isClosed: true }], openOn: [] }]);
    expect(await engineer().send('GET', `/api/rejoins/${uuidv7()}/record`)).toMatchObject({ status: 404 });
  });
});

describe('the record of a splice', () => {
  const counted = '0 runs of coil and 1 splices on the string: one splice fewer than runs was expected';
  let own: string;
  let spliceId: string;

  beforeEach(async () => {
    own = await anotherString();
    const heatId = await made('heats', { observedAt: at('05:00'), number: `H${uuidv7().slice(-8)}`, grade: 'S420MC' });
    const [leavingCoilId, enteringCoilId] = [await coil(`LM-${uuidv7().slice(-8)}`, heatId), await coil(`LM-${uuidv7().slice(-8)}`, heatId)];
    spliceId = await made('splices', {
      stringId: own, observedAt: at('08:00'), number: 'S-1', leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted',
      from: { footageMm: 100_000 },
    });
    await step('preparation', '08:00');
    await weld('08:05');
  });
  const step = (stage: string, clock: string, changes: Fields = {}): Promise<string> => made('splice-steps', {
    stringId: own, spliceId, observedAt: at(clock), stage, outcome: 'accepted', readings: [], examinations: [], coupons: [], photoSha256s: [], ...changes,
  });
  const weld = (clock: string): Promise<string> => made('welds', {
    stringId: own, observedAt: at(clock), spliceId, weldProcedureId: procedureId, readings: [{ variable: 'current', printed: '95', unit: 'A' }], chosen: [{ choice: 'process', value: '141' }],
  });
  const by = (method: string, outcome = 'accepted'): Fields => ({ outcome, examinations: [{ method, technique: `${method}-02 rev 3`, outcome }] });
  const record = async (): Promise<Fields> => {
    const found = await get('splices', `${spliceId}/record`);
    // Who welded and examined here is on record nowhere; the checks of work tell of that.
    return { ...found, open: (found['open'] as string[]).filter((words) => !words.includes('is not proved')) };
  };
  const open = async (): Promise<unknown> => (await record())['open'];

  test('keeps what was held until its method decides, at its own station, whatever was accepted elsewhere or by another method', async () => {
    await step('flat-strip-release', '08:10', by('RT'));
    await step('after-forming', '08:20', by('UT', 'held'));
    await step('after-forming', '08:21', by('VT'));
    await step('station-sighting', '08:30', { station: 'ET', outcome: 'held' });
    await step('station-sighting', '08:35', { station: 'UT' });
    const held = `100000 to 100400 mm: UT of 2026-03-02T08:20:00.000000Z held it`;
    expect(await record()).toMatchObject({ stages: [{}, {}, { state: 'accepted' }, { state: 'held' }], open: ['station-sighting at ET is held', held, counted] });
    await step('after-forming', '08:22', by('UT'));
    await step('station-sighting', '08:36', { station: 'ET' });
    expect(await open()).toEqual([counted]);
    // Held and accepted at one instant, entered in either order.
    await step('after-forming', '08:22', { outcome: 'held' });
    expect(await open()).toEqual(['after-forming is held', counted]);
  });

  test('a rejected step that was repaired and examined again is closed; repaired elsewhere it is not', async () => {
    await step('flat-strip-release', '08:10', by('RT', 'rejected'));
    await step('flat-strip-release', '08:30', by('RT'));
    await step('after-forming', '08:40');
    await step('station-sighting', '08:45', { station: 'UT' });
    const again = 'flat-strip-release was accepted after it had been rejected, and was neither welded again nor repaired in between';
    const rejected = '100000 to 100400 mm: RT of 2026-03-02T08:10:00.000000Z rejected it';
    expect(await open()).toEqual([again, rejected, counted]);
    const elsewhere = await made('repairs', welded('08:20', { ...on(500_000, 500_100), stringId: own, spliceId }));
    expect(await open()).toEqual(expect.arrayContaining([again, rejected, 'weld-repair at 500000 mm names it and lies elsewhere: one of the two is wrong']));
    await withdraw('repairs', elsewhere, 1);
    const repairId = await made('repairs', welded('08:20', { ...on(100_100, 100_200), stringId: own, spliceId }));
    expect(await open()).toEqual([counted]);
    expect(await openOf(repairId)).toEqual([]);
    // Rejected at the very instant at which it was welded again: it stays told, and nothing was done after the weld but that.
    await step('after-forming', '08:50', by('UT', 'rejected'));
    await weld('08:50');
    expect(await open()).toEqual(expect.arrayContaining([
      'after-forming is rejected', 'after-forming was done before the last weld, and says nothing of it', '100000 to 100400 mm: UT of 2026-03-02T08:50:00.000000Z rejected it',
    ]));
  });

  test('that was cut out says so, and asks for no stage any more; cut in part it asks for the rest', async () => {
    expect(await record()).toMatchObject({ standing: [{ fromMm: 100_000, toMm: 100_400 }], open: expect.arrayContaining(['after-forming is missing']) });
    await made('cut-outs', { ...cutOut('09:00', { footageMm: 99_000 }, { footageMm: 100_300 }), stringId: own });
    expect(await record()).toMatchObject({ standing: [{ fromMm: 100_300, toMm: 100_400 }], open: expect.arrayContaining(['after-forming is missing']) });
    await made('cut-outs', { ...cutOut('10:00', { footageMm: 100_300 }, { footageMm: 100_900 }), stringId: own });
    expect(await record()).toMatchObject({ standing: [], open: ['all of it was cut out', counted] });
  });

  test('shows its repairs, and says what was gone through before them', async () => {
    await step('flat-strip-release', '08:10', by('RT'));
    await step('after-forming', '08:20');
    await step('station-sighting', '08:30', { station: 'UT' });
    expect(await record()).toMatchObject({ repairs: [], examinations: [], open: [counted] });

    const repairId = await made('repairs', ground('08:25', { ...on(100_000, 100_400), stringId: own, spliceId }));
    expect(await record()).toMatchObject({ repairs: [{ repair: { id: repairId }, isClosed: false }] });
    expect((await record())['open']).toEqual([
      'grinding at 100000 mm of 2026-03-02T08:25:00.000000Z: 100000 to 100400 mm: not looked at for flaws since; done before and asked for again: RT',
      'flat-strip-release was done before the repair of 2026-03-02T08:25:00.000000Z, and says nothing of it',
      'after-forming was done before the repair of 2026-03-02T08:25:00.000000Z, and says nothing of it', counted,
    ]);

    // Another method sees it, but does not stand in for the radiograph.
    await made('examinations', examined('08:40', { ...on(100_000, 100_400), stringId: own, spliceId }));
    expect((await record())['open']).toContainEqual(expect.stringContaining('100000 to 100400 mm: RT was done before and not since'));
    // Unless another person than who examined says so: of half of it here.
    const standIn = { standsInFor: ['RT'], standInReason: 'No film can be laid inside the pipe', standInBy: inspectorId };
    await made('examinations', examined('08:45', { ...on(100_000, 100_200), stringId: own, spliceId, ...standIn }));
    expect((await record())['open']).toContainEqual(expect.stringContaining('100200 to 100400 mm: RT was done before and not since'));
    expect(((await reinspection(repairId))['since'] as Fields[]).map(({ standsInFor, standIn: why }) => [standsInFor, why])).toEqual([[[], null], [['RT'], standIn.standInReason]]);
    await made('examinations', examined('08:50', { ...on(99_900, 100_500), stringId: own, method: 'RT', technique: 'RT-02 rev 3', reflector: null, reflectorSizeMm: null }));
    expect(await record()).toMatchObject({ repairs: [{ isClosed: true }], open: [counted] });
    expect(((await record())['examinations'] as unknown[]).length).toBe(3);

    // What an examination of its own turns down is told, repaired or not.
    await made('examinations', examined('08:55', { ...on(100_100, 100_200), stringId: own, method: 'PT', technique: 'PT-01', spliceId, outcome: 'held' }));
    expect((await record())['open']).toContainEqual(expect.stringContaining('100100 to 100200 mm: PT of 2026-03-02T08:55:00.000000Z held it'));
    // Of another string, it is no splice for this repair.
    expect(await post('repairs', ground('09:00', { spliceId }))).toMatchObject({ status: 422, body: { errors: [{ field: 'spliceId' }] } });
  });
});
