import { beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, digestOfBytes, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { engineer, stringId, post, made, amend, period, setup } = lineFactory();
let wall: string;
let runId: string;
let uploadId: string;

beforeEach(async () => {
  await made('counter-periods', period());
  wall = await made('channels', channel(stringId(), 'wall'));
  runId = await made('inspection-runs', inspectionRun(stringId(), [wall]));
  uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }]));
});

interface View extends Fields {
  columns: { min: (number | null)[]; max: (number | null)[]; mean: (number | null)[]; samples: number[]; missing: number[]; looks: number[]; sharpness: string };
  marks: { kind: string; fromMm: number; toMm: number; label: string }[];
}

async function view(query: string): Promise<View> {
  const answer = await engineer().send<View>('GET', `/api/casing-strings/${stringId()}/signal-view?channelId=${wall}&${query}`);
  expect([answer.status, answer.body['errors']]).toEqual([200, undefined]);
  return answer.body;
}

/** The reading at a millimetre: a slow wave, a pit, and spikes that no column may lose. */
const valueAt = (mm: number): number => (mm % 9_973 === 0 ? 3 : 5 + Math.sin(mm / 5_000) / 4 + (mm % 17) / 1_000);

async function sendPipe(from: number, to: number, no: number, value = valueAt): Promise<void> {
  const counter = range(from, to);
  const minute = String(no).padStart(2, '0');
  expect(await sendPart(engineer().send, uploadId, no, {
    counter, values: { wall: counter.map(value) }, firstAt: `2026-03-02T06:${minute}:00Z`, lastAt: `2026-03-02T06:${minute}:59Z`,
  })).toMatchObject({ status: 200 });
}

describe('a view of a channel', () => {
  test('of any interval and width shows the extremes of every column, as the samples themselves have them', async () => {
    const parts = [[0, 60_000], [60_000, 110_000], [120_000, 170_000], [170_000, 230_000]] as const;
    for (const [index, [from, to]] of parts.entries()) await sendPipe(from, to, index + 1);
    const isRead = (mm: number): boolean => parts.some(([from, to]) => mm >= from && mm < to);
    let [exact, blunt] = [0, 0];
    for (const [from, to, width] of [[0, 230, 1_200], [0, 230, 100], [100, 130, 300], [59.9, 60.1, 50], [1, 229, 7], [109.5, 120.5, 1_100], [3.3, 4.1, 800]] as const) {
      const { columns } = await view(`fromM=${from}&toM=${to}&widthPx=${width}`);
      const [fromMm, step] = [from * 1000, ((to - from) * 1000) / width];
      for (let column = 0; column < width; column += 1) {
        const own = range(Math.ceil(fromMm + column * step - 1e-9), Math.ceil(fromMm + (column + 1) * step - 1e-9)).filter(isRead).map((mm) => Math.fround(valueAt(mm)));
        const [least, greatest] = own.length === 0 ? [null, null] : [Math.min(...own), Math.max(...own)];
        if (columns.sharpness[column] === 'e') {
          exact += 1;
          expect([column, columns.min[column], columns.max[column], columns.samples[column]]).toEqual([column, least, greatest, own.length]);
          if (own.length > 0) expect(columns.mean[column]).toBeCloseTo(own.reduce((sum, value) => sum + value, 0) / own.length, 5);
        } else {
          blunt += 1;
          expect(columns.min[column] as number).toBeLessThanOrEqual(least ?? Infinity);
          expect(columns.max[column] as number).toBeGreaterThanOrEqual(greatest ?? -Infinity);
        }
      }
    }
    expect([exact > 1_000, blunt > 10]).toEqual([true, true]);
  });

  test('counts every sample once where several runs of cells come from one page', async () => {
    // 27 blocks in one part: with one column, cells of blocks are wanted at both ends of one page, and coarser ones between.
    await sendPipe(0, 110_000, 1);
    expect((await view('fromM=0&toM=200&widthPx=1')).columns.samples).toEqual([110_000]);
  });

  test('is the same whatever the order in which the parts of its pipe came in', async () => {
    const twin = await made('channels', channel(stringId(), 'twin'));
    const twinRun = await made('inspection-runs', inspectionRun(stringId(), [twin]));
    const twinUpload = await openUpload(post, upload(twinRun, [{ column: 'wall', channelId: twin }]));
    const ends = range(0, 13).map((no) => no * 6_500);
    const send = async (to: string, partNo: number, no: number): Promise<void> => {
      const counter = range(ends[no] as number, ends[no + 1] as number);
      const minute = String(10 + no);
      expect(await sendPart(engineer().send, to, partNo, {
        counter, values: { wall: counter.map(valueAt) }, firstAt: `2026-03-02T06:${minute}:00Z`, lastAt: `2026-03-02T06:${minute}:59Z`,
      })).toMatchObject({ status: 200 });
    };
    for (const no of range(0, 12)) await send(uploadId, no + 1, no);
    // As of two senders by turns, with one part that was late.
    for (const [index, no] of [0, 6, 1, 7, 3, 8, 2, 9, 4, 11, 5, 10].entries()) await send(twinUpload, index + 1, no);
    for (const query of ['fromM=0&toM=78&widthPx=1200', 'fromM=0&toM=100&widthPx=20', 'fromM=6.4&toM=45.6&widthPx=333', 'fromM=38.9&toM=39.1&widthPx=50', 'fromM=13&toM=77&widthPx=1']) {
      const [one, other] = [await view(query), await engineer().send<View>('GET', `/api/casing-strings/${stringId()}/signal-view?channelId=${twin}&${query}`)];
      const { mean, ...columns } = other.body.columns;
      const { mean: ownMean, ...own } = one.columns;
      expect(columns).toEqual(own);
      mean.forEach((value, index) => { if (value === null) expect(ownMean[index]).toBe(null); else expect(value).toBeCloseTo(ownMean[index] as number, 9); });
      expect(columns.looks.every((looks) => looks <= 1)).toBe(true);
    }
  });

  test('shows what was entered beside it since it was looked at last, and what was known before that as it was', async () => {
    await sendPipe(0, 4_000, 1);
    const mark = (from: number): Promise<string> => made('signal-marks', {
      stringId: stringId(), observedAt: '2026-03-02T06:30:00Z', from: { footageMm: from }, to: { footageMm: from + 100 }, runId, channelIds: [wall], effect: 'excluded', cause: 'splice',
    });
    const kinds = async (query = ''): Promise<unknown[]> => (await view(`fromM=0&toM=5&widthPx=5${query}`)).marks.map(({ kind, fromMm }) => [kind, fromMm]);
    expect(await kinds()).toEqual([]);
    const first = await mark(1_000);
    expect(await kinds()).toEqual([['excluded', 1_000]]);
    const known = new Date(Date.now()).toISOString();
    await mark(2_000);
    await made('cut-outs', { stringId: stringId(), observedAt: '2026-03-02T06:40:00Z', from: { footageMm: 3_000 }, to: { footageMm: 3_100 }, cause: 'Thin wall' });
    expect(await kinds()).toEqual([['cut-out', 3_000], ['excluded', 1_000], ['excluded', 2_000]]);
    await amend('signal-marks', first, 1, { to: { footageMm: 1_050 } });
    expect((await view('fromM=0&toM=5&widthPx=5')).marks).toEqual(expect.arrayContaining([expect.objectContaining({ kind: 'excluded', fromMm: 1_000, toMm: 1_050 })]));
    for (let again = 0; again < 2; again += 1) expect(await kinds(`&asKnownAt=${known}`)).toEqual([['excluded', 1_000]]);
  });

  test('follows a correction of the counter, and what was known before it stays as it was', async () => {
    await sendPipe(0, 10_000, 1);
    const before = String((await engineer().send('GET', `/api/signal-uploads/${uploadId}`)).body['recordedAt']);
    const known = new Date(Date.now()).toISOString();
    const { body } = await engineer().send<{ items: { id: string }[] }>('GET', `/api/counter-periods?stringId=${stringId()}`);
    const plain = await view('fromM=0&toM=20&widthPx=2');
    await amend('counter-periods', String(body.items[0]?.id), 1, { scaleMmPerCount: '2' });
    expect(plain.columns.samples).toEqual([10_000, 0]);
    expect((await view('fromM=10&toM=20&widthPx=1')).columns.samples).toEqual([5_000]);
    expect((await view(`fromM=0&toM=20&widthPx=2&asKnownAt=${known}`)).columns.samples).toEqual([10_000, 0]);
    expect((await view(`fromM=0&toM=20&widthPx=2&asKnownAt=${before}`)).columns.samples).toEqual([0, 0]);
  });

  test('tells what is missing and what is a bound, and shows pipe that was read twice', async () => {
    await sendPipe(0, 4_000, 1, (mm) => (mm < 1_000 ? -999 : mm === 2_500 ? 41 : 5));
    const back = range(3_000, 4_000).reverse();
    await sendPart(engineer().send, uploadId, 2, { counter: back, values: { wall: back.map(() => 4.9) }, direction: 'backward', firstAt: '2026-03-02T06:02:00Z', lastAt: '2026-03-02T06:02:30Z' });
    const { columns, marks } = await view('fromM=0&toM=5&widthPx=5');
    expect([columns.min, columns.missing, columns['doubtful' as 'missing'], columns.samples, columns.looks]).toEqual([
      [null, 5, 5, Math.fround(4.9), null], [1_000, 0, 0, 0, 0], [0, 0, 1, 0, 0], [1_000, 1_000, 1_000, 2_000, 0], [1, 1, 1, 2, 0],
    ]);
    expect(marks).toMatchObject([{ kind: 'reversal', fromMm: 3_000, toMm: 4_000 }]);
  });

  test('shows indications of the channel where they are, the strongest first', async () => {
    await sendPipe(0, 4_000, 1);
    const seen = (fromMm: number, peak: string | null): Promise<string> => made('indications', {
      stringId: stringId(), observedAt: '2026-03-02T06:30:00Z', from: { footageMm: fromMm }, to: { footageMm: fromMm + 10 }, channelIds: [wall], method: 'UT', peak, peakUnit: peak === null ? null : 'mm',
      peakIsBound: peak === null ? null : false, imperfection: 'lamination',
    });
    await seen(1_000, '4.2');
    await seen(2_000, '3.9');
    await seen(9_000, '3.0');
    const { marks } = await view('fromM=0&toM=5&widthPx=5');
    expect(marks.map(({ kind, fromMm, label }) => [kind, fromMm, label])).toEqual([['indication', 2_000, 'lamination 3.9 mm'], ['indication', 1_000, 'lamination 4.2 mm']]);
  });

  test('by the depth of either wall finds the same pipe', async () => {
    await made('line-setups', setup());
    await sendPipe(0, 60_000, 1);
    await made('hang-offs', { stringId: stringId(), observedAt: '2026-03-02T07:00:00Z', from: { footageMm: 2_000 }, mdMm: 0, mdUMm: '1', doneBy: engineer().personId });
    await made('counter-readings', { stringId: stringId(), observedAt: '2026-03-02T09:00:00Z', reading: '70000' });
    const outer = await view('by=outer&fromM=1&toM=2&widthPx=4');
    // 985 mm of outer wall from a metre of pipe: the depth of 1 m is 1.0152 m above the hang-off's footage.
    const least = (from: number, to: number): number => Math.min(...range(from, to).map((mm) => Math.fround(valueAt(mm))));
    expect(outer.columns.min[0]).toBe(least(3_016, 3_269));
    expect(outer).toMatchObject({ by: 'outer', plusMinusMm: expect.any(Number), cautions: expect.arrayContaining([expect.stringContaining('Depth is an estimate')]) });
    const inner = await view('by=inner&shoeMdM=20&fromM=19&toM=20&widthPx=2');
    const straight = await view(`fromM=22.304&toM=23.304&widthPx=2`);
    expect(inner.columns.min.length).toBe(2);
    expect(Math.abs((inner.columns.mean[1] as number) - (straight.columns.mean[0] as number))).toBeLessThan(0.02);
    const beyond = await engineer().send('GET', `/api/casing-strings/${stringId()}/signal-view?channelId=${wall}&by=outer&fromM=-5&toM=-1`);
    expect([beyond.status, fieldsRefused(beyond)]).toEqual([422, ['fromM']]);
  });

  test('by depth shows nothing of pipe that was cut out', async () => {
    await made('line-setups', setup());
    await sendPipe(0, 60_000, 1, (mm) => (mm >= 10_000 && mm < 13_000 ? 1 : mm >= 13_000 ? 6 : 5));
    await made('hang-offs', { stringId: stringId(), observedAt: '2026-03-02T07:00:00Z', from: { footageMm: 2_000 }, mdMm: 0, mdUMm: '1', doneBy: engineer().personId });
    await made('cut-outs', { stringId: stringId(), observedAt: '2026-03-02T07:30:00Z', from: { footageMm: 10_000 }, to: { footageMm: 13_000 }, cause: 'Thin wall' });
    // Eight metres below the hang-off, 0.985 times as deep: the pipe above it follows at 7.88 m.
    const outer = (await view('by=outer&fromM=7&toM=9&widthPx=4')).columns;
    expect([outer.min, outer.max]).toEqual([[5, 5, 6, 6], [5, 6, 6, 6]]);
    expect(Math.abs(outer.samples.reduce((sum, one) => sum + one, 0) - 2_000 / 0.985)).toBeLessThan(2);
    const inner = (await view('by=inner&shoeMdM=10&fromM=1&toM=9&widthPx=8')).columns;
    expect(inner.min.includes(1)).toBe(false);
    expect((await view('fromM=9&toM=14&widthPx=1')).columns.min).toEqual([1]);
  });

  test('has the first and the last sample also where a counter of two decimals meets an edge', async () => {
    const { body } = await engineer().send<{ items: { id: string }[] }>('GET', `/api/counter-periods?stringId=${stringId()}`);
    await amend('counter-periods', String(body.items[0]?.id), 1, { scaleMmPerCount: '1000' });
    const own = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }], { decimals: 2 }));
    // 0.07 × 100 is 7.000000000000001.
    for (const [index, counter] of ['0.07', '0.14', '0.28'].entries()) {
      const [bytes, at] = [Buffer.from(`counter,wall\n${counter},5\n`), `2026-03-02T06:0${index}:00Z`];
      const sent = await engineer().send('PUT', `/api/signal-uploads/${own}/parts/${index + 1}?firstAt=${at}&lastAt=${at}`, {
        body: bytes, headers: { 'content-type': 'text/csv', 'content-digest': digestOfBytes(bytes) },
      });
      expect(sent.status).toBe(200);
    }
    const { samples, min } = (await view('fromM=0&toM=0.35&widthPx=5')).columns;
    expect([samples, min]).toEqual([[0, 1, 1, 0, 1], [null, 5, 5, null, 5]]);
  });

  test('refuses what it cannot answer, parameter by parameter', async () => {
    const ask = async (query: string): Promise<unknown> => {
      const answer = await engineer().send('GET', `/api/casing-strings/${stringId()}/signal-view?${query}`);
      return [answer.status, answer.status === 404 ? [] : fieldsRefused(answer)];
    };
    expect(await ask('')).toEqual([400, ['fromM', 'toM', 'channelId']]);
    expect(await ask(`channelId=${wall}&fromM=2&toM=1&widthPx=0`)).toEqual([400, ['toM', 'widthPx']]);
    expect(await ask(`channelId=${wall}&fromM=0&toM=1&shoeMdM=3`)).toEqual([400, ['shoeMdM']]);
    expect(await ask(`channelId=${uuidv7()}&fromM=0&toM=1`)).toEqual([404, []]);
  });
});

describe('raw samples', () => {
  test('are given out as they were read, with their footage', async () => {
    await sendPipe(0, 9_000, 1, (mm) => (mm === 4_100 ? -999 : valueAt(mm)));
    const csv = await engineer().send<string>('GET', `/api/casing-strings/${stringId()}/samples?channelId=${wall}&fromM=4.098&toM=4.102&format=csv`);
    expect([csv.status, csv.headers['content-type'], csv.headers['x-unplaced-samples']]).toEqual([200, 'text/csv', '0']);
    const [header, ...lines] = csv.body.trim().split(/\r?\n/).map((line) => line.split(','));
    expect(header).toEqual(['counter', 'footageMm', 'value', 'sentInstead', 'status']);
    expect(lines.map(([counter, footage, value, instead, status]) => [counter, footage, Number(value), instead, status])).toEqual([
      ['4098', '4098', expect.closeTo(Math.fround(valueAt(4_098)), 6), '', 'read'],
      ['4099', '4099', expect.closeTo(Math.fround(valueAt(4_099)), 6), '', 'read'],
      ['4100', '4100', 0, '-999', 'missing'],
      ['4101', '4101', expect.closeTo(Math.fround(valueAt(4_101)), 6), '', 'read'],
    ]);
    const arrow = await engineer().send<string>('GET', `/api/casing-strings/${stringId()}/samples?channelId=${wall}&fromM=0&toM=9`);
    expect([arrow.status, arrow.headers['content-type']]).toEqual([200, 'application/vnd.apache.arrow.stream']);
    expect(arrow.body.length).toBeGreaterThan(9_000 * 12);
  });
});

describe('a strip chart', () => {
  test('is drawn as SVG and as a PDF, with what the checks prove', async () => {
    await sendPipe(0, 10_000, 1, (mm) => (mm > 4_000 && mm < 5_000 ? -999 : valueAt(mm)));
    const svg = await engineer().send<string>('GET', `/api/casing-strings/${stringId()}/strip-chart.svg?fromM=0&toM=12`);
    expect(svg).toMatchObject({ status: 200, headers: { 'content-type': 'image/svg+xml' } });
    expect(svg.body).toContain('<svg');
    expect(svg.body).toContain('missing');
    const pdf = await engineer().send<string>('GET', `/api/casing-strings/${stringId()}/strip-chart.pdf?fromM=0&toM=12&channelIds=${wall}&paper=Letter`);
    expect([pdf.status, pdf.headers['content-type'], pdf.body.slice(0, 5)]).toEqual([200, 'application/pdf', '%PDF-']);
    expect((await engineer().send('GET', `/api/casing-strings/${stringId()}/strip-chart.svg?fromM=0&toM=12&channelIds=${wall},${wall}`)).status).toBe(400);
  });
});
