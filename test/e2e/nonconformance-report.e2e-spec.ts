import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { formatInterval, NONCONFORMANCE_CAUTIONS } from '#libs/reports';
import { readPdf } from '../../libs/reports/pdf-text.reference.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { permitted } from '../setup/string-builder.js';

type Fields = Record<string, unknown>;

/** A report as it arrived. */
interface Arrived {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly bytes: Buffer;
  /** Without white space, which the drawing does not keep. */
  readonly pages: readonly string[];
  readonly text: string;
}

let api: TestApi;
let engineer: SignedIn;
let inspector: SignedIn;
let wellId: string;
let stringId: string;
let reportId: string;
let coilIds: readonly string[];
/** Between the first version of the nonconformance and its amendment. */
let beforeAmendment: string;

const at = (time: string): string => `2026-03-02T${time}:00Z`;
const solid = (text: string): string => text.replace(/\s/g, '');

async function made(path: string, observedAt: string, content: Fields): Promise<string> {
  const id = uuidv7();
  const answer = await engineer.send('POST', `/api/${path}`, { body: { id, observedAt, ...content } });
  expect(answer).toMatchObject({ status: 201 });
  return id;
}

async function amend(path: string, version: number, body: Fields): Promise<void> {
  const answer = await engineer.send('PATCH', `/api/${path}`, { body, headers: { 'if-match': `"${version}"` } });
  expect(answer).toMatchObject({ status: 200 });
}

async function report(id: string, query = '', who = inspector): Promise<Arrived> {
  const reply = await api.app.getHttpAdapter().getInstance().inject({
    method: 'GET', url: `/api/nonconformances/${id}/report${query}`, headers: { authorization: `Bearer ${who.token}` },
  });
  const pages = reply.statusCode === 200 ? readPdf(reply.rawPayload).pages.map((runs) => solid(runs.join(''))) : [];
  return { status: reply.statusCode, headers: reply.headers, bytes: reply.rawPayload, pages, text: pages.join('') };
}

const place = (footageMm: number): Fields => ({ footageMm, uMm: '5' });
const reading = (time: string, counts: string, onString = stringId): Promise<string> =>
  made('counter-readings', at(time), { stringId: onString, reading: counts });
const counter = (onString: string): Promise<string> =>
  made('counter-periods', at('06:00'), { stringId: onString, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005' });
const string = (inWell: string, name: string): Promise<string> =>
  made('casing-strings', at('05:00'), {
    wellId: inWell, name, footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
  });

/** A string hung off and tied once, its shoe now near 637 m, of two coils that meet at 640 m of footage. */
async function makeLine(): Promise<void> {
  stringId = await string(wellId, 'Lindmoor 2 main string');
  await made('line-setups', at('05:30'), {
    stringId, viewing: 'down-the-hole',
    stations: [
      { name: 'wall gauge', pathMinMm: 6_200, pathMaxMm: 6_200, uMm: '3' },
      { name: 'hang-off', role: 'hang-off', pathMinMm: 20_000, pathMaxMm: 20_000, uMm: '5' },
    ],
  });
  await counter(stringId);
  await reading('06:00', '0');
  await reading('11:00', '250000');
  await made('hang-offs', at('08:00'), { stringId, from: { footageMm: 1_000, uMm: '5' }, mdMm: 2_500, mdUMm: '5' });
  await reading('13:00', '700000');
  await made('shoe-ties', at('13:00'), { stringId, place: { footageMm: 700_000 }, shoeMdMm: 339_450, shoeUMm: '50', method: 'Wireline tag at the fold' });
  await reading('16:00', '1300000');
  const heatId = await made('heats', at('04:00'), { number: 'H40711', grade: 'S420MC' });
  const coil = { heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '10205' };
  coilIds = [
    await made('coils', at('04:00'), { ...coil, number: 'LM-01', lengthMm: 650_000 }),
    await made('coils', at('04:00'), { ...coil, number: 'LM-02' }),
  ];
  for (const coilId of coilIds) await permitted(engineer, coilId);
  const [first, second] = coilIds;
  const segment = { stringId, runs: 'head-first' };
  await made('coil-segments', at('12:30'), { ...segment, coilId: first, from: place(0), to: place(640_000), stripFromMm: 1_200, stripToMm: 641_200 });
  await made('coil-segments', at('16:00'), { ...segment, coilId: second, from: place(640_000), to: place(1_280_000), stripFromMm: 0, stripToMm: 640_000 });
  await made('splices', at('12:30'), {
    stringId, number: 'S-1', leavingCoilId: first, enteringCoilId: second, angleDeg: '45', hand: 'left', confirmed: false,
    verdict: 'open', from: place(639_800),
  });
}

const found = (value: string): Fields => ({
  value, unit: 'mm', uncertainty: '0.025', text: 'Thin band along the seam', method: 'ultrasonic thickness gauge', instrument: 'UT-04',
  at: at('11:00'), by: inspector.personId,
});

const wallBelowMinimum = (): Fields => ({
  stringId,
  title: 'Wall below minimum before and after splice S-1',
  severity: 'major', origin: 'line', extentBasis: 'bracketed', stage: 'open',
  extents: [{ from: place(241_300), to: place(241_900) }, { from: place(639_500), to: place(652_000) }],
  requirement: { document: 'Pipe inspection plan', revision: '2', clause: '4.3', limit: 'wall thickness at least 4.75 mm' },
  found: found('4.61'),
  containment: { action: 'Line stopped; pipe back to splice S-1 gauged', footageMm: 250_000, at: at('11:04'), by: inspector.personId },
  note: 'Splice S-2 gauged: conforms',
});

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  inspector = await api.signIn('qc-inspector');
  wellId = await made('wells', at('01:00'), { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame' });
  await makeLine();
  reportId = await made('nonconformances', at('11:00'), wallBelowMinimum());
  beforeAmendment = (await engineer.send<{ recordedAt: string }>('GET', `/api/nonconformances/${reportId}`)).body.recordedAt;
  await amend(`nonconformances/${reportId}`, 1, {
    reason: 'Gauge read again on the cleaned surface', stage: 'disposition-approved', found: found('4.63'),
    disposition: { kind: 'repair', text: 'Clamp sleeve over both lengths', approvedBy: engineer.personId, approvedAt: at('14:30') },
  });
}, 60_000);
afterAll(() => api.close());

describe('the report of a nonconformance', () => {
  test.each([
    ['A4', '/MediaBox [0 0 595.28 841.89]'],
    ['Letter', '/MediaBox [0 0 612 792]'],
  ])('says it all on %s', async (paper, box) => {
    const { status, headers, bytes, pages, text } = await report(reportId, `?paper=${paper}`);
    expect(status).toBe(200);
    expect(headers).toMatchObject({
      'content-type': 'application/pdf',
      'content-disposition': 'inline; filename="NC-0001-v2.pdf"',
      'content-length': String(bytes.length),
    });
    expect(bytes.toString('latin1')).toContain(box);
    pages.forEach((page, index) => {
      expect(page).toContain(solid(`Nonconformance report NC-0001`));
      expect(page).toContain(solid(`Page ${index + 1} of ${pages.length}`));
    });
    for (const part of [
      'Lindmoor Geothermal 2', 'Lindmoor 2 main string', 'Version2',
      'Pipe inspection plan', 'wall thickness at least 4.75 mm',
      '4.63 ± 0.050 mm (k = 2)', 'Thin band along the seam', 'UT-04', 'Test qc-inspector',
      'Line stopped; pipe back to splice S-1 gauged', '250.000 m',
      'Clamp sleeve over both lengths', 'Test materials-engineer, materials engineer, 2026-03-02 14:30:00 UTC',
      'Splice S-2 gauged: conforms',
      'bracketed', 'Last known good none recorded',
      'Gauge read again on the cleaned surface', 'Found: value 4.61 4.63', 'State open disposition approved',
    ]) {
      expect(text).toContain(solid(part));
    }
    for (const caution of NONCONFORMANCE_CAUTIONS) expect(text).toContain(solid(caution));
  });

  test('tells where each length was when found, and where it is now on both walls, as the trace does', async () => {
    const { text } = await report(reportId);
    const trace = await inspector.send<{ walls: { wall: string; segments: { mdFromMm: number; mdToMm: number }[] }[] }>(
      'GET', `/api/casing-strings/${stringId}/trace?by=footage&fromM=639.5&toM=652`,
    );
    for (const { wall, segments } of trace.body.walls) {
      const [fromMm, toMm] = [Math.min(...segments.map(({ mdFromMm }) => mdFromMm)), Math.max(...segments.map(({ mdToMm }) => mdToMm))];
      expect(text).toMatch(new RegExp(`${wall === 'outer' ? 'Outer' : 'Inner'}wallnow${formatInterval({ fromMm, toMm }).replace(/\s/g, '')}±\\d+\\.\\d{3}m\\(k=2\\)`));
    }
    for (const part of [
      'Location when found on the line, 8.700 m past the weld point',
      'Location when found not made yet, 389.500 m still to come',
      'Inner wall now not on the inner wall',
      'by the last counter reading, 2026-03-02 16:00:00 UTC',
      'datum: Top of the guide frame',
      'coil LM-01, 242.500 to 243.100 m',
      'coil LM-01, 640.700 to 641.200 m coil LM-02, 0.000 to 12.000 m',
      '639.500 to 652.000 m ± 0.010 m (k = 2)',
    ]) {
      expect(text).toContain(solid(part));
    }
  });

  test('carries on every page the marks of what its depths rest on', async () => {
    const { pages } = await report(reportId);
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) {
      expect(page).toContain(solid('Marked: unconfirmed splice S-1'));
      expect(page).toContain(solid('past the last tie: depth rests on the default length ratio'));
      expect(page).toContain(solid('depth counted back from the weld point'));
    }
  });

  test('has the same content and fingerprint when printed again, another before the amendment', async () => {
    const [first, again] = [await report(reportId), await report(reportId)];
    const fingerprint = /SHA-256([0-9a-f]{64})/;
    const timeless = (text: string): string => text.replace(/Generated[\d.:-]+UTC/g, '');
    expect(fingerprint.exec(first.text)?.[1]).toHaveLength(64);
    expect(timeless(again.text)).toBe(timeless(first.text));
    const earlier = await report(reportId, `?asKnownAt=${beforeAmendment}`);
    expect(earlier.headers['content-disposition']).toBe('inline; filename="NC-0001-v1.pdf"');
    expect(earlier.text).toContain(solid(`Data cut-off ${beforeAmendment.replace('T', ' ').replace('Z', ' UTC')}`));
    expect(earlier.text).toContain(solid('4.61 ± 0.050 mm (k = 2)'));
    expect(first.text).toContain(solid('4.63 ± 0.050 mm (k = 2)'));
    expect(earlier.text).not.toContain(solid('4.63 ± 0.050 mm'));
    expect(earlier.text).toContain(solid('Amendments none recorded'));
    expect(earlier.text).toContain(solid('Disposition none recorded'));
    expect(fingerprint.exec(earlier.text)?.[1]).not.toBe(fingerprint.exec(first.text)?.[1]);
  });

  test('of strip only shows every string the strip went into, and what is left of it', async () => {
    const pilotId = await string(wellId, 'Lindmoor 2 pilot string');
    await counter(pilotId);
    await made('coil-segments', at('17:00'), {
      stringId: pilotId, coilId: coilIds[1], runs: 'tail-first', from: place(0), to: place(2_000), stripFromMm: 640_000, stripToMm: 642_000,
    });
    const id = await made('nonconformances', at('17:30'), {
      ...wallBelowMinimum(), stringId: null, extents: [], coilExtents: [{ coilId: coilIds[1], stripFromMm: 639_000 }],
      found: { ...found('4.61'), value: null, unit: null, uncertainty: null },
    });
    const { text } = await report(id);
    for (const part of [
      'String Lindmoor 2 main string, Lindmoor 2 pilot string',
      'Extent and position, 3 of 3',
      'coil LM-02, 639.000 to 640.000 m', '1,279.000 to 1,280.000 m',
      'coil LM-02, 640.000 to 642.000 m', '0.000 to 2.000 m',
      'none: strip that stands in no string', 'coil LM-02, 642.000 to 650.000 m',
      'coil LM-02: length of the coil reckoned from its mass',
      'Outer wall now not known: the string has no counter reading yet',
      'Value none recorded In words Thin band along the seam',
    ]) {
      expect(text).toContain(solid(part));
    }
  });

  test('of a withdrawn nonconformance says so on every page', async () => {
    const id = await made('nonconformances', at('18:00'), wallBelowMinimum());
    const gone = { body: { reason: 'Entered twice' }, headers: { 'if-match': '"1"' } };
    expect(await engineer.send('POST', `/api/nonconformances/${id}/void`, gone)).toMatchObject({ status: 200 });
    const { text, pages, headers } = await report(id);
    for (const page of pages) expect(page).toContain(solid('withdrawn (was open)'));
    expect(text).toContain(solid('Withdrawn: Entered twice'));
    expect(headers['content-disposition']).toContain('-v2.pdf');
  });

  test('is refused for what is not there, not asked rightly, or asked by nobody', async () => {
    expect((await report(uuidv7())).status).toBe(404);
    expect((await report(reportId, '?asKnownAt=2026-01-01T00:00:00Z')).status).toBe(404);
    for (const [query, fields] of [['paper=A3&asKnownAt=yesterday', ['asKnownAt', 'paper']], ['colour=red', ['colour']]] as const) {
      const wrong = await report(reportId, `?${query}`);
      expect(wrong.status).toBe(400);
      const { errors } = JSON.parse(wrong.bytes.toString()) as { errors: { field: string }[] };
      expect(errors.map(({ field }) => field).sort()).toEqual(fields);
    }
    expect((await report('7')).status).toBe(400);
    expect((await api.send('GET', `/api/nonconformances/${reportId}/report`)).status).toBe(401);
  });
});
