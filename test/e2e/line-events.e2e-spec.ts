import { beforeEach, describe, expect, test } from '@jest/globals';
import { entered } from '../setup/string-builder.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { engineer, stringId, post, made, amend, get, setup, period, continuing, reading, cutOut } = lineFactory();
let wall: string;
let seam: string;
let runId: string;

/**
 * 20 m at 2 m/min, ten minutes of standing, 2 m back, on at 2 m/min to 38 m and at 10 m/min to 48 m; the wall gauge is 6.2 m behind the
 * weld point.
 */
beforeEach(async () => {
  await made('line-setups', setup());
  await made('counter-periods', period());
  for (const [clock, counted] of [['06:10', '0'], ['06:20', '20000'], ['06:30', '20000'], ['06:31', '18000'], ['06:41', '38000'], ['06:42', '48000']] as const) {
    await made('counter-readings', reading(clock, counted));
  }
  wall = await made('channels', channel(stringId(), 'wall', { station: 'wall gauge', speedWindow: { fromMPerMin: '1', toMPerMin: '5' } }));
  seam = await made('channels', channel(stringId(), 'seam'));
  runId = await made('inspection-runs', inspectionRun(stringId(), [wall]));
});

async function samples(): Promise<void> {
  const uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }]));
  const parts = [
    [range(6_200, 20_000), '06:13:06', '06:20:00', 'forward'], [range(18_000, 20_000).reverse(), '06:30:00', '06:31:00', 'backward'],
    [range(18_000, 38_000), '06:31:00', '06:41:00', 'forward'], [range(38_000, 48_000), '06:41:00', '06:42:00', 'forward'],
  ] as const;
  for (const [index, [counter, from, to, direction]] of parts.entries()) {
    const part = { counter, values: { wall: counter.map((one) => 5 + (one % 7) / 100) }, firstAt: `2026-03-02T${from}Z`, lastAt: `2026-03-02T${to}Z`, direction };
    expect((await sendPart(engineer().send, uploadId, index + 1, part)).status).toBe(200);
  }
}

type Events = Record<'stops' | 'reversals' | 'readAgain' | 'speeds' | 'tails', Fields[]> & { readonly lastReadingAt: string };
const events = async (query = ''): Promise<Events> => (await get('casing-strings', `${stringId()}/line-events`, query)) as unknown as Events;
const tails = ({ tails: all }: Events): unknown[] => all.map(({ station, state, pipe, words }) => [station ?? null, state, ((pipe as Fields)['intervals'] as Fields[]).map(({ fromMm, toMm }) => [fromMm, toMm]), words]);

describe('the events of a line', () => {
  test('are stops, with what stood at each channel, and reversals, with what went back under it', async () => {
    const { stops, reversals, lastReadingAt } = await events();
    expect(lastReadingAt).toBe('2026-03-02T06:42:00.000000Z');
    expect(stops).toMatchObject([{ from: '2026-03-02T06:20:00.000000Z', until: '2026-03-02T06:30:00.000000Z', isOpen: false, seconds: 600, footageMm: 20_000, creptMm: 0 }]);
    expect(stops[0]?.['at']).toMatchObject([
      { channels: [{ id: seam }], pipe: { fromMm: 20_000, toMm: 20_001 }, plusMinusMm: 0 }, { station: 'wall gauge', channels: [{ id: wall }], pipe: { fromMm: 13_800, toMm: 13_801 }, plusMinusMm: 6 },
    ]);
    expect(reversals).toMatchObject([{ from: '2026-03-02T06:30:00.000000Z', until: '2026-03-02T06:31:00.000000Z', turnedMm: 20_000, backMm: 18_000, acrossPeriods: false }]);
    expect(reversals[0]?.['at']).toMatchObject([{ pipe: { fromMm: 18_000, toMm: 20_001 } }, { pipe: { fromMm: 11_800, toMm: 13_801 } }]);
    expect((await events('?stopS=601')).stops).toEqual([]);
    // At 2 m/min or slower the line stood until the last minute.
    expect((await events('?slowMPerMin=2')).stops).toMatchObject([{ seconds: 1_860, footageMm: 0, creptMm: 38_000 }]);
  });

  test('tell of pipe read more than once all looks, and which counts by the rule of the channel', async () => {
    await samples();
    const { readAgain } = await events();
    expect(readAgain).toMatchObject([{ channel: { id: wall }, interval: { fromMm: 11_800, toMm: 13_800 }, rule: 'best', counts: { direction: 'forward', from: '2026-03-02T06:31:00.000000Z', state: 'suspect' } }]);
    expect((readAgain[0]?.['others'] as Fields[]).map(({ run, direction, from }) => [(run as Fields)['id'], direction, from])).toEqual([
      [runId, 'forward', '2026-03-02T06:13:06.000000Z'], [runId, 'backward', '2026-03-02T06:30:00.000000Z'],
    ]);
  });

  test('tell which pipe went by too fast, by samples and by readings', async () => {
    await samples();
    const { speeds } = await events();
    expect(speeds).toMatchObject([
      { channel: { id: wall }, by: 'samples', side: 'too-fast', interval: { fromMm: 31_800, toMm: 41_800 }, from: '2026-03-02T06:41:00.000000Z', until: '2026-03-02T06:42:00.000000Z', window: '1 to 5 m/min' },
      { by: 'counter-readings', side: 'too-fast', interval: { fromMm: 31_800, toMm: 41_800 }, speedMPerMin: 10 },
    ]);
    expect(speeds[0]?.['speedMPerMin']).toBeCloseTo(10, 1);
    expect(await amend('inspection-runs', runId, 1, { endedAt: at('06:41') })).toMatchObject({ status: 200 });
    expect((await events()).speeds.map(({ by }) => by)).toEqual(['samples']);
    expect(await amend('channels', wall, 1, { speedWindow: { fromMPerMin: '3', toMPerMin: '20' } })).toMatchObject({ status: 200 });
    expect((await events()).speeds.filter(({ by }) => by === 'samples').map(({ side, interval }) => [side, (interval as Fields)['fromMm'], (interval as Fields)['toMm']])).toEqual([
      ['too-slow', 0, 13_800], ['too-slow', 11_800, 13_800], ['too-slow', 11_800, 31_800],
    ]);
  });

  test('end with the pipe that no channel has seen: not yet while a run goes on, or never unless another begins', async () => {
    expect(tails(await events())).toEqual([
      [null, 'never-inspected', [], 'As of now, the last 0 mm have not passed the weld point, and no run of the channel is on record.'],
      ['wall gauge', 'not-yet', [[41_800, 48_000]], 'As of now, the last 6200 mm have not passed wall gauge; a run of the channel goes on.'],
    ]);
    await made('cut-outs', cutOut('06:42', { footageMm: 45_000 }, { footageMm: 46_000 }));
    expect(await amend('inspection-runs', runId, 1, { endedAt: at('06:50'), endReason: 'String finished' })).toMatchObject({ status: 200 });
    const [, tail] = (await events()).tails;
    expect(tail).toMatchObject({ state: 'runs-ended', lastRun: { id: runId }, pipe: { lengthMm: 5_200, intervals: [{ fromMm: 41_800, toMm: 45_000 }, { fromMm: 46_000, toMm: 48_000 }] } });
    await made('channels', channel(stringId(), 'eddy', { station: 'eddy head' }));
    expect((await events()).tails.find(({ station }) => station === 'eddy head')).toMatchObject({ state: 'not-known', pipe: { lengthMm: 47_000 } });
  });

  test('say where a fall of the counter may be a correction, and refuse everything wrong with a question at once', async () => {
    await entered(engineer(), 'counter-periods', continuing({ observedAt: at('06:50'), previousEndReading: '47000' }));
    await entered(engineer(), 'counter-readings', reading('06:55', '0'));
    expect((await events()).reversals.map(({ turnedMm, backMm, acrossPeriods }) => [turnedMm, backMm, acrossPeriods])).toEqual([[20_000, 18_000, false], [48_000, 47_000, true]]);
    const refused = await engineer().send('GET', `/api/casing-strings/${stringId()}/line-events?slowMPerMin=-1&stopS=0&speed=2`);
    expect([refused.status, fieldsRefused(refused)]).toEqual([400, ['speed', 'slowMPerMin', 'stopS']]);
  });
});
