import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { THICKNESS_TOLERANCE_TABLES } from '#libs/strip';
import { startTestApi, TEST_PASSWORD, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { entered } from '../setup/string-builder.js';

/**
 * A delivery of twelve coils on three certificates: one coil that came with another's paper, one slip of transcription, one
 * coil too thin, one inside the guard band. Everything by requests, as people would send them.
 */
type Fields = Record<string, unknown>;
interface Line extends Fields { name: string; verdict: string; printed: string | null; margin: string | null; reason: string | null }
interface Evaluation extends Fields {
  evaluation: { verdict: string; lines: Line[]; specification: { id: string; label: string } };
  underOther: { verdict: string; lines: Line[] } | null;
  crossChecks: { severity: string; check: string; detail: string }[];
  standing: Fields;
  meanings: { decision: string; statement: string; notOpenBecause: string | null }[];
  lengths: { basis: string; lengthMm: number; plusMinusMm: number }[];
  sha256: string;
}

const at = '2026-02-18T09:00:00Z';
const HEADER = 'certificate,issuer,type,issued,order,specification,coil,heat,thickness [mm],width [mm],mass [kg],C [%],Mn [%],P [%],S x1000 [%],B [%],ReH [MPa],Rm [MPa],A [%]';
/** Certificate, heat, its coils, the carbon of the heat. */
const PAPERS = [
  ['TS-501', 'H50111', ['D-01', 'D-02', 'D-03', 'D-04'], '0.085'],
  ['TS-502', 'H50112', ['D-05', 'D-06', 'D-07', 'D-08'], '0.079'],
  ['TS-503', 'H50118', ['D-09', 'D-10', 'D-11', 'D-12'], '0.091'],
] as const;
const NUMBERS = PAPERS.flatMap(([, , coils]) => coils);

/** The file that a person keys; `slip` stands in place of D-02's carbon. */
function csv(slip: string | null): string {
  const lines = PAPERS.flatMap(([certificate, heat, coils, carbon]) => coils.map((coil) => {
    const c = coil === 'D-02' && slip !== null ? slip : carbon;
    return `${certificate},Tarnwick Steelworks,3.1,2026-01-22,PO-77,STS-30 rev 1,${coil},${heat},5.01,383.0,3200,${c},1.21,0.012,4,<0.0005,446,531,27`;
  }));
  return `${HEADER}\n${lines.join('\n')}\n`;
}

let api: TestApi;
let engineer: SignedIn;
let inspector: SignedIn;
let specificationId: string;
let orderId: string;
let stringId: string;
const coilIds = new Map<string, string>();
const certificateIds = new Map<string, string>();

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  inspector = await api.signIn('qc-inspector');
  const wellId = await entered(engineer, 'wells', { observedAt: at, name: 'Lindmoor Geothermal 4', datum: 'Guide frame' });
  stringId = await entered(engineer, 'casing-strings', {
    observedAt: at, wellId, name: 'String', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '1', lengthRatioU: '0',
  });
  specificationId = await entered(engineer, 'strip-specifications', specification(1, '0.12'));
  orderId = await entered(engineer, 'strip-orders', {
    observedAt: at, number: 'PO-77', mill: 'Tarnwick Steelworks', orderedOn: '2025-12-04', specificationId, thicknessMm: '5.00', widthMm: '383.0',
  });
}, 60_000);
afterAll(() => api.close());

function specification(revision: number, carbonMax: string): Fields {
  const plain = { min: null, max: null };
  return {
    observedAt: at, number: 'STS-30', revision, title: 'Slit strip', effectiveFrom: revision === 1 ? '2025-11-01' : '2026-02-01', grade: 'S420MC',
    documentType: '3.1', rounding: 'rounding', decisionRule: 'guarded-acceptance', guardFactor: '1',
    requirements: [
      { characteristic: 'thickness', min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation', toDecimals: 3, expandedU: '0.01', clause: '3.2' },
      { characteristic: 'C', analysis: 'heat', ...plain, max: carbonMax, unit: '%', expandedU: '0.005', clause: '4.1' },
      { characteristic: 'B', analysis: 'heat', ...plain, max: '0.0010', unit: '%', expandedU: '0.0001' },
      { characteristic: 'S', analysis: 'heat', ...plain, max: '0.010', unit: '%', expandedU: '0.0005' },
      { characteristic: 'ReH', ...plain, min: '420', unit: 'MPa', expandedU: '8' },
      { characteristic: 'Rm', min: '480', max: '620', unit: 'MPa', expandedU: '8' },
      { characteristic: 'A', ...plain, min: '19', unit: '%', expandedU: '1' },
    ],
  };
}

async function sendFile(by: SignedIn, path: string, file: string): Promise<Answer> {
  return by.send('POST', `/api/certificate-imports${path}`, { body: file, headers: { 'content-type': 'text/csv' } });
}

async function evaluation(number: string, query = ''): Promise<Evaluation> {
  const answer = await engineer.send('GET', `/api/coils/${coilIds.get(number) ?? ''}/evaluation${query}`);
  expect(answer.status).toBe(200);
  return answer.body as unknown as Evaluation;
}

async function decide(number: string, decision: string, changes: Fields = {}): Promise<Answer> {
  const { sha256, standing } = await evaluation(number);
  return engineer.send('POST', '/api/coil-decisions', {
    body: {
      id: uuidv7(), coilId: coilIds.get(number), decision, evaluationSha256: sha256, grounds: 'Examined at delivery.', follows: standing['decisionCount'],
      secret: TEST_PASSWORD, ...changes,
    },
  });
}

const rows = async (table: string): Promise<number> => {
  const [row] = await api.owner.query<{ count: string }[]>(`select count(*) from ${table}`);
  return Number(row?.count);
};

const warnings = ({ crossChecks }: Evaluation, check: string): string[] =>
  crossChecks.filter((one) => one.check === check && one.severity === 'warning').map(({ detail }) => detail);
const lineOf = ({ evaluation: { lines } }: Evaluation, name: string, verdict?: string): Line | undefined =>
  lines.find((line) => line.name === name && (verdict === undefined || line.verdict === verdict));

describe('the papers come in', () => {
  test('a preview tells what would come of the file, and writes nothing', async () => {
    const before = [await rows('certificate'), await rows('certificate_transcription'), await rows('stored_file')];
    const seen = await sendFile(inspector, '/preview', csv(null));
    expect(seen).toMatchObject({
      status: 200, body: { lines: 13, certificates: 3, faults: [], questionCount: 0, verdicts: { conforms: 12, 'does-not-conform': 0 }, notConforming: [] },
    });
    expect([await rows('certificate'), await rows('certificate_transcription'), await rows('stored_file')]).toEqual(before);
  });

  test('a faulty file is refused as a whole, with line and column', async () => {
    const refused = await sendFile(inspector, `?id=${uuidv7()}&observedAt=${at}`, csv('0,085'));
    expect(refused).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:faulty-file' } });
    expect(await rows('certificate')).toBe(0);
    expect(await rows('stored_file')).toBe(0);
  });

  test('the first keying makes three certificates; sent twice, it has the effect of one', async () => {
    const path = `?id=${uuidv7()}&observedAt=${at}`;
    const first = await sendFile(engineer, path, csv(null));
    expect(first).toMatchObject({ status: 201, body: { newCertificates: 3, certificates: 3 } });
    expect(await sendFile(engineer, path, csv(null))).toMatchObject({ status: 201, body: first.body });
    expect(await sendFile(engineer, `?id=${uuidv7()}&observedAt=${at}`, csv(null))).toMatchObject({ status: 422, body: { errors: [{ limit: expect.stringContaining('has its keying 1 already') }, {}, {}] } });
    expect(await rows('certificate_transcription')).toBe(3);
    const { body } = await engineer.send('GET', '/api/certificates');
    for (const { id, number } of body['items'] as { id: string; number: string }[]) certificateIds.set(number, id);
    expect([...certificateIds.keys()].sort()).toEqual(['TS-501', 'TS-502', 'TS-503']);
  });

  test('who keyed first does not key second; another person does, with a slip that is shown and not chosen', async () => {
    const own = await sendFile(engineer, `?id=${uuidv7()}&observedAt=${at}&keying=2`, csv(null));
    expect(own).toMatchObject({ status: 422, body: { errors: [{ limit: expect.stringContaining('another person keys this one') }, {}, {}] } });
    expect(await sendFile(inspector, `?id=${uuidv7()}&observedAt=${at}&keying=2`, csv('0.058'))).toMatchObject({
      // D-02 alone differs, and one heat has one analysis: the file contradicts itself.
      status: 422, body: { errors: [{ field: expect.stringMatching(/^line 3, column 12/) }] },
    });
    const slipped = csv(null).replaceAll(',0.085,', ',0.058,');
    expect(await sendFile(inspector, `?id=${uuidv7()}&observedAt=${at}&keying=2`, slipped)).toMatchObject({ status: 201, body: { newCertificates: 0 } });
    const { body } = await engineer.send('GET', `/api/certificates/${certificateIds.get('TS-501') ?? ''}/verification`);
    expect(body).toMatchObject({ state: 'keyings-differ', isCorrected: false });
    expect(body['differences']).toContainEqual({ where: 'coil D-02: C, heat analysis', first: '0.085 %', second: '0.058 %' });
    expect(await engineer.send('GET', `/api/certificates/${certificateIds.get('TS-502') ?? ''}/verification`)).toMatchObject({ body: { state: 'verified' } });
  });
});

describe('the coils come in', () => {
  test('twelve coils with tags; D-12 was entered with the paper of another', async () => {
    const heatIds = new Map<string, string>();
    for (const [, heat] of PAPERS) heatIds.set(heat, await entered(engineer, 'heats', { observedAt: at, number: heat, grade: 'S420MC', castOn: '2026-01-14' }));
    for (const [certificate, heat, coils] of PAPERS) {
      for (const number of coils) {
        const paper = number === 'D-12' ? 'TS-501' : certificate;
        coilIds.set(number, await entered(engineer, 'coils', {
          observedAt: at, number, heatId: heatIds.get(heat), certificateId: certificateIds.get(paper), orderId, widthMm: '383.0', thicknessMm: '5.01', massKg: '3200',
        }));
      }
    }
    for (const number of NUMBERS) {
      const receipt = { observedAt: at, coilId: coilIds.get(number), occasion: 'delivery', tagNumber: number, weighedMassKg: '3198', condition: 'sound', place: 'Bay 2' };
      expect(await inspector.send('POST', '/api/coil-receipts', { body: { id: uuidv7(), ...receipt } })).toMatchObject({ status: 201 });
    }
  });

  test('a tag that names nearly this coil is asked about, and a mass with its point in the wrong place', async () => {
    const base = { observedAt: at, coilId: coilIds.get('D-05'), occasion: 'delivery', condition: 'sound', place: 'Bay 2' };
    const near = await inspector.send('POST', '/api/coil-receipts', { body: { id: uuidv7(), ...base, tagNumber: 'D-O5' } });
    expect(near).toMatchObject({ status: 422, body: { errors: [{ field: 'tagNumber', limit: expect.stringContaining('letters and digits that look alike') }] } });
    const slip = await inspector.send('POST', '/api/coil-receipts', { body: { id: uuidv7(), ...base, tagNumber: 'D-05', weighedMassKg: '320' } });
    expect(slip).toMatchObject({ status: 422, body: { errors: [{ field: 'weighedMassKg', limit: expect.stringContaining('decimal point one place too far left') }] } });
  });

  test('thickness measured here: D-06 too thin is taken and marked, D-07 inside the guard band is noted', async () => {
    const check = (number: string, printed: string): Promise<Answer> => inspector.send('POST', '/api/incoming-checks', {
      body: {
        id: uuidv7(), observedAt: at, coilId: coilIds.get(number), characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', expandedU: '0.01',
        readings: [{ printed: '5.00', along: 'body', across: 'centre' }, { printed, along: 'head', across: 'centre' }],
      },
    });
    // Ordered 5.00 mm, ±0.15 mm: 4.85 to 5.15 mm.
    expect(await check('D-06', '4.820')).toMatchObject({ status: 201, body: { marks: [{ kind: 'out-of-specification', field: 'readings[1].printed', value: '4.820', limit: '4.85 to 5.15 mm' }] } });
    expect(await check('D-07', '4.855')).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', value: '4.855' }] } });
    expect(await check('D-05', '5.02')).toMatchObject({ status: 201, body: { marks: [] } });
    expect(await check('D-08', '0.1976')).toMatchObject({ status: 400, body: { errors: [{ field: 'readings[1].printed', limit: expect.stringContaining('0.5 to 30 mm') }] } });
  });
});

describe('each value stands beside its limit', () => {
  test('D-05 conforms, with margins, rules and sources', async () => {
    const found = await evaluation('D-05');
    expect(found.evaluation.verdict).toBe('conforms');
    expect(lineOf(found, 'C, heat analysis')).toMatchObject({
      limits: 'at most 0.12 %', printed: '0.079 %', verdict: 'conforms', margin: '0.04', nearest: 'max', source: 'certificate TS-502 (3.1), line 1',
    });
    expect(lineOf(found, 'S, heat analysis')).toMatchObject({ printed: '4 %, printed ×1000', compared: '0.004', verdict: 'conforms' });
    expect(lineOf(found, 'B, heat analysis')).toMatchObject({ printed: '<0.0005 %', verdict: 'conforms' });
    expect(lineOf(found, 'inspection document')).toMatchObject({ printed: 'type 3.1', verdict: 'conforms' });
    expect(found.evaluation.lines.filter(({ name }) => name === 'thickness')).toHaveLength(3);
    expect(found.crossChecks.filter(({ severity }) => severity === 'warning')).toEqual([]);
    expect(found.meanings.find(({ decision }) => decision === 'accept')?.notOpenBecause).toBeNull();
    const [byMass] = found.lengths;
    // 3198 kg / (7850 kg/m³ · 383 mm · 5.01 mm), by hand: 212.3 m.
    expect(byMass?.lengthMm).toBeGreaterThan(211_500);
    expect(byMass?.lengthMm).toBeLessThan(213_500);
  });

  test('the whole is the worst: D-06 does not conform, D-07 lies inside the guard band', async () => {
    const thin = await evaluation('D-06');
    expect(thin.evaluation.verdict).toBe('does-not-conform');
    expect(lineOf(thin, 'thickness', 'does-not-conform')).toMatchObject({ printed: '4.820 mm (U 0.01)', margin: '-0.030', nearest: 'min' });
    const near = await evaluation('D-07');
    expect(near.evaluation.verdict).toBe('inside-guard-band');
    expect(lineOf(near, 'thickness', 'inside-guard-band')).toMatchObject({ printed: '4.855 mm (U 0.01)', margin: '0.005' });
  });

  test('the coil with a paper of another is caught: not named there, named elsewhere, nothing reported', async () => {
    const found = await evaluation('D-12');
    expect(found.evaluation.verdict).toBe('not-reported');
    expect(warnings(found, 'names the coil')).toEqual([expect.stringContaining('certificate TS-501 does not name coil D-12')]);
    expect(warnings(found, 'used twice')).toEqual([expect.stringContaining('certificate TS-503 names coil D-12 too')]);
    expect(warnings(found, 'mass')).toEqual([expect.stringContaining('it does not name D-12')]);
    expect(lineOf(found, 'C, heat analysis')).toMatchObject({ verdict: 'not-reported', printed: null, margin: null });
  });

  test('a value that two people keyed differently is held against nothing', async () => {
    const found = await evaluation('D-02');
    expect(lineOf(found, 'C, heat analysis')).toMatchObject({ verdict: 'not-comparable', reason: 'the two keyings differ: 0.085 % against 0.058 %', compared: null });
    expect(warnings(found, 'second keying')).toHaveLength(1);
  });
});

describe('decisions are signed', () => {
  test('what does not conform, or is not verified, is not simply accepted', async () => {
    expect(await decide('D-06', 'accept')).toMatchObject({ status: 422, body: { errors: [{ field: 'decision', limit: expect.stringContaining('does-not-conform') }] } });
    expect(await decide('D-12', 'accept')).toMatchObject({ status: 422 });
    expect(await decide('D-02', 'accept')).toMatchObject({ status: 422 });
    expect(await rows('coil_decision')).toBe(0);
  });

  test('by entering the secret again: a wrong one signs nothing, and only engineers sign', async () => {
    expect(await decide('D-05', 'accept', { secret: 'nine coils stayed wet' })).toMatchObject({ status: 403, body: { type: 'urn:everymetre:problem:wrong-secret', errors: [{ field: 'secret' }] } });
    expect(await inspector.send('POST', '/api/coil-decisions', { body: {} })).toMatchObject({ status: 403 });
    expect(await rows('coil_decision')).toBe(0);
  });

  test('on what was seen: another evaluation or another decision since is told', async () => {
    expect(await decide('D-05', 'accept', { evaluationSha256: '0'.repeat(64) })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:evaluation-changed' } });
    expect(await decide('D-05', 'accept', { follows: 3 })).toMatchObject({ status: 409, body: { errors: [{ field: 'follows', limit: '0' }] } });
  });

  test('accepted, with the evaluation frozen; sent twice it is one decision', async () => {
    const id = uuidv7();
    const first = await decide('D-05', 'accept', { id, follows: 0 });
    expect(first).toMatchObject({
      status: 201,
      body: {
        id, sequence: 1, decision: 'accept', verdict: 'conforms', signedBy: 'secret entered again', signerRoles: ['materials-engineer'],
        statement: 'I have examined the evaluation of coil D-05 against STS-30 revision 1 and accept the coil for use.',
        evaluation: { verdict: 'conforms', coil: { number: 'D-05' } },
      },
    });
    expect(await decide('D-05', 'accept', { id, follows: 0 })).toMatchObject({ status: 201, body: { sequence: 1 } });
    expect(await rows('coil_decision')).toBe(1);
    expect((await evaluation('D-05')).standing).toMatchObject({ state: 'accepted', isUsable: true, hasChangedSince: false, decisionCount: 1 });
  });

  test('the guard band takes a concession with a limit; the thin coil is rejected, the mixed-up one held', async () => {
    expect(await decide('D-07', 'accept-under-concession')).toMatchObject({ status: 422, body: { errors: [{ field: 'concessionLimit' }] } });
    expect(await decide('D-07', 'accept-under-concession', { concessionLimit: 'Above 400 m measured depth' })).toMatchObject({ status: 201, body: { verdict: 'inside-guard-band' } });
    expect(await decide('D-06', 'reject')).toMatchObject({ status: 201 });
    expect(await decide('D-12', 'hold')).toMatchObject({ status: 201 });
    expect((await evaluation('D-12')).standing).toMatchObject({ state: 'held', isUsable: false });
  });

  test('the slip is found on the paper and amended by who made it; then the coil is accepted', async () => {
    const { body } = await engineer.send('GET', `/api/certificates/${certificateIds.get('TS-501') ?? ''}/verification`);
    const path = `/api/certificate-transcriptions/${String(body['secondId'])}`;
    const keying = await inspector.send('GET', path);
    const lines = (keying.body['lines'] as { values: Fields[] }[]).map((line) => ({
      ...line, values: line.values.map((value) => (value['characteristic'] === 'C' ? { ...value, printed: '0.085' } : value)),
    }));
    const change = { reason: 'Digits swapped: the paper prints 0.085.', lines };
    // The one who keyed first may not make the second agree with it.
    expect(await engineer.send('PATCH', path, { body: change, headers: { 'if-match': '"1"' } })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:same-keyer' } });
    expect(await inspector.send('PATCH', path, { body: change, headers: { 'if-match': '"1"' } })).toMatchObject({ status: 200 });
    expect(await engineer.send('GET', `/api/certificates/${certificateIds.get('TS-501') ?? ''}/verification`)).toMatchObject({ body: { state: 'verified', isCorrected: true, differences: [] } });
    expect(await decide('D-02', 'accept')).toMatchObject({ status: 201 });
  });
});

describe('the line takes what was accepted', () => {
  const segment = (number: string, fromMm: number): Promise<Answer> => inspector.send('POST', '/api/coil-segments', {
    body: {
      id: uuidv7(), observedAt: '2026-03-02T08:00:00Z', stringId, coilId: coilIds.get(number), from: { footageMm: fromMm }, to: { footageMm: fromMm + 100_000 },
      stripFromMm: 0, stripToMm: 100_000, runs: 'head-first',
    },
  });
  const splice = (leaving: string, entering: string): Promise<Answer> => inspector.send('POST', '/api/splices', {
    body: {
      id: uuidv7(), observedAt: '2026-03-02T09:00:00Z', stringId, number: `S-${entering}`, leavingCoilId: coilIds.get(leaving), enteringCoilId: coilIds.get(entering),
      from: { footageMm: 100_000 }, angleDeg: '60', hand: 'left', confirmed: true, verdict: 'open', confirm: [],
    },
  });

  test('accepted coils become pipe and are spliced; the wrong, the rejected and the undecided are not', async () => {
    expect(await segment('D-05', 0)).toMatchObject({ status: 201 });
    expect(await segment('D-02', 100_000)).toMatchObject({ status: 201 });
    expect(await splice('D-05', 'D-02')).toMatchObject({ status: 201 });
    for (const number of ['D-12', 'D-06', 'D-01']) {
      expect(await segment(number, 300_000)).toMatchObject({ status: 409, body: { errors: [{ field: 'coilId', value: coilIds.get(number), limit: expect.stringContaining('deviation permit') }] } });
      expect(await splice('D-05', number)).toMatchObject({ status: 409, body: { errors: [{ field: 'enteringCoilId' }] } });
      expect(await splice(number, 'D-02')).toMatchObject({ status: 409, body: { errors: [{ field: 'leavingCoilId' }] } });
    }
    expect(await rows('coil_segment')).toBe(2);
    expect(await rows('splice')).toBe(1);
  });

  test('a deviation permit, recorded before, opens the way for its string and its time only', async () => {
    const permit = (changes: Fields): Fields => ({
      observedAt: '2026-03-02T07:30:00Z', coilId: coilIds.get('D-06'), departure: 'Thin head of 2 m: cropped, the rest measured at 20 places.', limit: 'Above 100 m measured depth',
      validUntil: '2026-03-03T00:00:00Z', ...changes,
    });
    const otherWell = await entered(engineer, 'wells', { observedAt: at, name: 'Lindmoor Geothermal 5', datum: 'Guide frame' });
    const otherString = await entered(engineer, 'casing-strings', {
      observedAt: at, wellId: otherWell, name: 'Other', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '1', lengthRatioU: '0',
    });
    await entered(engineer, 'deviation-permits', permit({ forStringId: otherString }));
    expect(await segment('D-06', 300_000)).toMatchObject({ status: 409 });
    await entered(engineer, 'deviation-permits', permit({ observedAt: '2026-03-01T09:30:00Z', validUntil: '2026-03-01T10:00:00Z' }));
    expect(await segment('D-06', 300_000)).toMatchObject({ status: 409 });
    await entered(engineer, 'deviation-permits', permit({ observedAt: '2026-03-02T09:30:00Z' }));
    expect(await segment('D-06', 300_000)).toMatchObject({ status: 409 });
    await entered(engineer, 'deviation-permits', permit({ forStringId: stringId }));
    expect(await segment('D-06', 300_000)).toMatchObject({ status: 201 });
  });

  test('a coil held later moves nothing that stands', async () => {
    const [held] = (await engineer.send('GET', `/api/coil-segments?coilId=${coilIds.get('D-02') ?? ''}`)).body['items'] as Fields[];
    expect(await decide('D-02', 'hold')).toMatchObject({ status: 201, body: { sequence: 2 } });
    const path = `/api/coil-segments/${String(held?.['id'])}`;
    expect(await inspector.send('PATCH', path, { body: { reason: 'Note added.', note: 'Rest on the uncoiler.' }, headers: { 'if-match': '"1"' } })).toMatchObject({ status: 200 });
  });

  test('the rest comes back from the line with its length', async () => {
    const receipt = {
      observedAt: '2026-03-02T18:00:00Z', coilId: coilIds.get('D-02'), occasion: 'back-from-line', tagNumber: 'D-02', restLengthMm: 110_500, condition: 'sound', place: 'Bay 3',
    };
    expect(await inspector.send('POST', '/api/coil-receipts', { body: { id: uuidv7(), ...receipt } })).toMatchObject({ status: 201, body: { restLengthMm: 110_500 } });
    expect(await inspector.send('POST', '/api/coil-receipts', { body: { id: uuidv7(), ...receipt, restLengthMm: null } })).toMatchObject({ status: 422, body: { errors: [{ field: 'restLengthMm' }] } });
  });
});

describe('revisions', () => {
  test('a revision in use is frozen; the next one shows what differs', async () => {
    expect(await engineer.send('PATCH', `/api/strip-specifications/${specificationId}`, { body: { reason: 'Tighter.', title: 'Other' }, headers: { 'if-match': '"1"' } }))
      .toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:frozen' } });
    const next = await entered(engineer, 'strip-specifications', specification(2, '0.08'));
    const { body } = await engineer.send('GET', `/api/strip-specifications/${next}/difference`);
    expect(body).toMatchObject({ from: 1, to: 2 });
    expect(body['differences']).toContainEqual({
      what: 'C, heat analysis', before: 'at most 0.12 %, U 0.005 where none is stated, clause 4.1', after: 'at most 0.08 %, U 0.005 where none is stated, clause 4.1', effect: 'tighter',
    });
  });

  test('another revision shows its verdict beside the one that decides, and changes nothing', async () => {
    const [, second] = (await engineer.send('GET', '/api/strip-specifications')).body['items'] as { id: string }[];
    const before = await evaluation('D-05');
    const found = await evaluation('D-05', `?specificationId=${second?.id ?? ''}`);
    expect(found.evaluation.verdict).toBe('conforms');
    expect(found.underOther?.verdict).toBe('inside-guard-band');
    expect(found.sha256).toBe(before.sha256);
    expect(found.standing).toMatchObject({ state: 'accepted', hasChangedSince: false });
  });

  test('years later: the evaluation as it was known, and the one that was signed, are still there', async () => {
    const decisions = (await engineer.send<Fields[]>('GET', `/api/coils/${coilIds.get('D-02') ?? ''}/decisions`)).body;
    expect(decisions.map(({ decision }) => decision)).toEqual(['accept', 'hold']);
    const [accepted] = decisions;
    const then = await evaluation('D-02', `?asKnownAt=${String(accepted?.['signedAt'])}`);
    expect(then.sha256).toBe(accepted?.['evaluationSha256']);
    expect(then.standing).toMatchObject({ state: 'accepted' });
  });
});

describe('specifications', () => {
  const table = (name: string): Fields => ({ name, edition: '2026-01', source: 'Agreed', rows: [{ overMm: '0', toMm: '6', widths: [{ overMm: '0', toMm: null, plusMinusMm: '0.15' }] }] });

  test('a table of its own has a name of its own', async () => {
    const taken = await engineer.send('POST', '/api/strip-specifications', {
      body: { id: uuidv7(), ...specification(8, '0.1'), ownTables: [table('Agreed'), table('Agreed'), table(THICKNESS_TOLERANCE_TABLES[0]?.name ?? '')] },
    });
    expect(taken).toMatchObject({ status: 400, body: { errors: [{ field: 'ownTables[1].name', value: 'Agreed' }, { field: 'ownTables[2].name' }] } });
    expect(await engineer.send('POST', '/api/strip-specifications', { body: { id: uuidv7(), ...specification(8, '0.1'), ownTables: [table('Agreed')] } })).toMatchObject({ status: 201 });
  });

  test('a revision that was withdrawn is judged by no more, neither coils nor files', async () => {
    const id = await entered(engineer, 'strip-specifications', specification(9, '0.1'));
    const heatId = await entered(engineer, 'heats', { observedAt: at, number: 'H6', grade: 'S420MC' });
    const coilId = await entered(engineer, 'coils', { observedAt: at, number: 'N-01', heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '3200' });
    const held = async (): Promise<Answer> => {
      const { body } = await engineer.send('GET', `/api/coils/${coilId}/evaluation?specificationId=${id}`);
      return engineer.send('POST', '/api/coil-decisions', {
        body: { id: uuidv7(), coilId, specificationId: id, decision: 'hold', evaluationSha256: body['sha256'], grounds: 'No order.', follows: 0, secret: TEST_PASSWORD },
      });
    };
    expect(await engineer.send('POST', `/api/strip-specifications/${id}/void`, { body: { reason: 'Entered twice.' }, headers: { 'if-match': '"1"' } })).toMatchObject({ status: 200 });
    expect(await held()).toMatchObject({ status: 422, body: { errors: [{ field: 'specificationId' }] } });
    const file = await engineer.send('POST', `/api/certificate-imports/preview?specificationId=${id}`, { body: csv(null), headers: { 'content-type': 'text/csv' } });
    expect(file).toMatchObject({ status: 422, body: { errors: [{ field: 'specificationId' }] } });
  });

  test('a coil without an order is printed and evaluated by the revision it was decided under', async () => {
    const heatId = await entered(engineer, 'heats', { observedAt: at, number: 'H7', grade: 'S420MC' });
    const coilId = await entered(engineer, 'coils', { observedAt: at, number: 'N-02', heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '3200' });
    const path = `/api/coils/${coilId}`;
    expect(await engineer.send('GET', `${path}/sheet`)).toMatchObject({ status: 422 });
    expect(await engineer.send('GET', `${path}/tag?specificationId=${specificationId}`)).toMatchObject({ status: 200 });
    const { body } = await engineer.send('GET', `${path}/evaluation?specificationId=${specificationId}`);
    expect(await engineer.send('POST', '/api/coil-decisions', {
      body: { id: uuidv7(), coilId, specificationId, decision: 'hold', evaluationSha256: body['sha256'], grounds: 'No order.', follows: 0, secret: TEST_PASSWORD },
    })).toMatchObject({ status: 201 });
    expect(await engineer.send('GET', `${path}/sheet`)).toMatchObject({ status: 200 });
    const since = async (query: string): Promise<unknown> => ((await engineer.send('GET', `${path}/evaluation${query}`)).body['standing'] as Fields)['hasChangedSince'];
    expect(await since('')).toBe(false);
    const other = (await engineer.send('GET', '/api/strip-specifications')).body['items'] as { id: string }[];
    expect(await since(`?specificationId=${other.find(({ id }) => id !== specificationId)?.id ?? ''}`)).toBeNull();
    await entered(inspector, 'incoming-checks', {
      observedAt: at, coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', readings: [{ printed: '5.02', along: 'head', across: 'centre' }],
    });
    expect(await since('')).toBe(true);
  });
});

describe('papers and search', () => {
  test.each(['sheet', 'sheet?paper=Letter', 'tag'])('%s is a PDF', async (path) => {
    const paper = await engineer.send<string>('GET', `/api/coils/${coilIds.get('D-07') ?? ''}/${path}`);
    expect(paper).toMatchObject({ status: 200, headers: { 'content-type': 'application/pdf' } });
    expect(paper.body.startsWith('%PDF-')).toBe(true);
  });

  test('a number is found by a part of it, and by what looks like it', async () => {
    const found = async (text: string): Promise<unknown[]> => ((await inspector.send('GET', `/api/search?text=${text}`)).body['found'] as Fields[]).map(({ kind, number, match }) => [kind, number, match]);
    expect(await found('5011')).toEqual([['heat', 'H50111', 'part'], ['heat', 'H50112', 'part'], ['heat', 'H50118', 'part']]);
    expect(await found('ts-503')).toEqual([['certificate', 'TS-503', 'part']]);
    expect((await found('H5O111'))[0]).toEqual(['heat', 'H50111', 'like']);
    expect(await found('po-7')).toEqual([['strip-order', 'PO-77', 'part']]);
    expect(await inspector.send('GET', '/api/search?text=D')).toMatchObject({ status: 400, body: { errors: [{ field: 'text' }] } });
  });
});
