import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { entered } from '../setup/string-builder.js';

const before = '2026-01-05T08:00:00Z';
/** The site is one hour ahead of UTC: its 1 March ends at 23:00 UTC. */
const LAST_SECOND = '2026-03-01T22:59:59Z';
const NEXT_DAY = '2026-03-01T23:00:00Z';
let api: TestApi;
let bench: StringBench;
let engineer: SignedIn;
let examiner: SignedIn;
let other: SignedIn;
let stringId: string;
let spliceId: string;
let gaugeId: string;
let authorisedId: string;

const qualification = (personId: string, number: string, changes: Fields): Promise<string> => entered(engineer, 'qualifications', {
  observedAt: before, personId, number, standard: 'ISO 9712', subject: 'non-destructive-testing', scope: [], startsOn: '2025-03-02', authorisationNeeded: false, examiner: 'Examining body', ...changes,
});

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  engineer = await api.signIn('materials-engineer');
  examiner = await api.signIn('qc-inspector');
  other = await api.signIn('qc-inspector');
  const wellId = await bench.made('wells', { name: 'Lindmoor Geothermal 6', datum: 'Guide frame', timeZone: 'Etc/GMT-1' });
  stringId = await bench.string({ wellId });
  const [leavingCoilId, enteringCoilId] = [await bench.coil(), await bench.coil()];
  spliceId = await bench.made('splices', {
    stringId, number: 'S-1', leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: false, verdict: 'open', from: { footageMm: 100_000 }, observedAt: before,
  });
  gaugeId = await entered(engineer, 'instruments', { observedAt: before, number: 'HL-2', kind: 'gauge', name: 'High-low gauge', measures: ['high-low'], unit: 'mm' });
  await entered(engineer, 'calibrations', {
    observedAt: before, instrumentId: gaugeId, certificateNumber: 'CAL-HL', laboratory: 'Measuring room', decisionRule: 'simple-acceptance', dueOn: '2026-03-01',
    asFound: [{ point: '1 mm', deviation: '0.01', min: '-0.05', max: '0.05', unit: 'mm' }],
  });
  authorisedId = await qualification(examiner.personId, 'RT-4', {
    methods: ['RT'], level: 2, scope: [{ name: 'technique', values: ['RT-02 rev 3'] }], expiresOn: '2026-03-01', authorisationNeeded: true,
  });
  await entered(engineer, 'qualification-proofs', {
    observedAt: before, personId: examiner.personId, qualificationId: authorisedId, proof: 'authorisation', onDay: '2025-03-02', givenBy: 'Employer',
  });
}, 60_000);
afterAll(() => api.close());

const check = async (path: string, id: string, query = ''): Promise<Fields> => {
  const answer = await other.send('GET', `/api/${path}/${id}/check${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
};
const aboutOf = (found: Fields): unknown[] => (found['open'] as Fields[]).map(({ about }) => about);
const wordsOf = (found: Fields): string => (found['open'] as { words: string }[]).map(({ words }) => words).join(' | ');

describe('a step of a splice', () => {
  const step = (observedAt: string, changes: Fields = {}): Promise<string> => entered(other, 'splice-steps', {
    observedAt, stringId, spliceId, stage: 'flat-strip-release', outcome: 'accepted', coupons: [], photoSha256s: [],
    readings: [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5', instrumentId: gaugeId }],
    examinations: [{ method: 'RT', technique: 'RT-02 rev 3', outcome: 'accepted', personId: examiner.personId }], ...changes,
  });

  test('is proved to the end of the local day on which certificate and calibration end, and not a second longer', async () => {
    const inTime = await check('splice-steps', await step(LAST_SECOND));
    expect(inTime).toMatchObject({
      isProved: true, open: [], instruments: [{ state: 'good' }],
      persons: [{ role: 'doer', personId: other.personId, standing: null }, { role: 'examiner', isNamed: true, standing: { found: 'covering', number: 'RT-4' } }],
    });
    expect((inTime['remarks'] as string[]).join(' | ')).toMatch(/no method is on record for who did it.*no level is on record that it asks for/);
    const late = await check('splice-steps', await step(NEXT_DAY));
    expect(late).toMatchObject({ isProved: false, instruments: [{ state: 'overdue' }] });
    expect(aboutOf(late)).toEqual(['person', 'instrument']);
    expect(wordsOf(late)).toContain('not valid on 2026-03-02, local day at UTC+01:00');
  });

  test('by another technique, or another method, is outside the scope', async () => {
    const examined = (method: string, technique: string): Promise<string> =>
      step(LAST_SECOND, { examinations: [{ method, technique, outcome: 'accepted', personId: examiner.personId }] });
    expect(wordsOf(await check('splice-steps', await examined('RT', 'RT-02 rev 4')))).toContain('technique RT-02 rev 4 is outside the scope');
    expect(wordsOf(await check('splice-steps', await examined('UT', 'RT-02 rev 3')))).toContain('method UT is outside the scope: RT');
  });

  test('whose examiner is not named is open, and who did it is held against the work', async () => {
    const unnamed = { examinations: [{ method: 'RT', technique: 'RT-02 rev 3', outcome: 'accepted' }] };
    const found = await check('splice-steps', await step(LAST_SECOND, unnamed));
    expect(aboutOf(found)).toEqual(['person', 'person']);
    expect(wordsOf(found)).toMatch(/names no examiner.*no qualification on record/);
    // Done by the qualified person, the naming alone is open.
    const own = await check('splice-steps', await step(LAST_SECOND, { ...unnamed, doneBy: examiner.personId }));
    expect(own).toMatchObject({ isProved: false, persons: [{}, { isNamed: false, standing: { found: 'covering' } }] });
    expect(aboutOf(own)).toEqual(['person']);
  });

  test('read with nothing on record, or accepted upon nothing, is open', async () => {
    expect(aboutOf(await check('splice-steps', await step(LAST_SECOND, { examinations: [], readings: [{ measured: 'gap', printed: '0.1', unit: 'mm' }] })))).toEqual(['instrument']);
    expect(aboutOf(await check('splice-steps', await step(LAST_SECOND, { examinations: [], readings: [] })))).toEqual(['record']);
  });

  test('as known before the certificate was entered says there was none', async () => {
    const id = await step(LAST_SECOND, { examinations: [{ method: 'ET', technique: 'ET-1', outcome: 'accepted', personId: other.personId }], readings: [] });
    const { recordedAt } = (await engineer.send<{ recordedAt: string }>('GET', `/api/splice-steps/${id}`)).body;
    await qualification(other.personId, 'ET-9', { methods: ['ET'], level: 1, expiresOn: '2027-03-01' });
    expect(await check('splice-steps', id)).toMatchObject({ isProved: true });
    const then = await check('splice-steps', id, `?asKnownAt=${encodeURIComponent(recordedAt)}`);
    expect(then).toMatchObject({ isProved: false, persons: [{}, { standing: { found: 'none' } }] });
  });

  test('shows in the record of its splice, with the check to look at', async () => {
    const lateId = await step(NEXT_DAY);
    const { body } = await other.send('GET', `/api/splices/${spliceId}/record`);
    expect(body['open']).toContain(`flat-strip-release of 2026-03-01T23:00:00.000000Z is not proved: person, instrument; see /api/splice-steps/${lateId}/check`);
  });
});

describe('a seam event', () => {
  test('has an operator, qualified for the process that day, and instruments; what of its procedure is open is told', async () => {
    const procedureId = await entered(engineer, 'weld-procedures', {
      observedAt: before, number: 'WP-31', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: '74', effectiveFrom: '2025-06-01',
      ranges: [{ variable: 'power', min: '150', max: '200', unit: 'kW' }], lists: [], test: { number: 'PQR-40', standard: 'ISO 15614-13', testedOn: '2025-05-12', examiner: 'Examining body' },
    });
    const qualificationId = await qualification(other.personId, 'OP-2', {
      standard: 'ISO 14732', subject: 'welding', methods: ['74'], scope: [{ name: 'power', min: '100', max: '190', unit: 'kW' }], confirmEveryMonths: 6,
    });
    const event = (observedAt: string, printed: string, instrumentId: string | null = gaugeId): Promise<string> => entered(other, 'seam-events', {
      observedAt, stringId, event: 'start', from: { footageMm: 0 }, weldProcedureId: procedureId, readings: [{ variable: 'power', printed, unit: 'kW', instrumentId }],
    });
    await entered(engineer, 'qualification-proofs', { observedAt: before, personId: other.personId, qualificationId, proof: 'confirmation', onDay: '2025-09-01', givenBy: 'Coordinator' });
    expect(await check('seam-events', await event(LAST_SECOND, '182'))).toMatchObject({
      isProved: true, procedure: { label: 'WP-31 rev 1' }, persons: [{ role: 'operator', standing: { found: 'covering', number: 'OP-2' } }], instruments: [{ state: 'good' }], remarks: [],
    });
    // Six months after 1 September is 1 March: unconfirmed from the next local day on.
    const late = await check('seam-events', await event(NEXT_DAY, '182', null));
    expect(aboutOf(late)).toEqual(['person', 'instrument']);
    expect(wordsOf(late)).toContain('confirmed through 2026-03-01, due every 6 months');
    const hot = await check('seam-events', await event(LAST_SECOND, '215'));
    expect(aboutOf(hot)).toEqual(['procedure', 'person']);
    expect(wordsOf(hot)).toContain('readings[0].printed is 215 kW; asked for: power: 150 to 200 kW');
    const [operator] = hot['persons'] as { standing: { qualifications: Fields[] } }[];
    expect(operator?.standing.qualifications.find(({ number }) => number === 'OP-2')).toMatchObject({ state: 'out-of-scope', because: expect.stringContaining('power 215 kW is outside the scope') });
  });
});

describe('an inspection', () => {
  const inspection = (observedAt: string, changes: Fields): Promise<string> =>
    entered(examiner, 'inspections', { observedAt, stringId, from: { footageMm: 5_000 }, kind: 'visual', characteristic: 'seam trim', verdict: 'accepted', ...changes });

  test('by eye asks for visual testing that day', async () => {
    expect(await check('inspections', await inspection(LAST_SECOND, {}))).toMatchObject({ isProved: false, persons: [{ role: 'inspector', standing: { found: 'nearest' } }] });
    await qualification(examiner.personId, 'VT-1', { methods: ['VT'], level: 2, scope: [{ name: 'surface', values: ['formed-outside'] }], expiresOn: '2026-03-01' });
    const seen = { surface: 'formed-outside' };
    expect(await check('inspections', await inspection(LAST_SECOND, seen))).toMatchObject({ isProved: true, instruments: [], persons: [{ standing: { number: 'VT-1' } }] });
    expect(wordsOf(await check('inspections', await inspection(NEXT_DAY, seen)))).toContain('2026-03-02');
    // What the record does not state is not taken to be in scope.
    expect(wordsOf(await check('inspections', await inspection(LAST_SECOND, {})))).toContain('surface is not stated');
  });

  test('by measuring asks for a good instrument, and says that nothing was asked of the person', async () => {
    const measured = { kind: 'dimensional', characteristic: 'high-low', value: '0.2', unit: 'mm', instrumentId: gaugeId };
    expect(await check('inspections', await inspection(LAST_SECOND, measured))).toMatchObject({
      isProved: true, persons: [{ standing: null }], remarks: [expect.stringContaining('only the instrument was')],
    });
    expect(await check('inspections', await inspection(NEXT_DAY, measured))).toMatchObject({ isProved: false, instruments: [{ state: 'overdue' }] });
    expect(aboutOf(await check('inspections', await inspection(LAST_SECOND, { ...measured, instrumentId: null })))).toEqual(['instrument']);
  });
});

describe('after a repair', () => {
  test('who welded it and who examined it are held against their day, technique and reflector', async () => {
    const procedureId = await entered(engineer, 'weld-procedures', {
      observedAt: before, number: 'WP-41', revision: 1, title: 'Repair of the seam', purpose: 'repair', process: '141', effectiveFrom: '2025-06-01',
      ranges: [{ variable: 'current', min: '80', max: '110', unit: 'A' }], lists: [], test: { number: 'PQR-51', standard: 'ISO 15614-1', testedOn: '2025-05-12', examiner: 'Examining body' },
    });
    await qualification(other.personId, 'W-141', { standard: 'ISO 9606-1', subject: 'welding', methods: ['141'], expiresOn: '2026-03-01' });
    await qualification(examiner.personId, 'MT-2', { methods: ['MT'], level: 2, scope: [{ name: 'reflector-size', min: '0.5', unit: 'mm' }], expiresOn: '2027-03-01' });
    const place = { stringId, from: { footageMm: 7_000 }, to: { footageMm: 7_100 }, photoSha256s: [] };
    const repair = (observedAt: string, printed: string): Promise<string> => entered(other, 'repairs', {
      ...place, observedAt, method: 'weld-repair', found: 'Undercut', weldProcedureId: procedureId, readings: [{ variable: 'current', printed, unit: 'A', instrumentId: gaugeId }],
      chosen: [{ choice: 'process', value: '141' }],
    });
    const examined = (size: string): Promise<string> => entered(examiner, 'examinations', {
      ...place, observedAt: LAST_SECOND, method: 'MT', technique: 'MT-1', outcome: 'accepted', standsInFor: [], reflector: 'notch-outside', reflectorSizeMm: size,
    });
    expect(await check('repairs', await repair(LAST_SECOND, '95'))).toMatchObject({ isProved: true, procedure: { label: 'WP-41 rev 1' }, persons: [{ standing: { number: 'W-141' } }] });
    expect(aboutOf(await check('repairs', await repair(NEXT_DAY, '120')))).toEqual(['procedure', 'person', 'instrument']);
    expect(await check('examinations', await examined('0.5'))).toMatchObject({ isProved: true, persons: [{ role: 'examiner', standing: { number: 'MT-2' } }] });
    expect(wordsOf(await check('examinations', await examined('0.3')))).toContain('reflector-size 0.3 mm is outside the scope');
  });
});

test.each(['splice-steps', 'seam-events', 'inspections', 'repairs', 'examinations'])('of %s that are not there, or asked wrongly, the check is refused', async (path) => {
  expect(await other.send('GET', `/api/${path}/${uuidv7()}/check`)).toMatchObject({ status: 404 });
  expect(await other.send('GET', `/api/${path}/nothing/check`)).toMatchObject({ status: 400 });
  expect(await other.send('GET', `/api/${path}/${uuidv7()}/check?asKnownAt=yesterday`)).toMatchObject({ status: 400, body: { errors: [{ field: 'asKnownAt' }] } });
});
