import { describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { entered, permitted } from '../setup/string-builder.js';
import { at, lineFactory, type Fields } from './line.factory.js';

const { engineer, stringId, post, made, amend, withdraw, setup, period, reading } = lineFactory();
let drawn = 0;

/** 400 mm by 5 mm strip of 15.7 kg to the metre. */
async function coil(lengthMm: number, cropMm: number): Promise<string> {
  const tag = `AR-${String((drawn += 1)).padStart(2, '0')}`;
  const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${tag}`, grade: 'S420MC' });
  const id = await entered(engineer(), 'coils', { observedAt: at('05:00'), number: tag, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: (lengthMm * 0.0157).toFixed(1), lengthMm, cropMm });
  await permitted(engineer(), id);
  return id;
}

const segment = (coilId: string, fromMm: number, toMm: number, stripFromMm: number, stripToMm: number): Promise<string> =>
  made('coil-segments', { observedAt: at('17:00'), stringId: stringId(), coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm, stripToMm, runs: 'head-first' });

const splice = (number: string, [leavingCoilId, enteringCoilId]: readonly [string, string], clock: string, from: Fields, changes: Fields = {}): Promise<string> => made('splices', {
  observedAt: at(clock), stringId: stringId(), number, leavingCoilId, enteringCoilId, from, angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted', ...changes,
});

const sighting = (spliceId: string, station: string, clock: string): Promise<string> => made('splice-steps', {
  observedAt: at(clock), stringId: stringId(), spliceId, stage: 'station-sighting', station, outcome: 'accepted', readings: [], examinations: [], coupons: [], photoSha256s: [],
});

interface Arrivals {
  readonly splices: readonly Fields[];
  readonly next: Fields | null;
  readonly stations: readonly Fields[];
  readonly findings: readonly string[];
  readonly count: Fields;
  readonly weldPoint: Fields | null;
}

async function arrivals(query = ''): Promise<Arrivals> {
  const answer = await engineer().send<Fields>('GET', `/api/casing-strings/${stringId()}/splice-arrivals${query}`);
  expect(answer.status).toBe(200);
  return answer.body as unknown as Arrivals;
}

const stationOf = (arrival: Fields | undefined, name: string): Fields | undefined => (arrival?.['stations'] as Fields[]).find((one) => one['name'] === name);

/** 30 m of the first coil, 40 m of the second, 50 m of the third; the line ran on to 90 m. */
async function threeCoils(): Promise<readonly [string, string, string]> {
  await made('line-setups', setup());
  await made('counter-periods', period());
  for (const [clock, counted] of [['06:10', '0'], ['08:00', '18000'], ['09:00', '30000'], ['10:00', '36200'], ['15:00', '70000'], ['16:00', '77650'], ['17:00', '90000']] as const) {
    await made('counter-readings', reading(clock, counted));
  }
  return [await coil(30_600, 600), await coil(40_600, 600), await coil(50_000, 0)];
}

describe('the splices of a string', () => {
  test('are predicted by strip length and by the station upstream, then confirmed, and seen at each station', async () => {
    const [a, b, c] = await threeCoils();
    await segment(a, 0, 30_000, 300, 30_300);
    await segment(b, 30_000, 70_200, 300, 40_300);
    const first = await splice('S-1', [a, b], '09:00', { footageMm: 30_000, uMm: '5' });
    const second = await splice('S-2', [b, c], '13:30', { counterReading: '58000', station: 'strip splice' }, { confirmed: false });
    await sighting(first, 'strip splice', '08:00');
    await sighting(first, 'wall gauge', '10:00');
    const before = await arrivals();

    expect(before).toMatchObject({ weldPoint: { footageMm: 90_000, at: '2026-03-02T17:00:00.000000Z' }, count: { coilRuns: 2, splices: 2, agrees: false } });
    const [one, two] = before.splices;
    // 2 √((30 000 · 0.02/√3)² + (30 600 · 0.0025)² + (0.0005 · 30 000)²) = 710.15 about 29 999.5: the weld takes 1 mm.
    expect(one).toMatchObject({
      splice: { id: first }, byStripLength: { gate: { fromMm: 29_289, toMm: 30_711 } }, confirmed: { isInGate: true, outsideMm: 0, plusMinusMm: 10 }, atWeldPoint: 'past',
      // 18 000 + 12 000, over a loop of ± 2 m, ± 2 · 5.
      byStationsUpstream: [{ station: 'strip splice', from: 'sighting', expected: { bestMm: 30_000, gate: { fromMm: 27_990, toMm: 32_011 } } }],
    });
    // 2 √(5² + 3² + (0.0005 · 6200)²) = 13.19.
    expect(stationOf(one, 'wall gauge')).toMatchObject({
      expected: { bestMm: 36_200, gate: { fromMm: 36_186, toMm: 36_215 } }, state: 'past', isMissing: false,
      sightings: [{ weldFootageMm: 36_200, differenceMm: 0, plusMinusMm: 14, agrees: true }],
    });
    expect(stationOf(one, 'hang-off')).toMatchObject({ expected: { bestMm: 48_000 }, state: 'past', sightings: [], isMissing: true });
    // 2 √(5² + (40 600 · 0.0025)² + (40 000 · 0.0025)² + (0.0005 · 40 000)²) = 287.94: formed as the first coil, 1 for 1.
    expect(two).toMatchObject({
      byStripLength: { bestMm: 70_000, gate: { fromMm: 69_712, toMm: 70_289 } }, confirmed: null, confirmedBecause: 'it was not seen on the pipe', atWeldPoint: 'past',
      byStationsUpstream: [{ station: 'strip splice', from: 'place', expected: { bestMm: 70_000, gate: { fromMm: 67_990, toMm: 72_011 } } }],
    });
    expect(before.findings).toContain('splice S-2 is past the weld point, gate 69712 to 70288 mm, and its place was not confirmed');
    expect(before.findings).toContain('past hang-off without a sighting there on record: splice S-1');
    expect(before.next).toMatchObject({ byStripLength: null, byStripLengthBecause: expect.stringContaining('the place of splice S-2 into it is not confirmed'), atWeldPoint: 'not-known', stations: [] });

    const taken = await amend('splices', second, 1, { confirmed: true, from: { footageMm: 70_300, uMm: '5' } });
    expect(taken.status).toBe(200);
    const outside = await arrivals();
    expect(outside.splices[1]).toMatchObject({
      confirmed: { isInGate: false, outsideMm: 12 }, byStationsUpstream: [{ from: 'place', expected: { bestMm: 70_000 } }],
    });
    expect(outside.findings.join('\n')).toContain('splice S-2 is confirmed at 70300 mm, 12 mm behind its gate by strip length, 69712 to 70288 mm');

    await amend('splices', second, 2, { from: { footageMm: 70_200, uMm: '5' } });
    await segment(c, 70_200, 90_000, 0, 19_800);
    await sighting(second, 'wall gauge', '16:00');
    const found = await arrivals();
    expect(found.splices[1]).toMatchObject({ confirmed: { isInGate: true, span: { fromMm: 70_200 } } });
    // 77 650 − 6200 − 70 200.
    expect(stationOf(found.splices[1], 'wall gauge')).toMatchObject({ sightings: [{ differenceMm: 1_250, agrees: false }] });
    expect(found.findings.join('\n')).toContain('splice S-2 at wall gauge: seen 1250 mm later than the stated distance says');
    // 70 200 mm of pipe from 70 000 mm of strip: 50 000 mm more give 50 142.86.
    expect(found.next).toMatchObject({ splice: null, leavingCoil: { id: c }, byStripLength: { bestMm: 120_343 }, atWeldPoint: 'to-come' });
    expect(stationOf(found.next ?? undefined, 'strip splice')).toMatchObject({ expected: { bestMm: 108_343 }, isUpstream: true, isMissing: false });
    expect(found.findings).toContain('past hang-off without a sighting there on record: splice S-1, splice S-2');
    expect(found.count).toEqual({ coilRuns: 3, splices: 2, agrees: true });
    expect(found.stations).toEqual([
      { name: 'wall gauge', past: 2, due: 0, seen: 2, sightings: 2, agrees: true }, { name: 'hang-off', past: 2, due: 0, seen: 0, sightings: 0, agrees: false },
    ]);

    const record = await engineer().send<Fields>('GET', `/api/splices/${second}/record`);
    expect(record.body).toMatchObject({ arrival: found.splices[1], arrivalBecause: null, count: found.count });
    const { recordedAt } = taken.body;
    expect((await arrivals(`?asKnownAt=${encodeURIComponent(String(recordedAt))}`)).splices[1]).toMatchObject(outside.splices[1] ?? {});
  });

  test('a splice that was cut out before it came to a station is not missed there', async () => {
    const [a, b] = await threeCoils();
    const id = await splice('S-1', [a, b], '09:00', { footageMm: 30_000, uMm: '5' });
    await sighting(id, 'wall gauge', '10:00');
    await made('cut-outs', { observedAt: at('10:05'), stringId: stringId(), from: { footageMm: 29_900 }, to: { footageMm: 30_200 }, cause: 'Lapped edges', piece: 'P-1' });
    const found = await arrivals();
    expect(stationOf(found.splices[0], 'wall gauge')).toMatchObject({ state: 'past' });
    expect(stationOf(found.splices[0], 'hang-off')).toMatchObject({ state: 'cut-out', isMissing: false });
    expect(found.findings.filter((words) => words.includes('hang-off'))).toEqual([]);
  });

  test('missed and doubled ones are named: past the gate of a coil, between two coils, and twice for one joint', async () => {
    const [a, b, c] = await threeCoils();
    await segment(a, 0, 30_000, 300, 30_300);
    const alone = await arrivals();
    expect(alone.next).toMatchObject({ leavingCoil: { id: a }, atWeldPoint: 'past', byStripLength: { gate: { fromMm: 29_289, toMm: 30_712 } } });
    expect(alone.findings).toEqual([expect.stringMatching(/^missed: coil AR-\d+ should have run out between 29289 and 30711 mm, and 90000 mm are made without a splice on record$/)]);
    await segment(b, 30_000, 70_000, 300, 40_300);
    await segment(c, 70_000, 90_000, 0, 20_000);
    await splice('S-1', [a, b], '09:00', { footageMm: 30_000, uMm: '5' });
    expect((await arrivals()).findings.join('\n')).toMatch(/missed: at 70000 mm coil AR-\d+ follows coil AR-\d+, and no splice joins the two/);
    const twice = await splice('S-9', [a, b], '09:00', { footageMm: 30_500, uMm: '5' });
    const doubled = await arrivals();
    expect(doubled.findings).toContain('doubled: splices S-1 and S-9 join the same two coils');
    // The count agrees by accident: three runs, two splices.
    expect(doubled.count).toMatchObject({ agrees: true });
    await withdraw('splices', twice, 1);
    expect((await arrivals()).count).toMatchObject({ coilRuns: 3, splices: 1, agrees: false });
  });

  test('sightings off to one side at one station point to a change of the set-up', async () => {
    const [a, b, c] = await threeCoils();
    const [first, second] = [await splice('S-1', [a, b], '09:00', { footageMm: 28_000, uMm: '5' }), await splice('S-2', [b, c], '15:00', { footageMm: 69_450, uMm: '5' })];
    await sighting(first, 'wall gauge', '10:00');
    await sighting(second, 'wall gauge', '16:00');
    expect((await arrivals()).findings).toContain('all 2 sightings at wall gauge are off to the same side, by 2000 to 2000 mm: a change of the set-up may not be on record');
    // The station is where it was seen: the change comes on record.
    await made('line-setups', setup({ observedAt: at('05:45'), stations: [{ name: 'wall gauge', pathMinMm: 8_200, pathMaxMm: 8_200, uMm: '3' }] }));
    const found = await arrivals();
    expect(found.findings.filter((words) => words.includes('wall gauge'))).toEqual([]);
    expect(stationOf(found.splices[1], 'wall gauge')).toMatchObject({ sightings: [{ differenceMm: 0, agrees: true }] });
  });

  test('without readings, set-up or coils say what is missing', async () => {
    expect(await arrivals()).toMatchObject({ weldPoint: null, splices: [], next: null, findings: [], stations: [], count: { coilRuns: 0, splices: 0, agrees: true } });
    const [a, b] = [await coil(30_600, 600), await coil(40_600, 600)];
    await splice('S-1', [a, b], '09:00', { footageMm: 30_000 });
    expect(await arrivals()).toMatchObject({
      splices: [{ byStripLengthBecause: expect.stringContaining('no splice into it is on record, and it has no segment'), atWeldPoint: 'not-known', stations: [], stationsBecause: 'none, because no line set-up was in force' }],
      findings: [expect.stringContaining('the master counter has no reading with a footage'), expect.any(String), expect.any(String)],
    });
  });

  test('of a string that is not there, or asked wrongly, are refused', async () => {
    const ask = (id: string, query = '') => engineer().send('GET', `/api/casing-strings/${id}/splice-arrivals${query}`);
    expect(await ask(uuidv7())).toMatchObject({ status: 404 });
    expect(await ask('nothing')).toMatchObject({ status: 400 });
    expect(await ask(stringId(), '?asKnownAt=yesterday&at=2026-03-02T09:00:00Z')).toMatchObject({ status: 400, body: { errors: [{ field: 'at' }, { field: 'asKnownAt' }] } });
    expect(await ask(stringId(), '?asKnownAt=2020-01-01T00:00:00Z')).toMatchObject({ status: 404 });
    expect(await post('splice-arrivals', {})).toMatchObject({ status: 404 });
  });
});
