import { describe, expect, test } from '@jest/globals';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const {
  post, made, amend, withdraw, get, reasonsOf, rowsOf, setup, period, continuing, reading, seen, cutOut, hangOff, tie,
} = lineFactory();

const station = (name: string, role?: string): Fields => ({ name, role, pathMinMm: 100, pathMaxMm: 100, uMm: '1' });

describe('what a position rests on', () => {
  test('a corrected scale moves what was placed by the counter, in a new version that says why; the reading stays', async () => {
    await made('line-setups', setup());
    const periodId = await made('counter-periods', period());
    const first = await post('inspections', seen('09:00', { counterReading: '30000', station: 'wall gauge', uMm: '4' }));
    expect(first).toMatchObject({ status: 201, body: { footageFromMm: 23_800, footageToMm: 23_801, footageFromUMm: 5, predicted: false } });
    const id = first.body['id'] as string;

    expect(await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' })).toMatchObject({
      status: 200, body: { version: 2, scaleMmPerCount: '1.0100', startReading: '0', startFootageMm: 0, derivedStartFootageMm: 0 },
    });
    expect(await get('inspections', id)).toMatchObject({
      version: 2, footageFromMm: 24_100, from: { counterReading: '30000', station: 'wall gauge', uMm: '4' },
    });
    expect(await reasonsOf('inspections', id)).toEqual([
      null,
      `Position derived again because counter period ${periodId} was amended (version 2): ` +
        'footage [23800, 23801) mm became [24100, 24101) mm.',
    ]);
    expect(await get('inspections', id, `?asKnownAt=${String(first.body['recordedAt'])}`)).toMatchObject({ version: 1, footageFromMm: 23_800 });
  });

  test('a period that continues a corrected one moves with it, and so does what rests on it', async () => {
    const before = await made('counter-periods', period());
    const later = await made('counter-periods', continuing());
    expect(await get('counter-periods', before)).toMatchObject({
      version: 2, until: '2026-03-02T12:00:00.000000Z',
      reason: 'Closed by the next period, which begins at 2026-03-02T12:00:00.000000Z.',
    });
    const id = await made('inspections', seen('13:00', { counterReading: '5000' }));
    expect(await get('inspections', id)).toMatchObject({ footageFromMm: 65_000 });

    expect(await amend('counter-periods', before, 2, { scaleMmPerCount: '1.0050' })).toMatchObject({ status: 200 });
    expect(await get('counter-periods', later)).toMatchObject({
      version: 2, startFootageMm: null, previousEndReading: '60000', derivedStartFootageMm: 60_300,
    });
    expect(await get('inspections', id)).toMatchObject({ version: 2, footageFromMm: 65_300 });
  });

  test('a corrected station moves what was seen there, and a strip splice upstream is only predicted', async () => {
    const setupId = await made('line-setups', setup());
    await made('counter-periods', period());
    const gauged = await made('inspections', seen('09:00', { counterReading: '30000', station: 'wall gauge' }));
    const spliced = await post('inspections', seen('09:00', { counterReading: '30000', station: 'strip splice' }));
    // Half of the 4 m that the accumulator may store, over √3, and the 5 mm of the tape.
    expect(spliced.body).toMatchObject({ footageFromMm: 42_000, predicted: true });
    expect(spliced.body['footageFromUMm']).toBeCloseTo(Math.hypot(2000 / Math.sqrt(3), 5), 2);

    const stations = [{ name: 'wall gauge', pathMinMm: 6_400, pathMaxMm: 6_400, uMm: '3' }];
    expect(await amend('line-setups', setupId, 1, { stations })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:rested-on' } });
    expect(await get('inspections', gauged)).toMatchObject({ version: 1, footageFromMm: 23_800 });
    const kept = (setup()['stations'] as Fields[]).filter(({ name }) => name !== 'wall gauge');
    expect(await amend('line-setups', setupId, 1, { stations: [...kept, ...stations] })).toMatchObject({ status: 200 });
    expect(await get('inspections', gauged)).toMatchObject({ version: 2, footageFromMm: 23_600 });
  });

  test('a cut-out moves what was seen downstream of it afterwards, and nothing seen before', async () => {
    await made('line-setups', setup());
    await made('counter-periods', period());
    await made('counter-readings', reading('13:50', '68300'));
    const gauge = (counterReading: string): Fields => ({ counterReading, station: 'wall gauge' });
    const before = await made('inspections', seen('13:30', gauge('68000')));
    const after = await made('inspections', seen('15:00', gauge('70300')));
    const above = await made('inspections', seen('15:00', { counterReading: '70300' }));
    const cut = await post('cut-outs', cutOut('14:00', { footageMm: 66_000 }, { footageMm: 67_000 }));
    expect(cut).toMatchObject({ status: 201, body: { footageFromMm: 66_000, footageToMm: 67_000, marks: [] } });

    expect(await get('inspections', before)).toMatchObject({ version: 1, footageFromMm: 61_800 });
    expect(await get('inspections', after)).toMatchObject({ version: 2, footageFromMm: 63_100 });
    expect(await get('inspections', above)).toMatchObject({ version: 1, footageFromMm: 70_300 });

    expect(await withdraw('cut-outs', cut.body['id'] as string, 1)).toMatchObject({ status: 200, body: { state: 'void' } });
    expect(await get('inspections', after)).toMatchObject({ version: 3, footageFromMm: 64_100 });
  });

  test('cut-outs that meet move together without meeting each other', async () => {
    const periodId = await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '20000'));
    const lower = await made('cut-outs', cutOut('10:00', { counterReading: '10000' }, { counterReading: '11000' }));
    const upper = await made('cut-outs', cutOut('10:30', { counterReading: '11000' }, { counterReading: '12000' }));
    expect(await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' })).toMatchObject({ status: 200 });
    expect(await get('cut-outs', lower)).toMatchObject({ footageFromMm: 10_100, footageToMm: 11_110 });
    expect(await get('cut-outs', upper)).toMatchObject({ footageFromMm: 11_110, footageToMm: 12_120 });
  });

  test('a period that is rested on is not withdrawn; one that is not gives its time back to the one before', async () => {
    const before = await made('counter-periods', period());
    const later = await made('counter-periods', continuing());
    const refused = await withdraw('counter-periods', before, 2);
    expect(refused).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:rested-on' } });
    expect(await get('counter-periods', before)).toMatchObject({ state: 'active', version: 2 });

    const id = await made('inspections', seen('13:00', { counterReading: '60500' }));
    expect(await get('inspections', id)).toMatchObject({ footageFromMm: 120_500 });
    expect(await withdraw('counter-periods', later, 1)).toMatchObject({ status: 200 });
    expect(await get('counter-periods', before)).toMatchObject({ version: 3, until: null });
    expect(await get('inspections', id)).toMatchObject({ version: 2, footageFromMm: 60_500 });
  });

  test('what stays where it is says what it rests on now', async () => {
    const before = await made('counter-periods', period());
    const later = await made('counter-periods', continuing({ startReading: '60000' }));
    const id = await made('inspections', seen('13:00', { counterReading: '60500' }));
    expect(await get('inspections', id)).toMatchObject({ footageFromMm: 60_500, restsOn: [{ kind: 'counter-period', id: later }] });
    expect(await withdraw('counter-periods', later, 1)).toMatchObject({ status: 200 });
    expect(await get('inspections', id)).toMatchObject({
      version: 2, footageFromMm: 60_500, restsOn: [{ kind: 'counter-period', id: before }],
      reason: `Position derived again because counter period ${later} was withdrawn: it rests on counter-period ${before} now.`,
    });
  });

  test('a period amended to begin at another time takes the end of the one before with it', async () => {
    const before = await made('counter-periods', period());
    const later = await made('counter-periods', continuing());
    expect(await amend('counter-periods', later, 1, { observedAt: at('11:30') })).toMatchObject({ status: 200 });
    expect(await get('counter-periods', before)).toMatchObject({ until: '2026-03-02T11:30:00.000000Z' });
    expect(await amend('counter-periods', later, 2, { observedAt: at('12:10') })).toMatchObject({ status: 200 });
    expect(await get('counter-periods', before)).toMatchObject({ until: '2026-03-02T12:10:00.000000Z' });
  });
});

describe('what is refused', () => {
  test('an overlapping cut-out, with nothing written', async () => {
    await made('cut-outs', cutOut('10:00', { footageMm: 10_000 }, { footageMm: 11_000 }));
    const refused = await post('cut-outs', cutOut('10:30', { footageMm: 10_999 }, { footageMm: 12_000 }));
    expect(refused.status).toBe(409);
    expect(fieldsRefused(refused)).toEqual(['from']);
    expect(await rowsOf('cut_out')).toBe(1);
    expect(await post('cut-outs', cutOut('10:30', { footageMm: 11_000 }, { footageMm: 12_000 }))).toMatchObject({ status: 201 });
  });

  test('an overlapping counter period, with nothing written', async () => {
    await made('counter-periods', period());
    await made('counter-periods', continuing());
    const rows = await rowsOf('counter_period');
    const refused = await post('counter-periods', period({ observedAt: at('08:00') }));
    expect(refused.status).toBe(409);
    expect(fieldsRefused(refused)).toEqual(['observedAt']);
    expect(await rowsOf('counter_period')).toBe(rows);
  });

  test.each<[string, () => Fields, number, string]>([
    ['line-setups', () => setup({ stations: [station('gauge'), station('gauge')] }), 422, 'stations[1].name'],
    ['line-setups', () => setup({ stations: [station('a', 'hang-off'), station('b', 'hang-off')] }), 422, 'stations[1].role'],
    ['line-setups', () => setup({ stations: [{ ...station('a'), pathMaxMm: 99 }] }), 422, 'stations[0].pathMaxMm'],
    ['line-setups', () => setup({ stations: [{ ...station('a'), pathMaxMm: 1_000_001 }] }), 400, 'stations[0].pathMaxMm'],
    ['counter-periods', () => continuing(), 422, 'previousEndReading'],
    ['counter-periods', () => period({ startFootageMm: null }), 422, 'startFootageMm'],
    ['counter-periods', () => period({ previousEndReading: '5' }), 422, 'previousEndReading'],
    ['counter-periods', () => period({ until: at('06:00') }), 422, 'until'],
    ['counter-periods', () => period({ scaleMmPerCount: '0' }), 400, 'scaleMmPerCount'],
    ['cut-outs', () => cutOut('10:00', { footageMm: 2000 }, { footageMm: 2000 }), 422, 'to'],
    ['cut-outs', () => ({ ...cutOut('10:00', { footageMm: 2000 }, { footageMm: 2000 }), to: undefined }), 400, 'to'],
    ['hang-offs', () => ({ ...hangOff(), to: { footageMm: 3000 } }), 400, 'to'],
    ['hang-offs', () => ({ ...hangOff(), mdMm: 60_000 }), 422, 'mdMm'],
    ['shoe-ties', () => tie({ place: { footageMm: 10, station: 'gauge' } }), 400, 'place.station'],
    ['shoe-ties', () => tie({ place: { counterReading: '10' } }), 422, 'place.counterReading'],
    ['shoe-ties', () => tie({ shoeMdMm: -1 }), 400, 'shoeMdMm'],
  ])('%s %#', async (path, content, status, field) => {
    const refused = await post(path, content());
    expect({ status: refused.status, fields: fieldsRefused(refused) }).toEqual({ status, fields: [field] });
  });

  test('a second set-up from the same time, a second hang-off, a second tie at the same time', async () => {
    const twice: [string, () => Fields, string][] = [
      ['line-setups', () => setup(), 'observedAt'], ['hang-offs', hangOff, 'stringId'], ['shoe-ties', () => tie(), 'observedAt'],
    ];
    for (const [path, content, field] of twice) {
      await made(path, content());
      const refused = await post(path, content());
      expect({ path, status: refused.status, fields: fieldsRefused(refused) }).toEqual({ path, status: 409, fields: [field] });
    }
  });
});

describe('what is asked about once', () => {
  test('a scale 3 % off, and a start below the footage reached', async () => {
    await made('counter-periods', period());
    await made('counter-readings', reading('11:50', '60000'));
    expect(fieldsRefused(await post('counter-periods', continuing({ scaleMmPerCount: '1.0300' })))).toEqual(['scaleMmPerCount']);
    const low = period({ observedAt: at('12:00'), startFootageMm: 59_000 });
    const asked = await post('counter-periods', low);
    expect(asked).toMatchObject({ status: 422, body: { errors: [{ field: 'startFootageMm', value: '59000' }] } });
    const confirm = (asked.body['errors'] as Fields[]).map((error) => error['confirm']);
    expect(await post('counter-periods', { ...low, confirm })).toMatchObject({
      status: 201, body: { marks: [{ kind: 'confirmed-implausible', field: 'startFootageMm' }] },
    });
  });

  test('a reversal of 50 m is taken, a longer one is asked about, and so is a jump faster than 250 m/min', async () => {
    await made('counter-periods', period());
    await made('counter-readings', reading('10:00', '100000'));
    expect(await post('counter-readings', reading('10:10', '50000'))).toMatchObject({ status: 201, body: { reading: '50000', marks: [] } });
    // The metre seen before the line backed up is the metre seen again.
    for (const clock of ['09:50', '10:10']) {
      const id = await made('inspections', seen(clock, { counterReading: '50000' }));
      expect(await get('inspections', id)).toMatchObject({ footageFromMm: 50_000 });
    }
    expect(fieldsRefused(await post('counter-readings', reading('10:20', '-1')))).toEqual(['reading']);
    expect(fieldsRefused(await post('counter-readings', reading('10:11', '300001')))).toEqual(['reading']);
    expect(await post('counter-readings', reading('10:11', '300000'))).toMatchObject({ status: 201 });
  });

  test('a cut-out above the weld point or in the well', async () => {
    await made('line-setups', setup());
    await made('counter-periods', period());
    await made('hang-offs', hangOff());
    await made('counter-readings', reading('09:00', '50000'));
    await made('counter-readings', reading('10:10', '51000'));
    const spanned = (fromMm: number, toMm: number): Fields => cutOut('10:00', { footageMm: fromMm }, { footageMm: toMm });
    expect(fieldsRefused(await post('cut-outs', spanned(50_500, 51_001)))).toEqual(['to']);
    expect(fieldsRefused(await post('cut-outs', spanned(31_999, 33_000)))).toEqual(['from']);
    expect(await post('cut-outs', spanned(32_000, 33_000))).toMatchObject({ status: 201 });
  });

  test('a shoe that rose, and a shoe where the pipe made cannot have brought it', async () => {
    await made('line-setups', setup());
    await made('hang-offs', hangOff());
    // n = n_h + x + D (1 + 1/λ) with n_h = 2.84 m, x = 18 m, D = 60 m, λ = 0.985: 141.754 m.
    expect(await post('shoe-ties', tie({ place: { footageMm: 141_754 } }))).toMatchObject({ status: 201, body: { weldFootageMm: 141_754, marks: [] } });
    const later = { observedAt: at('18:00'), place: { footageMm: 150_000 } };
    expect(fieldsRefused(await post('shoe-ties', tie({ ...later, shoeMdMm: 61_499 })))).toEqual(['shoeMdMm']);
    expect(fieldsRefused(await post('shoe-ties', tie({ ...later, shoeMdMm: 90_000 })))).toEqual(['shoeMdMm']);
    expect(await post('shoe-ties', tie({ ...later, shoeMdMm: 66_500 }))).toMatchObject({ status: 201 });
  });
});

describe('shoe ties', () => {
  test('their footage follows the counter', async () => {
    const periodId = await made('counter-periods', period());
    const id = await made('shoe-ties', tie({ place: { counterReading: '140000' } }));
    expect(await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0010' })).toMatchObject({ status: 200 });
    expect(await get('shoe-ties', id)).toMatchObject({
      version: 2, weldFootageMm: 140_140, place: { counterReading: '140000' }, restsOn: [{ kind: 'counter-period', id: periodId }],
    });
  });
});
