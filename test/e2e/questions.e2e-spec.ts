import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { RecallAnswer, RecalledString } from '../../apps/api/src/recall/recall.dto.js';
import type { ReconciliationAnswer } from '../../apps/api/src/reconciliation/reconciliation.dto.js';
import type { WhereaboutsAnswer } from '../../apps/api/src/whereabouts/whereabouts.dto.js';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { entered, permitted } from '../setup/string-builder.js';

/**
 * Worked example A of the length model with a metre cut out of it, and figures worked by hand:
 * line 18000, hang-off footage 2840 at 2500, ratio 1, cut-out [50000, 51000) at footage 60000, footage 141840 at the end,
 * so that n(F) = 140840 as in the example: D = (140840 − 2840 − 18000) / 2 = 60000, n_shoe = 62840, shoe at 62500.
 * Outer wall: md = n − 340. Inner wall: md = 125340 − n. Above the cut n = p − 1000.
 * Doubt: hang-off depth u = 5, the beginning of coil C002 u = 20, a station u = 3, all else 0.
 */
const START_MS = Date.parse('2026-03-01T06:00:00Z');
/** One metre of pipe a minute: the time at which a footage was at the weld point. */
const timeOf = (footageMm: number): string => new Date(START_MS + footageMm * 60).toISOString();
const BEFORE = '2026-02-01T00:00:00Z';

let api: TestApi;
let engineer: SignedIn;
let inspector: SignedIn;
const ids: Record<string, string> = {};
let knownBefore = '';

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  inspector = await api.signIn('qc-inspector');
  await enterStrip();
  await enterMainString();
  await enterOtherString();
  await enterEvidence();
}, 60_000);
afterAll(() => api.close());

async function enter(name: string, path: string, content: object, by: SignedIn = engineer): Promise<string> {
  ids[name] = await entered(by, path, { observedAt: BEFORE, ...content });
  return ids[name];
}

async function enterStrip(): Promise<void> {
  await enter('well', 'wells', { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame' });
  await enter('survey', 'surveys', {
    wellId: ids['well'], tool: 'Gyro', stations: ['0', '500'].map((mdM) => ({ mdM, inclinationDeg: '60.00', azimuthDeg: '41.30' })),
  });
  const certificateId = await enter('certificate', 'certificates', {
    number: 'TS-1', issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22',
  });
  const heat1 = await enter('heat1', 'heats', { number: 'H40711', grade: 'S420MC' });
  const heat2 = await enter('heat2', 'heats', { number: 'H40712', grade: 'S420MC' });
  const size = { widthMm: '400.0', thicknessMm: '5.00' };
  await enter('C001', 'coils', { ...size, number: 'LM-01', heatId: heat1, massKg: '998.2', lengthMm: 63_580, cropMm: 500 });
  // 592.832 kg / (7850 kg/m³ · 0.4 m · 0.005 m) = 37.760 m
  await enter('C002', 'coils', { ...size, number: 'LM-02', heatId: heat2, certificateId, massKg: '592.832' });
  await enter('C003', 'coils', { ...size, number: 'LM-03', heatId: heat1, massKg: '1418.2', lengthMm: 90_330, restMm: 10_000 });
  const permitter = await api.signIn('materials-engineer');
  for (const name of ['C001', 'C002', 'C003']) await permitted(permitter, ids[name] ?? '');
}

const stringOf = (name: string): object => ({
  wellId: ids['well'], name, footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
  lengthRatio: '1', lengthRatioU: '0',
});

async function enterMainString(): Promise<void> {
  const stringId = await enter('main', 'casing-strings', stringOf('Lindmoor 2 main string'));
  const on = { stringId };
  const station = (name: string, mm: number, uMm: string): object => ({ name, pathMinMm: mm, pathMaxMm: mm, uMm });
  await enter('setup', 'line-setups', {
    ...on, viewing: 'down-the-hole', stations: [station('wall gauge', 6200, '3'), { ...station('hang-off', 18_000, '0'), role: 'hang-off' }],
  });
  const period = { ...on, observedAt: timeOf(0), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0' };
  await enter('period', 'counter-periods', period);
  await enter('checkPeriod', 'counter-periods', { ...period, counter: 'check' });
  for (const mm of [0, 55_000, 60_000, 141_840]) {
    await enter(`reading ${mm}`, 'counter-readings', { ...on, observedAt: timeOf(mm), reading: String(mm) });
  }
  await enter('check start', 'counter-readings', { ...on, observedAt: timeOf(0), counter: 'check', reading: '0' });
  await enter('check end', 'counter-readings', { ...on, observedAt: timeOf(141_840), counter: 'check', reading: '141982' });
  await enter('stray', 'counter-readings', { ...on, observedAt: timeOf(60_000), counter: 'spare', reading: '7' });
  await enter('hangOff', 'hang-offs', { ...on, observedAt: timeOf(20_840), from: { footageMm: 2840 }, mdMm: 2500, mdUMm: '5' });
  await enter('cutOut', 'cut-outs', {
    ...on, observedAt: timeOf(60_000), from: { footageMm: 50_000 }, to: { footageMm: 51_000 }, cause: 'Seam defect',
  });
  await enter('tie', 'shoe-ties', {
    ...on, observedAt: timeOf(141_840), place: { footageMm: 141_840 }, shoeMdMm: 62_500, shoeUMm: '0', method: 'Wireline tag',
  });
  const segment = { ...on, runs: 'head-first' };
  await enter('S1', 'coil-segments', {
    ...segment, coilId: ids['C001'], from: { footageMm: 0 }, to: { footageMm: 63_080 }, stripFromMm: 500, stripToMm: 63_580,
  });
  await enter('S2', 'coil-segments', {
    ...segment, coilId: ids['C002'], from: { footageMm: 63_080, uMm: '20' }, to: { footageMm: 100_840 }, stripFromMm: 0, stripToMm: 37_760,
  });
  await enter('S3', 'coil-segments', {
    ...segment, coilId: ids['C003'], from: { footageMm: 100_840 }, to: { footageMm: 161_170 }, stripFromMm: 0, stripToMm: 60_330,
  });
  await enter('splice', 'splices', {
    ...on, observedAt: timeOf(63_080), number: 'S-1', leavingCoilId: ids['C001'], enteringCoilId: ids['C002'],
    from: { footageMm: 63_080 }, angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted',
  });
}

/** A string that does not hang yet, made of strip left over from the first. */
async function enterOtherString(): Promise<void> {
  const stringId = await enter('other', 'casing-strings', stringOf('Lindmoor 2 liner'));
  await enter('other period', 'counter-periods', {
    stringId, observedAt: timeOf(0), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0',
  });
  await enter('other reading', 'counter-readings', { stringId, observedAt: timeOf(25_000), reading: '25000' });
  await enter('O3', 'coil-segments', {
    stringId, coilId: ids['C003'], from: { footageMm: 0 }, to: { footageMm: 20_000 }, stripFromMm: 60_330, stripToMm: 80_330, runs: 'head-first',
  });
}

async function enterEvidence(): Promise<void> {
  await enter('inspection', 'inspections', {
    stringId: ids['main'], observedAt: timeOf(76_000), from: { footageMm: 70_000 }, to: { footageMm: 71_000 },
    kind: 'visual', characteristic: 'seam', verdict: 'accepted',
  }, inspector);
  const before = await inspector.send('GET', `/api/inspections/${ids['inspection'] ?? ''}`);
  knownBefore = String(before.body['recordedAt']);
  await enter('nonconformance', 'nonconformances', {
    title: 'Edge crack', severity: 'major', origin: 'late-discovery', coilExtents: [{ coilId: ids['C002'], stripFromMm: 10_000, stripToMm: 20_000 }],
    extentBasis: 'measured', stage: 'open', requirement: { document: 'Strip specification', revision: '2', clause: '4.1', limit: 'no cracks' },
    found: { text: 'Crack at the edge', method: 'visual', instrument: 'eye', at: timeOf(76_000), by: engineer.personId },
  });
}

const onMain = (question: string): string => `/api/casing-strings/${ids['main'] ?? ''}/${question}`;

async function asked<B>(path: string): Promise<B> {
  const { status, body } = await engineer.send<B>('GET', path);
  expect({ status, detail: (body as { detail?: string }).detail }).toEqual({ status: 200 });
  return body;
}

const refusal = ({ status, body }: Answer): unknown => ({
  status, type: String(body['type']).split(':').at(-1), fields: (body['errors'] as { field: string }[]).map(({ field }) => field),
});

describe('where is this metre', () => {
  const where = (query: string): Promise<WhereaboutsAnswer> => asked(onMain(`whereabouts?${query}`));
  const noLongerNull = { toMakeMm: null, onTheLine: null, onTheWall: null, leadEnd: null, cutOut: null };

  test('each of the six places, at the last reading', async () => {
    expect(await where('footageM=150')).toMatchObject({ ...noLongerNull, place: 'not-yet-made', toMakeMm: 8160 });
    const onTheLine = { pathMm: 1840, toStations: [
      { name: 'wall gauge', isHangOff: false, bestMm: 4360, leastMm: 4360, mostMm: 4360, plusMinusMm: 6 },
      { name: 'hang-off', isHangOff: true, bestMm: 16_160, leastMm: 16_160, mostMm: 16_160, plusMinusMm: 0 },
    ] };
    expect(await where('footageM=140')).toMatchObject({ ...noLongerNull, place: 'on-the-line', onTheLine });
    expect(await where('footageM=1')).toMatchObject({ ...noLongerNull, place: 'lead-end', leadEnd: { aboveHangOffMm: 1840 } });
    expect(await where('footageM=50.5')).toMatchObject({ ...noLongerNull, place: 'cut-out', cutOut: { id: ids['cutOut'], label: 'Seam defect' } });
    const outer = { mdMm: 58_660, mdPlusMinusMm: 10, datum: 'Top of the guide frame', facing: { formedInside: 'rock', formedOutside: 'between the walls' } };
    expect(await where('footageM=60')).toMatchObject({ ...noLongerNull, place: 'outer-wall', onTheWall: outer });
    // n = 109000, md = 125340 − 109000
    const inner = { mdMm: 16_340, mdPlusMinusMm: 10, facing: { formedInside: 'bore', formedOutside: 'between the walls' } };
    expect(await where('footageM=110')).toMatchObject({ ...noLongerNull, place: 'inner-wall', onTheWall: inner });
  });

  test('its true vertical depth, down a straight hole at 60°: half the measured one', async () => {
    expect((await where('footageM=60')).onTheWall?.tvdMm).toBe(29_330);
  });

  test('what it was made of', async () => {
    const { madeOf } = await where('footageM=70');
    expect(madeOf).toMatchObject({ coil: { label: 'LM-02' }, heat: { label: 'H40712' }, certificate: { label: 'TS-1' }, stripMm: 6920, runs: 'head-first' });
  });

  test('at a time before the cut, and with the shoe at a depth', async () => {
    const before = await where(`footageM=50.5&at=${timeOf(55_000)}`);
    expect(before).toMatchObject({ place: 'on-the-line', onTheLine: { pathMm: 4500, toStations: [{ name: 'wall gauge', bestMm: 1700 }, { bestMm: 13_500 }] } });
    expect(await where('footageM=130&shoeMdM=62.5')).toMatchObject({ place: 'on-the-line', onTheLine: { pathMm: 11_840 }, asked: { at: null, shoeMdMm: 62_500 } });
    // n_shoe + D + x = 22840 + 20000 + 18000 = 60840 of net length, footage 61840 above the cut
    expect(await where('footageM=61.84&shoeMdM=22.5')).toMatchObject({ place: 'not-yet-made', toMakeMm: 0 });
    expect(await where('footageM=61.839&shoeMdM=22.5')).toMatchObject({ place: 'on-the-line', onTheLine: { pathMm: 1 } });
  });

  test('the steps end in the answer', async () => {
    const { explanation } = await where('footageM=140&explain=true');
    expect(explanation?.at(-1)?.result).toEqual({ name: 'path', value: 1840, unit: 'mm' });
    const wall = await where('footageM=60&explain=true');
    expect(wall.explanation?.map(({ result }) => result)).toContainEqual({ name: 'md', value: 58_660, unit: 'mm' });
    expect((await where('footageM=60')).explanation).toBeNull();
  });

  test('questions that cannot be answered', async () => {
    const of = async (query: string): Promise<unknown> => refusal(await engineer.send('GET', onMain(`whereabouts?${query}`)));
    expect(await of('at=now&depth=3')).toEqual({ status: 400, type: 'malformed', fields: ['depth', 'footageM', 'at'] });
    expect(await of(`footageM=1&shoeMdM=9&at=${timeOf(0)}`)).toEqual({ status: 400, type: 'malformed', fields: ['shoeMdM'] });
    expect(await of(`footageM=1&at=${BEFORE}`)).toEqual({ status: 422, type: 'before-the-first-reading', fields: [] });
    expect(await of('footageM=1&shoeMdM=1')).toEqual({ status: 422, type: 'above-the-hang-off', fields: [] });
    const nobody = await engineer.send('GET', `/api/casing-strings/${uuidv7()}/whereabouts?footageM=1`);
    expect(refusal(nobody)).toEqual({ status: 404, type: 'not-found', fields: [] });
  });
});

describe('recall', () => {
  const recall = (query: string): Promise<RecallAnswer> => asked(`/api/recall?${query}`);
  const stringNamed = (answer: RecallAnswer, name: string): RecalledString | undefined => answer.strings.find(({ string }) => string.id === ids[name]);
  const interval = (fromMm: number, toMm: number): object => ({ fromMm, toMm });

  test('a heat: its one coil, in both walls, certainly and possibly', async () => {
    const answer = await recall(`heatId=${ids['heat2'] ?? ''}`);
    expect(answer.asked).toMatchObject({ by: 'heat', record: { id: ids['heat2'], label: 'H40712' } });
    const main = stringNamed(answer, 'main');
    expect(main?.footage).toEqual({
      certain: [interval(63_120, 100_840)], nominal: [interval(63_080, 100_840)], possible: [interval(63_040, 100_840)], nominalMm: 37_760,
    });
    // The boundary with C001 carries √(5² + 20²) = 20.616; shoe and the end of the coil 5.
    expect(main?.walls).toEqual([
      { wall: 'outer', certain: [interval(61_782, 62_490)], nominal: [interval(61_740, 62_500)], possible: [interval(61_698, 62_510)], nominalMm: 760 },
      { wall: 'inner', certain: [interval(25_510, 62_490)], nominal: [interval(25_500, 62_500)], possible: [interval(25_490, 62_510)], nominalMm: 37_000 },
    ]);
    expect(main?.elsewhere).toEqual([]);
    expect(main?.inspections).toMatchObject({ total: 1, truncated: false, links: [{ id: ids['inspection'] }] });
    expect(main?.openNonconformances).toMatchObject({ total: 1, links: [{ id: ids['nonconformance'], label: 'NC-0001' }] });
  });

  test('a coil on two strings: walls, line, what is not yet made, and the rest of its strip', async () => {
    const answer = await recall(`coilId=${ids['C003'] ?? ''}`);
    const main = stringNamed(answer, 'main');
    expect(main?.walls.map(({ wall, nominal }) => ({ wall, nominal }))).toEqual([
      { wall: 'outer', nominal: [] }, { wall: 'inner', nominal: [interval(2500, 25_500)] },
    ]);
    expect(main?.elsewhere).toEqual([
      { place: 'on-the-line', footage: [interval(123_840, 141_840)], totalMm: 18_000 },
      { place: 'not-yet-made', footage: [interval(141_840, 161_170)], totalMm: 19_330 },
    ]);
    const other = stringNamed(answer, 'other');
    expect(other).toMatchObject({
      footage: { nominal: [interval(0, 20_000)] }, walls: [], shoe: null, notLocated: { code: 'no-hang-off', detail: 'this string has no hang-off yet' },
      elsewhere: [{ place: 'on-the-line', totalMm: 20_000 }],
    });
    expect(answer.coils).toMatchObject([{
      coil: { label: 'LM-03' }, lengthMm: 90_330, basis: 'as stated', usedMm: 80_330, restMm: 10_000, unaccountedMm: 0, notUsed: [interval(80_330, 90_330)],
    }]);
  });

  test('a certificate, and a heat of two coils on either side of another', async () => {
    const certificate = await recall(`certificateId=${ids['certificate'] ?? ''}`);
    expect(stringNamed(certificate, 'main')?.footage.nominal).toEqual([interval(63_080, 100_840)]);
    const heat = stringNamed(await recall(`heatId=${ids['heat1'] ?? ''}`), 'main');
    expect(heat?.footage.nominal).toEqual([interval(0, 63_080), interval(100_840, 161_170)]);
    expect(heat?.elsewhere.map(({ place, totalMm }) => [place, totalMm])).toEqual([
      ['on-the-line', 18_000], ['lead-end', 2840], ['cut-out', 1000], ['not-yet-made', 19_330],
    ]);
  });

  test('a person: placed work with its footage, other work counted', async () => {
    const own = await recall(`personId=${inspector.personId}`);
    expect(stringNamed(own, 'main')?.concerned).toMatchObject([{ record: { kind: 'inspection', id: ids['inspection'] }, footage: interval(70_000, 71_000) }]);
    expect(own.others).toEqual([]);
    const engineers = await recall(`personId=${engineer.personId}`);
    const kinds = stringNamed(engineers, 'main')?.concerned.map(({ record }) => record.kind);
    expect(new Set(kinds)).toEqual(new Set(['splice', 'cut-out', 'coil-segment']));
    expect(engineers.others.find(({ kind }) => kind === 'counter-reading')).toMatchObject({ total: 8, truncated: false });
    expect(engineers.others.find(({ kind }) => kind === 'coil-segment')).toMatchObject({ total: 4 });
  });

  test('a splice, and a nonconformance of strip', async () => {
    const splice = stringNamed(await recall(`spliceId=${ids['splice'] ?? ''}`), 'main');
    expect(splice?.walls[0]).toMatchObject({ wall: 'outer', nominal: [interval(61_740, 61_741)], certain: [], possible: [interval(61_730, 61_751)] });
    const strip = await recall(`nonconformanceId=${ids['nonconformance'] ?? ''}`);
    const main = stringNamed(strip, 'main');
    expect(main?.footage.nominal).toEqual([interval(73_080, 83_080)]);
    expect(main?.walls[1]?.nominal).toEqual([interval(43_260, 53_260)]);
    expect(main?.openNonconformances.total).toBe(0);
    expect(strip.coils).toMatchObject([{ coil: { label: 'LM-02' } }]);
  });

  test('a counter period: all pipe made while it held, and the readings in it', async () => {
    const answer = await recall(`counterPeriodId=${ids['period'] ?? ''}`);
    expect(stringNamed(answer, 'main')?.footage.nominal).toEqual([interval(0, 141_840)]);
    expect(answer.others).toMatchObject([{ kind: 'counter-reading', total: 4 }]);
    const other = await recall(`counterPeriodId=${ids['checkPeriod'] ?? ''}`);
    expect([other.strings, other.others[0]?.total]).toEqual([[], 2]);
  });

  test('as known before the nonconformance was entered', async () => {
    const then = await recall(`heatId=${ids['heat2'] ?? ''}&asKnownAt=${knownBefore}`);
    expect(stringNamed(then, 'main')).toMatchObject({ openNonconformances: { total: 0 }, inspections: { total: 1 } });
    const unknown = await engineer.send('GET', `/api/recall?nonconformanceId=${ids['nonconformance'] ?? ''}&asKnownAt=${knownBefore}`);
    expect(refusal(unknown)).toEqual({ status: 404, type: 'not-found', fields: [] });
  });

  test('before the string hung, and before any reading: footage, and why no depths', async () => {
    const early = stringNamed(await recall(`spliceId=${ids['splice'] ?? ''}&at=${timeOf(10)}`), 'main');
    expect(early).toMatchObject({ walls: [], notLocated: { code: 'before-the-hang-off' }, elsewhere: [{ place: 'not-yet-made', totalMm: 1 }] });
    const earlier = stringNamed(await recall(`spliceId=${ids['splice'] ?? ''}&at=${BEFORE}`), 'main');
    expect(earlier).toMatchObject({ walls: [], elsewhere: [], footage: { nominal: [interval(63_080, 63_081)] } });
  });

  test('anything but exactly one record', async () => {
    const of = async (query: string): Promise<unknown> => refusal(await engineer.send('GET', `/api/recall?${query}`));
    expect(await of('')).toEqual({ status: 400, type: 'malformed', fields: ['heatId'] });
    expect(await of(`heatId=${uuidv7()}&coilId=${uuidv7()}`)).toEqual({ status: 400, type: 'malformed', fields: ['coilId'] });
    expect(await of('coilId=LM-01')).toEqual({ status: 400, type: 'malformed', fields: ['coilId'] });
    expect(await of(`heatId=${uuidv7()}`)).toEqual({ status: 404, type: 'not-found', fields: [] });
  });
});

describe('reconciliation', () => {
  const reconciliation = (query = ''): Promise<ReconciliationAnswer> => asked(onMain(`reconciliation${query}`));

  test('three sums that agree to the millimetre', async () => {
    const { sums, differences, notSummed, tie, at, elongation } = await reconciliation();
    expect(sums.map(({ name, mm, plusMinusMm }) => ({ name, mm, plusMinusMm }))).toEqual([
      // u = √(158.95² + 190.08² + 225.83² + 17.60²): three coils, and the elongation
      { name: 'strip consumed', mm: 141_840, plusMinusMm: 672 },
      { name: 'pipe made', mm: 141_840, plusMinusMm: 0 },
      // u = (1 + 1/λ) · 5
      { name: 'pipe in place', mm: 141_840, plusMinusMm: 20 },
    ]);
    expect(sums[2]?.parts.map(({ mm }) => mm)).toEqual([2840, 60_000, 60_000, 18_000, 1000]);
    expect(differences.map(({ mm, exceeded, likelyCauses }) => ({ mm, exceeded, likelyCauses }))).toEqual(
      Array.from({ length: 3 }, () => ({ mm: 0, exceeded: false, likelyCauses: [] })),
    );
    expect({ notSummed, elongation, tie: tie?.id, at }).toEqual({ notSummed: [], elongation: 1, tie: ids['tie'], at: timeOf(141_840).replace('Z', '000Z') });
  });

  test('where the strip went, coil by coil', async () => {
    const { strip } = await reconciliation();
    expect(strip.map((use) => [use.coil.label, use.lengthMm, use.cropMm, use.restMm, use.onOtherStringsMm, use.notYetFormedMm, use.consumedMm])).toEqual([
      ['LM-01', 63_580, 500, 0, 0, 0, 63_080],
      ['LM-02', 37_760, 0, 0, 0, 0, 37_760],
      ['LM-03', 90_330, 0, 10_000, 20_000, 19_330, 41_000],
    ]);
  });

  test('ties, counters, strays, splices, gaps', async () => {
    const answer = await reconciliation();
    expect(answer.ties).toMatchObject([{ tie: { id: ids['tie'] }, netMm: 62_840, mdMm: 62_500, localLambda: 1, suspect: false, reconciliation: { mm: 0 } }]);
    expect(answer.counters).toMatchObject([
      { counter: 'check', steps: 1, exceededTotal: 1, overall: { masterMm: 141_840, otherMm: 141_982, differenceMm: 142, per100MMm: 100.1, exceeded: true } },
      { counter: 'spare', steps: 0, overall: null },
    ]);
    expect(answer.readingsOutsidePeriods).toMatchObject({ total: 1, links: [{ id: ids['stray'] }] });
    expect(answer.spliceCount).toMatchObject({
      coils: 3, splices: 1, agrees: false, withoutJoint: [],
      withoutSplice: [{ footageMm: 100_840, leaving: { label: 'LM-02' }, entering: { label: 'LM-03' } }],
    });
    expect(answer.segments.map(({ elongation, suspect }) => [elongation, suspect])).toEqual([[1, false], [1, false], [1, false]]);
    expect(answer.gaps).toEqual([]);
  });

  test('a string that does not hang: what cannot be summed, and the footage nothing covers', async () => {
    const answer = await asked<ReconciliationAnswer>(`/api/casing-strings/${ids['other'] ?? ''}/reconciliation`);
    expect(answer.sums.map(({ name, mm }) => [name, mm])).toEqual([['strip consumed', 20_000], ['pipe made', 25_000]]);
    expect(answer.notSummed).toMatchObject([{ name: 'pipe in place', code: 'no-shoe-tie' }]);
    expect(answer.differences).toMatchObject([{ mm: -5000, m: -5, exceeded: true }]);
    expect(answer.differences[0]?.likelyCauses).toContain('a coil that was not recorded');
    expect(answer.noTieReport).toMatchObject({ code: 'no-hang-off' });
    expect(answer.gaps).toEqual([{ fromMm: 20_000, toMm: 25_000 }]);
  });

  test('before the tie the counter alone says where the pipe is; steps on demand', async () => {
    const early = await reconciliation(`?at=${timeOf(60_000)}&explain=true`);
    expect(early).toMatchObject({ tie: null, notSummed: [{ name: 'pipe in place' }], sums: [{ mm: 60_000 }, { mm: 60_000 }] });
    expect(early.explanation?.map(({ result }) => result)).toContainEqual({ name: 'pipe made', value: 60_000, unit: 'mm' });
  });

  test('refusals', async () => {
    const of = async (query: string): Promise<unknown> => refusal(await engineer.send('GET', onMain(`reconciliation?${query}`)));
    expect(await of('at=soon&explain=yes')).toEqual({ status: 400, type: 'malformed', fields: ['at', 'explain'] });
    expect(await of(`at=${BEFORE}`)).toEqual({ status: 422, type: 'before-the-first-reading', fields: [] });
  });
});

describe('whose work a record is', () => {
  test('who corrects a counter is not recalled with every place that moved; who read them still is', async () => {
    const [reader, corrector] = [await api.signIn('qc-inspector'), await api.signIn('qc-inspector')];
    const stringId = await enter('corrected', 'casing-strings', stringOf('Lindmoor 2 trial'));
    const periodId = await enter('trial period', 'counter-periods', {
      stringId, observedAt: timeOf(0), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0',
    });
    const inspectionId = await enter('moved', 'inspections', {
      stringId, observedAt: timeOf(9000), from: { counterReading: '8000' }, kind: 'visual', characteristic: 'seam', verdict: 'accepted',
    }, reader);
    const correction = { body: { reason: 'Start footage taped again', startFootageMm: 100 }, headers: { 'if-match': '"1"' } };
    expect((await corrector.send('PATCH', `/api/counter-periods/${periodId}`, correction)).status).toBe(200);

    const readers = await asked<RecallAnswer>(`/api/recall?personId=${reader.personId}`);
    expect(readers.strings[0]?.concerned).toMatchObject([{ record: { id: inspectionId, version: 2 }, footage: { fromMm: 8100, toMm: 8101 } }]);
    const correctors = await asked<RecallAnswer>(`/api/recall?personId=${corrector.personId}`);
    expect(correctors).toMatchObject({ strings: [], others: [{ kind: 'counter-period', total: 1, links: [{ id: periodId }] }] });
    const resting = await asked<RecallAnswer>(`/api/recall?counterPeriodId=${periodId}`);
    expect(resting.strings[0]?.concerned).toMatchObject([{ record: { kind: 'inspection', id: inspectionId } }]);
  });

  test('a withdrawn record still answers, and says that it was withdrawn', async () => {
    const heatId = await enter('void heat', 'heats', { number: 'H40799', grade: 'S420MC' });
    const withdrawal = { body: { reason: 'Entered twice' }, headers: { 'if-match': '"1"' } };
    await engineer.send('POST', `/api/heats/${heatId}/void`, withdrawal);
    const { strings, cautions } = await asked<RecallAnswer>(`/api/recall?heatId=${heatId}`);
    expect([strings, cautions.at(-1)]).toEqual([[], 'The record recalled from is void: what it says was withdrawn.']);
  });

  test('more than 500 of a kind are counted, as known now and then', async () => {
    const reader = await api.signIn('qc-inspector');
    const stringId = ids['other'] ?? '';
    const readings = Array.from({ length: 501 }, (_, index) => ({
      id: uuidv7(), stringId, observedAt: timeOf(10_000 + index), counter: 'unused', reading: String(index),
    }));
    const sent = await reader.send<{ readings: { recordedAt: string }[] }>('POST', '/api/counter-readings/batch', { body: { readings } });
    expect(sent.status).toBe(201);
    for (const known of ['', `&asKnownAt=${sent.body.readings[0]?.recordedAt ?? ''}`]) {
      const { others } = await asked<RecallAnswer>(`/api/recall?personId=${reader.personId}${known}`);
      expect(others).toMatchObject([{ kind: 'counter-reading', total: 501, truncated: true }]);
      expect(others[0]?.links).toHaveLength(500);
    }
    const before = await asked<RecallAnswer>(`/api/recall?personId=${engineer.personId}&asKnownAt=${knownBefore}`);
    expect(before.others.find(({ kind }) => kind === 'counter-reading')).toMatchObject({ total: 8, truncated: false });
  });
});
