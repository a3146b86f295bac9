import { beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { SignalStrokes } from '../../apps/api/src/signals/signal-strokes.service.js';
import { SignalTracks } from '../../apps/api/src/signals/signal-tracks.service.js';
import { fieldsRefused, lineFactory } from './line.factory.js';
import { arrowPart, channel, digestOfBytes, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { api, engineer, stringId, post, made, amend, period } = lineFactory();
let wall: string;
let runId: string;
let uploadId: string;

beforeEach(async () => {
  await made('counter-periods', period());
  wall = await made('channels', channel(stringId(), 'wall'));
  runId = await made('inspection-runs', inspectionRun(stringId(), [wall]));
  uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }]));
});

const part = (from: number, to: number, value: (at: number) => number = (at) => 5 + (at % 7) / 100) => ({
  counter: range(from, to), values: { wall: range(from, to).map(value) }, firstAt: '2026-03-02T06:10:00Z', lastAt: '2026-03-02T06:11:00Z',
});
const send = (no: number, given: Parameters<typeof sendPart>[3]): ReturnType<typeof sendPart> => sendPart(engineer().send, uploadId, no, given);

async function stored(): Promise<{ footageMm: number[]; values: number[] }> {
  const strokes = await api().app.get(SignalStrokes).of(stringId(), wall, null, null);
  const [footageMm, values]: [number[], number[]] = [[], []];
  for (const { blocks } of strokes) {
    for await (const block of blocks) {
      footageMm.push(...block.positionsMm);
      values.push(...block.values);
    }
  }
  return { footageMm, values };
}

describe('an upload of samples', () => {
  test('is taken part by part, in any order, and each part once', async () => {
    const [one, two] = [part(0, 5_000), part(5_000, 9_000)];
    expect(await send(2, two)).toMatchObject({ status: 200, body: { isNew: true, partNo: 2, samples: 4_000, narrowed: 0, notices: { outsideRun: false, inFuture: false } } });
    expect(await send(1, one)).toMatchObject({ status: 200, body: { isNew: true } });
    const again = await Promise.all([send(1, one), send(1, one), send(2, two)]);
    expect(again.map(({ status, body }) => [status, body['isNew']])).toEqual([[200, false], [200, false], [200, false]]);
    expect(await engineer().send('GET', `/api/signal-uploads/${uploadId}`)).toMatchObject({ status: 200, body: { parts: [{ from: 1, to: 2 }], samples: 9_000, endedWith: null } });
    const { footageMm, values } = await stored();
    expect(footageMm).toEqual([...range(5_000, 9_000), ...range(0, 5_000)]);
    expect(values).toEqual(footageMm.map((at) => Math.fround(5 + (at % 7) / 100)));
  });

  test('refuses another content under the number of a part, and a part whose bytes are others than said', async () => {
    await send(1, part(0, 100));
    expect(await send(1, part(0, 101))).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:other-content' } });
    expect(await send(1, { ...part(0, 100), lastAt: '2026-03-02T06:12:00Z' })).toMatchObject({ status: 409 });
    const bytes = arrowPart(part(100, 200));
    const damaged = await engineer().send('PUT', `/api/signal-uploads/${uploadId}/parts/2?firstAt=2026-03-02T06:10:00Z&lastAt=2026-03-02T06:11:00Z`, {
      body: Buffer.from(bytes.subarray(0, bytes.length - 1)), headers: { 'content-type': 'application/vnd.apache.arrow.stream', 'content-digest': digestOfBytes(bytes) },
    });
    expect([damaged.status, fieldsRefused(damaged)]).toEqual([400, ['Content-Digest']]);
    expect((await stored()).values).toHaveLength(100);
  });

  test('is taken in CSV and in lines of JSON as in Arrow; nothing read and bounds are told as such', async () => {
    const amplitude = await made('channels', channel(stringId(), 'amplitude', {
      measures: 'ultrasonic-amplitude', unit: '%', threshold: { sense: 'above', level: '50' }, saturatesAt: { high: '100', low: null }, plausible: { from: '-20', to: '120' },
    }));
    const run = await made('inspection-runs', inspectionRun(stringId(), [amplitude], { observedAt: '2026-03-02T07:00:00Z' }));
    const texts = [
      ['text/csv', 'counter,amp\n10,12.5\n11,\n12,>= 100\n13,-999\n14,100\n'],
      ['application/x-ndjson', '{"counter":20,"amp":12.5}\n{"counter":21,"amp":null}\n{"counter":22,"amp":"≥ 100"}\n{"counter":23,"amp":-999}\n{"counter":24,"amp":100}\n'],
    ] as const;
    const id = await openUpload(post, upload(run, [{ column: 'amp', channelId: amplitude }]));
    for (const [index, [type, text]] of texts.entries()) {
      const bytes = Buffer.from(text);
      const answer = await engineer().send('PUT', `/api/signal-uploads/${id}/parts/${index + 1}?firstAt=2026-03-02T07:10:00Z&lastAt=2026-03-02T07:10:01Z`, {
        body: bytes, headers: { 'content-type': type, 'content-digest': digestOfBytes(bytes) },
      });
      expect(answer).toMatchObject({ status: 200, body: { samples: 5 } });
    }
    const strokes = await api().app.get(SignalStrokes).of(stringId(), amplitude, null, null);
    const blocks = (await Promise.all(strokes.map(async ({ blocks: all }) => { const own = []; for await (const block of all) own.push(block); return own; }))).flat();
    expect(blocks.map(({ positionsMm, values, bounds }) => [[...positionsMm], [...values], [...(bounds ?? [])]])).toEqual([10, 20].map((from) => [
      range(from, from + 5), [12.5, NaN, 100, NaN, 100], [0, 0, 1, 0, 1],
    ]));
  });

  test('ends when all its parts are here, and takes none after that', async () => {
    await send(2, part(100, 200));
    const end = (partCount: number) => engineer().send('POST', `/api/signal-uploads/${uploadId}/end`, { body: { partCount } });
    expect(await end(2)).toMatchObject({ status: 409, body: { errors: [{ field: 'partCount', limit: 'parts 1 to 2, and no others; here: 2' }] } });
    await send(1, part(0, 100));
    expect(await end(2)).toMatchObject({ status: 200, body: { endedWith: 2 } });
    expect(await end(2)).toMatchObject({ status: 200, body: { endedWith: 2 } });
    expect(await end(3)).toMatchObject({ status: 409 });
    expect(await send(3, part(200, 300))).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:ended' } });
    expect(await send(1, part(0, 100))).toMatchObject({ status: 200 });
  });

  test('is opened once under its id, for channels of its run, with each column and channel once', async () => {
    const other = await made('channels', channel(stringId(), 'other'));
    const body = { id: uploadId, ...upload(runId, [{ column: 'wall', channelId: wall }]) };
    expect(await post('signal-uploads', body)).toMatchObject({ status: 201 });
    expect(await post('signal-uploads', { ...body, decimals: 1 })).toMatchObject({ status: 409 });
    const refused = async (changes: object): Promise<unknown> => {
      const answer = await post('signal-uploads', { ...body, id: uuidv7(), ...changes });
      return [answer.status, fieldsRefused(answer)];
    };
    expect(await refused({ columns: [{ column: 'wall', channelId: other }] })).toEqual([422, ['columns[0].channelId']]);
    expect(await refused({ columns: [{ column: 'counter', channelId: wall }] })).toEqual([400, ['columns[0].column']]);
    expect(await refused({ columns: [{ column: 'a', channelId: wall }, { column: 'a', channelId: wall }] })).toEqual([400, ['columns[1].column', 'columns[1].channelId']]);
    expect(await refused({ position: 'time', decimals: 2 })).toEqual([400, ['decimals']]);
    expect(await refused({ runId: uuidv7() })).toEqual([422, ['runId']]);
  });

  test('keeps its channels in its run', async () => {
    const other = await made('channels', channel(stringId(), 'other'));
    expect(await amend('inspection-runs', runId, 1, { channelIds: [wall, other] })).toMatchObject({ status: 200 });
    const lost = await amend('inspection-runs', runId, 2, { channelIds: [other] });
    expect([lost.status, fieldsRefused(lost)]).toEqual([422, ['channelIds']]);
    expect(await amend('inspection-runs', runId, 2, { channelIds: [wall] })).toMatchObject({ status: 200 });
  });

  test('a line computer sends what its own counters place, to its own string', async () => {
    const administrator = await api().signIn('administrator');
    const device = async (counters: string[], ofString: string): Promise<string> => {
      const id = uuidv7();
      await administrator.send('POST', '/api/devices', { body: { id, stringId: ofString, name: `Line computer ${id}`, counters, expiresAt: '2036-01-01T00:00:00Z', active: true, observedAt: '2026-03-02T05:00:00Z' } });
      const { body } = await administrator.send<{ token: string }>('POST', `/api/devices/${id}/tokens`);
      return body.token;
    };
    const counter = String((await engineer().send('GET', `/api/inspection-runs/${runId}`)).body['counter']);
    const own = await device([counter], stringId());
    const strange = await device(['another'], stringId());
    const as = (token: string): typeof api extends () => infer A ? (A extends { send: infer S } ? S : never) : never =>
      ((method: never, path: never, options: { headers?: object } = {}) => api().send(method, path, { ...options, headers: { ...options.headers, authorization: `Bearer ${token}` } })) as never;
    expect(await sendPart(as(own), uploadId, 1, part(0, 10))).toMatchObject({ status: 200 });
    expect(await sendPart(as(strange), uploadId, 2, part(10, 20))).toMatchObject({ status: 403, body: { errors: [{ field: 'counter' }] } });
    expect(await as(own)('GET', `/api/signal-uploads/${uploadId}`)).toMatchObject({ status: 200, body: { samples: 10 } });
    expect(await as(own)('GET', `/api/channels/${wall}`)).toMatchObject({ status: 403 });
    expect(await amend('inspection-runs', runId, 1, { counter: 'another' })).toMatchObject({ status: 200 });
    expect(await sendPart(as(own), uploadId, 2, part(10, 20))).toMatchObject({ status: 403, body: { errors: [{ field: 'counter' }] } });
    expect(await sendPart(as(strange), uploadId, 2, part(10, 20))).toMatchObject({ status: 200 });
  });
});

describe('samples along the pipe', () => {
  test('follow a correction of the counter that placed them', async () => {
    await send(1, part(0, 2_000));
    const [{ id, version }] = (await engineer().send<{ items: { id: string; version: number }[] }>('GET', `/api/counter-periods?stringId=${stringId()}`)).body.items as [{ id: string; version: number }];
    expect(await amend('counter-periods', id, version, { scaleMmPerCount: '2' })).toMatchObject({ status: 200 });
    expect((await stored()).footageMm).toEqual(range(0, 4_000, 2));
  });

  test('halfway between two millimetres go to the upper one, sample by sample', async () => {
    await send(1, part(0, 2_000));
    const [{ id, version }] = (await engineer().send<{ items: { id: string; version: number }[] }>('GET', `/api/counter-periods?stringId=${stringId()}`)).body.items as [{ id: string; version: number }];
    // 0.7 mm a count has no double of its own: each fifth sample lies halfway but for what rounding leaves.
    for (const [nth, scaleMmPerCount] of ['0.5', '0.7', '0.333'].entries()) {
      expect(await amend('counter-periods', id, version + nth, { scaleMmPerCount })).toMatchObject({ status: 200 });
      expect((await stored()).footageMm).toEqual(range(0, 2_000).map((at) => Math.round(at * Number(scaleMmPerCount))));
    }
  });

  test('whose counter read nonsense stand in nobody\'s way', async () => {
    await send(1, part(0, 5_000));
    const wild = [5_000, 5_001, 2 ** 51, 2 ** 52];
    await send(2, { counter: wild, values: { wall: wild.map(() => 5) }, firstAt: '2026-03-02T06:11:00Z', lastAt: '2026-03-02T06:12:00Z' });
    expect((await stored()).footageMm).toEqual(range(0, 5_002));
    const [track] = await api().app.get(SignalTracks).of(stringId(), wall, null);
    expect(track?.read.toMultirange()).toBe('{[0,5002)}');
    const asked = `/api/casing-strings/${stringId()}`;
    expect((await engineer().send('GET', `${asked}/signal-view?channelId=${wall}&fromM=0&toM=10&widthPx=2`)).body).toMatchObject({ columns: { samples: [5_000, 2] } });
    expect((await engineer().send('GET', `${asked}/strip-chart.svg?fromM=0&toM=10`)).status).toBe(200);
  });

  test('that bring the time rise in it also where the pipe went back', async () => {
    const id = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }], { positionColumn: 'time', position: 'time' }));
    const sendTimes = async (no: number, seconds: readonly number[]): Promise<unknown> => {
      const bytes = Buffer.from(`time,wall\n${seconds.map((second) => `2026-03-02T06:10:0${second}Z,5\n`).join('')}`);
      const { status, body } = await engineer().send('PUT', `/api/signal-uploads/${id}/parts/${no}?direction=backward`, { body: bytes, headers: { 'content-type': 'text/csv', 'content-digest': digestOfBytes(bytes) } });
      return [status, body['direction'] ?? body['type']];
    };
    expect(await sendTimes(1, [1, 2, 3])).toEqual([200, 'backward']);
    expect(await sendTimes(2, [6, 5, 4])).toEqual([422, 'urn:everymetre:problem:part-wrong-order']);
  });

  test('read backward are a stroke of their own, and what they speak for is known to the millimetre', async () => {
    await send(1, part(0, 5_000));
    await send(2, { ...part(0, 0), counter: range(3_000, 5_000).reverse(), values: { wall: range(3_000, 5_000).reverse().map((at) => (at === 3_999 ? -999 : 5)) }, direction: 'backward', firstAt: '2026-03-02T06:11:00Z', lastAt: '2026-03-02T06:12:00Z' });
    await send(3, { ...part(3_000, 6_000), firstAt: '2026-03-02T06:12:00Z', lastAt: '2026-03-02T06:13:00Z' });
    const strokes = await api().app.get(SignalStrokes).of(stringId(), wall, { fromMm: 2_990, toMm: 3_010 }, null);
    const footages = [];
    for (const { blocks, backward } of strokes) for await (const { positionsMm } of blocks) footages.push([backward, positionsMm[0], positionsMm.at(-1)]);
    expect(footages).toEqual([[false, 2_990, 3_009], [true, 3_000, 3_009], [false, 3_000, 3_009]]);
    const tracks = await api().app.get(SignalTracks).of(stringId(), wall, null);
    expect(tracks.map(({ read }) => read.toMultirange())).toEqual(['{[0,5000)}', '{[3000,3999),[4000,5000)}', '{[3000,6000)}']);
    expect(tracks.map(({ pieces }) => pieces.map(({ fromMm, toMm }) => [fromMm, toMm]))).toEqual([[[0, 4_096], [4_096, 5_000]], [[5_000, 3_000]], [[3_000, 6_000]]]);
  });

  test('that bring the time are placed by the log of the counter: stops, reversals and what no reading covers', async () => {
    const power = await made('channels', channel(stringId(), 'power', {
      measures: 'weld-power', unit: 'kW', method: null, threshold: null, sampling: { per: 'time', everyMs: '10000' }, plausible: { from: null, to: null }, missingValues: [], required: false,
    }));
    const run = await made('inspection-runs', inspectionRun(stringId(), [power], { observedAt: '2026-03-02T07:00:00Z' }));
    for (const [clock, reading] of [['07:10', '1000'], ['07:11', '7000'], ['07:12', '7000'], ['07:13', '4000'], ['07:14', '10000']] as const) {
      await made('counter-readings', { stringId: stringId(), observedAt: `2026-03-02T${clock}:00Z`, reading });
    }
    const id = await openUpload(post, upload(run, [{ column: 'kW', channelId: power }], { positionColumn: 'time', position: 'time' }));
    // Each value is the second of its sample; the last three come after the log has ended.
    const seconds = range(0, 270, 10);
    const text = `time,kW\n${seconds.map((second) => `${new Date(Date.UTC(2026, 2, 2, 7, 10, second)).toISOString()},${second}\n`).join('')}`;
    const bytes = Buffer.from(text);
    const sent = await engineer().send('PUT', `/api/signal-uploads/${id}/parts/1`, { body: bytes, headers: { 'content-type': 'text/csv', 'content-digest': digestOfBytes(bytes) } });
    expect(sent).toMatchObject({ status: 200, body: { samples: 27, firstAt: '2026-03-02T07:10:00.000000Z', lastAt: '2026-03-02T07:14:20.000000Z' } });
    const strokes = await api().app.get(SignalStrokes).of(stringId(), power, null, null);
    const read = [];
    for (const { blocks, backward } of strokes) for await (const { positionsMm, values } of blocks) read.push([backward, [...positionsMm], [...values]]);
    expect(read).toEqual([
      [false, [...range(1_000, 7_000, 1_000), 7_000, 7_000, 7_000, 7_000, 7_000, 7_000], range(0, 120, 10)],
      [true, range(4_500, 7_500, 500), range(120, 180, 10).reverse()],
      [false, range(4_000, 10_001, 1_000), range(180, 250, 10)],
    ]);
    const tracks = await api().app.get(SignalTracks).of(stringId(), power, null);
    expect(tracks.map(({ read: spoken }) => spoken.intervals)).toEqual([[{ fromMm: 1_000, toMm: 7_000 }], [{ fromMm: 4_500, toMm: 7_000 }], [{ fromMm: 4_000, toMm: 10_000 }]]);
    const { body } = await engineer().send<{ columns: { samples: number[]; min: number[]; max: number[]; looks: number[] }; unplacedSamples: number }>(
      'GET', `/api/casing-strings/${stringId()}/signal-view?channelId=${power}&fromM=0&toM=12&widthPx=4`,
    );
    expect([body.columns.samples, body.columns.min, body.columns.max, body.columns.looks]).toEqual([[2, 8, 13, 2], [0, 20, 50, 230], [10, 190, 220, 240], [1, 3, 3, 1]]);
    expect(body.unplacedSamples).toBe(2);
    const late = await engineer().send('PUT', `/api/signal-uploads/${id}/parts/2?firstAt=2026-03-02T07:10:00Z`, { body: bytes, headers: { 'content-type': 'text/csv', 'content-digest': digestOfBytes(bytes) } });
    expect([late.status, fieldsRefused(late)]).toEqual([422, ['firstAt']]);
  });
});
