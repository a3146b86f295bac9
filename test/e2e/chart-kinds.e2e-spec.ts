import { readFile } from 'node:fs/promises';
import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { CHART_KINDS, PANELS_OF, type ChartKind } from '#libs/charting';
import { normalNumbers } from '../fixtures/normal-numbers.js';
import { entered, permitted } from '../setup/string-builder.js';
import { beadHeight, controlChart, signLimits } from './control-charts.factory.js';
import { at, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { engineer, stringId, post, made, period, setup, reading } = lineFactory();

/** What a point of the first panel is held against. */
interface Expected {
  readonly value: number;
  readonly centre: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

const PIPE_MM = 400_000;
/** d2 of two readings, 2/√π; ISO 7870-2, table 2, prints 1.128. */
const D2_OF_2 = 2 / Math.sqrt(Math.PI);
/** NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, prints 0.00135; the further digits from memory. */
const BEYOND_3_SIGMA = 0.0013498980316301;
const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
const mean = (values: readonly number[]): number => sum(values) / values.length;
const deviation = (values: readonly number[]): number => Math.sqrt(sum(values.map((one) => (one - mean(values)) ** 2)) / (values.length - 1));
const byMovingRanges = (values: readonly number[]): number => mean(values.slice(1).map((one, index) => Math.abs(one - (values[index] as number)))) / D2_OF_2;
const inGroups = (values: readonly number[], size: number): number[][] => Array.from({ length: values.length / size }, (_, index) => values.slice(index * size, (index + 1) * size));
const about = (values: readonly number[], centre: number, half: number): Expected[] => values.map((value) => ({ value, centre, lower: centre - half, upper: centre + half }));

beforeEach(async () => {
  await made('counter-periods', period());
  await made('line-setups', setup());
  for (const [clock, mm] of [['06:00', 0], ['10:00', PIPE_MM]] as const) expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
});

const NOTHING = { name: null, channelIds: [], statistic: null, reflector: null, counters: [], windowMm: null };
const SINGLE = { size: 1, withinMm: 0, everyMm: 0 };
const charted = (of: string, said: Fields, changes: Fields): Promise<string> =>
  made('control-charts', controlChart(stringId(), { characteristic: { ...NOTHING, of, ...said }, specification: null, ...changes }));

async function asked(path: string): Promise<Fields> {
  const answer = await engineer().send('GET', `/api/control-charts/${path}`);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body;
}

interface Shown extends Fields {
  readonly chart: ChartKind;
  readonly points: readonly Fields[];
  readonly panels: readonly { readonly shows: string; readonly points: readonly Expected[] }[];
}

async function shownBy(path: string): Promise<Shown> {
  const { parts } = await asked(path) as { parts: readonly Shown[] };
  expect(parts).toHaveLength(1);
  return parts[0] as Shown;
}

/** Each figure to nine digits of the greatest of them. */
function expectPoints(shown: readonly Expected[] | undefined, expected: readonly Expected[]): void {
  const scale = Math.max(...expected.flatMap(({ value, upper }) => [Math.abs(value), Math.abs(upper ?? 0)]));
  const figures = (points: readonly Expected[]): (number | null)[] => points.flatMap(({ value, centre, lower, upper }) => [value, centre, lower, upper]);
  const [own, theirs] = [figures(expected), figures(shown ?? [])];
  expect(theirs).toHaveLength(own.length);
  const near = (one: number | null, other: number | null): boolean => (one === null || other === null ? one === other : Math.abs(one - other) <= 1e-9 * scale);
  expect(theirs.flatMap((one, index) => (near(one, own[index] ?? null) ? [] : [[one, own[index]]]))).toEqual([]);
}

/**
 * Trial limits, the same signed and in force, the chart, its picture, paper and table: all of the same points.
 * @param inUse of the points against signed limits, where these are others than on trial; `says` what the picture says of its points
 */
async function expectWhole(chartId: string, expected: readonly Expected[], { toMm = PIPE_MM, inUse = expected, says = '' }: { readonly toMm?: number; readonly inUse?: readonly Expected[]; readonly says?: string } = {}): Promise<Shown> {
  const pipe = `fromM=0&toM=${toMm / 1000}`;
  const trial = await asked(`${chartId}/trial-limits?${pipe}`);
  const onTrial = await shownBy(`${chartId}/chart?${pipe}&limits=trial`);
  expectPoints(onTrial.panels[0]?.points, expected);
  expect(onTrial.panels.map(({ shows }) => shows)).toEqual(PANELS_OF[onTrial.chart]);
  const signed = await signLimits(engineer(), chartId, [0, toMm], { appliesFromMm: 0 });
  expect(signed).toMatchObject({ status: 201, body: { number: 1, figures: trial['figures'], points: onTrial.points.length } });
  const shown = await shownBy(`${chartId}/chart?${pipe}`);
  expect(shown).toMatchObject({ figures: trial['figures'], points: onTrial.points });
  expectPoints(shown.panels[0]?.points, inUse);
  const { body: csv } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.csv?${pipe}`);
  expect(plottedIn(csv, String(shown.panels[0]?.shows))).toEqual(shown.panels[0]?.points.map(({ value, centre, lower, upper }) => ({ value, centre, lower, upper })));
  const svg = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.svg?${pipe}`);
  const said = svg.body.replace(/<[^>]*>/g, ' ');
  for (const words of [`limits 1 from ${onTrial.points.length} points`, says]) expect([svg.status, said]).toEqual([200, expect.stringContaining(words)]);
  const pdf = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.pdf?${pipe}&limits=trial`);
  expect([pdf.status, pdf.body.slice(0, 5)]).toEqual([200, '%PDF-']);
  return shown;
}

function plottedIn(csv: string, panel: string): Expected[] {
  const lines: Record<string, string>[] = parse(csv, { columns: true });
  const figure = (text = ''): number | null => (text === '' ? null : Number(text));
  return lines.filter((line) => line['what'] === 'plotted' && line['panel'] === panel)
    .map(({ value, centre, lower, upper }) => ({ value: Number(value), centre: Number(centre), lower: figure(lower), upper: figure(upper) }));
}

describe('of values of inspections', () => {
  let values: number[];

  beforeEach(async () => {
    const drawn = normalNumbers(23);
    let before = 0;
    // Each resembles the one before a little, so that every chart has something to find.
    values = Array.from({ length: 80 }, () => Number((0.9 + 0.05 * (before = 0.2 * before + drawn())).toFixed(3)));
    for (const [index, value] of values.entries()) await made('inspections', beadHeight(stringId(), index * 5_000 + 1_000, value.toFixed(3)));
  });

  const inspected = (chart: string, changes: Fields = {}): Promise<string> => charted('inspected', { name: 'bead height' }, { chart, ...changes });
  const fours = { size: 4, withinMm: 16_000, everyMm: 20_000 };
  const means = (): number[] => inGroups(values, 4).map(mean);

  test('mean-range', async () => {
    // d2 of four: ISO 7870-2, table 2, prints 2.059; the further digits are those of H. L. Harter, Annals of Mathematical Statistics 31 (1960), 1122-1147, from memory.
    const sigma = mean(inGroups(values, 4).map((group) => Math.max(...group) - Math.min(...group))) / 2.05875074598;
    await expectWhole(await inspected('mean-range', { subgroup: fours }), about(means(), mean(means()), (3 * sigma) / 2));
  });

  test('mean-deviation', async () => {
    // c4 of four, √(2/3) Γ(2)/Γ(3/2); ISO 7870-2, table 2, prints 0.9213.
    const sigma = mean(inGroups(values, 4).map(deviation)) / (Math.sqrt(2 / 3) / (Math.sqrt(Math.PI) / 2));
    await expectWhole(await inspected('mean-deviation', { subgroup: fours }), about(means(), mean(means()), (3 * sigma) / 2));
  });

  test('between-within', async () => {
    const { panels } = await expectWhole(await inspected('between-within', { subgroup: fours }), about(means(), mean(means()), 3 * byMovingRanges(means())));
    expect(panels.map(({ shows }) => shows)).toEqual(['means', 'moving ranges', 'deviations']);
  });

  test('individuals', async () => {
    await expectWhole(await inspected('individuals'), about(values, mean(values), 3 * byMovingRanges(values)), { says: 'single readings, chart individuals' });
  });

  test('long-term', async () => {
    await expectWhole(await inspected('long-term'), about(values, mean(values), 3 * deviation(values)));
  });

  test('batch-means', async () => {
    await expectWhole(await inspected('batch-means', { batchSize: 4 }), about(means(), mean(means()), 3 * byMovingRanges(means())));
  });

  test('residuals', async () => {
    const off = values.map((one) => one - mean(values));
    const phi = sum(off.slice(1).map((one, index) => one * (off[index] as number))) / sum(off.slice(0, -1).map((one) => one ** 2));
    const left = off.slice(1).map((one, index) => one - phi * (off[index] as number));
    await expectWhole(await inspected('residuals'), about(left, 0, 3 * Math.sqrt(sum(left.map((one) => one ** 2)) / (left.length - 2))));
  });

  test('ewma', async () => {
    const [centre, sigma] = [mean(values), byMovingRanges(values)];
    let average = centre;
    const expected = values.map((value, index) => {
      average = 0.2 * value + 0.8 * average;
      const half = 2.7 * sigma * Math.sqrt((0.2 / 1.8) * (1 - 0.8 ** (2 * index + 2)));
      return { value: average, centre, lower: centre - half, upper: centre + half };
    });
    await expectWhole(await inspected('ewma', { rules: [], lambda: '0.2', width: '2.7' }), expected);
  });

  test('cusum', async () => {
    const [centre, sigma] = [mean(values), byMovingRanges(values)];
    let high = 0;
    const expected = values.map((value) => ({ value: (high = Math.max(0, high + value - centre - 0.5 * sigma)), centre: 0, lower: null, upper: 5 * sigma }));
    const { panels } = await expectWhole(await inspected('cusum', { rules: [], k: '0.5', h: '5' }), expected);
    expect(panels.map(({ shows }) => shows)).toEqual(['sums above', 'sums below']);
  });
});

describe('of inspections that were rejected', () => {
  let rejected: boolean[];

  beforeEach(async () => {
    const drawn = normalNumbers(29);
    rejected = Array.from({ length: 80 }, () => drawn() > 0.7);
    for (const [index, isRejected] of rejected.entries()) await made('inspections', beadHeight(stringId(), index * 5_000 + 1_000, '0.9', { verdict: isRejected ? 'rejected' : 'accepted' }));
  });

  /** Windows of 30 m have six of them, the last of 10 m two. */
  const counts = (every: number): { count: number; of: number }[] =>
    Array.from({ length: Math.ceil(80 / every) }, (_, index) => rejected.slice(index * every, (index + 1) * every)).map((own) => ({ count: own.filter(Boolean).length, of: own.length }));
  const shareOf = (): number => rejected.filter(Boolean).length / rejected.length;
  const shares = (chart: string, windowMm: number): Promise<string> => charted('rejected-inspections', { name: 'bead height', windowMm }, { chart, subgroup: null, unit: '1' });
  const between = (lower: number, upper: number, most: number): { lower: number; upper: number } => ({ lower: Math.max(0, lower), upper: Math.min(most, upper) });

  test('p', async () => {
    const p = shareOf();
    const expected = counts(6).map(({ count, of }) => ({ value: count / of, centre: p, ...between(p - 3 * Math.sqrt((p * (1 - p)) / of), p + 3 * Math.sqrt((p * (1 - p)) / of), 1) }));
    const { points } = await expectWhole(await shares('p', 30_000), expected, { says: 'counts on 30.000 m each, chart p' });
    expect(points.at(-1)).toMatchObject({ fromMm: 390_000, toMm: PIPE_MM, of: 2 });
  });

  test('np', async () => {
    const [p, half] = [shareOf(), 3 * Math.sqrt(8 * shareOf() * (1 - shareOf()))];
    await expectWhole(await shares('np', 40_000), counts(8).map(({ count }) => ({ value: count, centre: 8 * p, ...between(8 * p - half, 8 * p + half, 8) })));
  });

  test('adjusted-p', async () => {
    const p = shareOf();
    const sigma = ({ of }: { of: number }): number => Math.sqrt((p * (1 - p)) / of);
    const sigmaZ = byMovingRanges(counts(6).map((one) => (one.count / one.of - p) / sigma(one)));
    await expectWhole(await shares('adjusted-p', 30_000), counts(6).map((one) => ({ value: one.count / one.of, centre: p, ...between(p - 3 * sigmaZ * sigma(one), p + 3 * sigmaZ * sigma(one), 1) })));
  });
});

describe('of indications and repairs', () => {
  let beginnings: number[];

  beforeEach(() => {
    const drawn = normalNumbers(31);
    let mm = 0;
    beginnings = [];
    // Gaps of an exponential distribution, about 12 m each.
    while ((mm += 500 + Math.round(6_000 * (drawn() ** 2 + drawn() ** 2))) < PIPE_MM) beginnings.push(mm);
  });

  const indicated = async (): Promise<void> => {
    for (const mm of beginnings) await made('indications', { stringId: stringId(), observedAt: at('08:00'), from: { footageMm: mm }, to: { footageMm: mm + 50 }, channelIds: [], method: 'VT' });
  };
  /** How many began on each length, and its length in m. */
  const counts = (everyMm: number): { count: number; of: number }[] => Array.from({ length: Math.ceil(PIPE_MM / everyMm) }, (_, index) => [index * everyMm, Math.min(PIPE_MM, (index + 1) * everyMm)] as const)
    .map(([fromMm, toMm]) => ({ count: beginnings.filter((mm) => mm >= fromMm && mm < toMm).length, of: (toMm - fromMm) / 1000 }));
  const rates = (own: readonly { readonly count: number; readonly of: number }[], sigmaZ = 1): Expected[] => {
    const u = sum(own.map(({ count }) => count)) / sum(own.map(({ of }) => of));
    return own.map(({ count, of }) => ({ value: count / of, centre: u, lower: Math.max(0, u - 3 * sigmaZ * Math.sqrt(u / of)), upper: u + 3 * sigmaZ * Math.sqrt(u / of) }));
  };

  test('c', async () => {
    await indicated();
    const c = mean(counts(40_000).map(({ count }) => count));
    const expected = counts(40_000).map(({ count }) => ({ value: count, centre: c, lower: Math.max(0, c - 3 * Math.sqrt(c)), upper: c + 3 * Math.sqrt(c) }));
    await expectWhole(await charted('indications', { windowMm: 40_000 }, { chart: 'c', subgroup: null, unit: '1' }), expected);
  });

  test('u, the last length shorter', async () => {
    await indicated();
    await expectWhole(await charted('indications', { windowMm: 30_000 }, { chart: 'u', subgroup: null, unit: '1/m' }), rates(counts(30_000)));
  });

  test('u, of repairs for each 1,000 m', async () => {
    for (const footageMm of beginnings) {
      await entered(engineer(), 'repairs', {
        stringId: stringId(), observedAt: at('09:30'), from: { footageMm }, to: { footageMm: footageMm + 50 }, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50', readings: [], chosen: [], photoSha256s: [],
      });
    }
    await expectWhole(await charted('repairs', { windowMm: 60_000 }, { chart: 'u', subgroup: null, unit: '1/km' }), rates(counts(60_000).map(({ count, of }) => ({ count, of: of / 1000 }))));
  });

  test('adjusted-u', async () => {
    await indicated();
    const own = counts(30_000);
    const u = sum(own.map(({ count }) => count)) / (PIPE_MM / 1000);
    const sigmaZ = byMovingRanges(own.map(({ count, of }) => (count / of - u) / Math.sqrt(u / of)));
    await expectWhole(await charted('indications', { windowMm: 30_000 }, { chart: 'adjusted-u', subgroup: null, unit: '1/m' }), rates(own, sigmaZ));
  });

  const gaps = (): number[] => beginnings.slice(1).map((mm, index) => (mm - (beginnings[index] as number)) / 1000);

  test('t', async () => {
    await indicated();
    // Quantiles of the exponential distribution, at the shares of a normal one beyond three standard deviations and at a half.
    const quantile = (share: number): number => -mean(gaps()) * Math.log(1 - share);
    await expectWhole(await charted('between-indications', {}, { chart: 't', rules: [], subgroup: null, unit: 'm' }), gaps().map((value) => ({ value, centre: quantile(0.5), lower: quantile(BEYOND_3_SIGMA), upper: quantile(1 - BEYOND_3_SIGMA) })), { says: 'pipe from one to the next, chart t' });
  });

  test('g', async () => {
    await indicated();
    const whole = gaps().map(Math.floor);
    const p = 1 / (1 + mean(whole));
    // Term by term: how likely fewer than k, and more than k.
    const below = (k: number): number => sum(Array.from({ length: k }, (_, index) => p * (1 - p) ** index));
    const first = (fits: (k: number) => boolean): number => Array.from({ length: 1_000 }, (_, k) => k).find(fits) ?? NaN;
    const limits = { centre: first((k) => below(k + 1) >= 0.5), lower: first((k) => below(k + 1) > BEYOND_3_SIGMA), upper: first((k) => 1 - below(k + 1) <= BEYOND_3_SIGMA) };
    await expectWhole(await charted('between-indications', {}, { chart: 'g', rules: [], subgroup: null, unit: 'm' }), whole.map((value) => ({ value, ...limits })));
  });
});

describe('of channels', () => {
  let walls: number[];
  let amplitudes: number[];
  let channelIds: string[];

  /** Forty metres with a sample each 10 mm: of each metre one value, a multiple of 1/128. */
  beforeEach(async () => {
    const drawn = normalNumbers(37);
    walls = Array.from({ length: 40 }, () => 5 + Math.round(4 * drawn()) / 128);
    amplitudes = walls.map((wall) => 20 + Math.round(64 * (wall - 5) + 128 * drawn()) / 128);
    channelIds = [
      await made('channels', channel(stringId(), 'UT-wall', { sampling: { per: 'length', everyMm: '10' } })),
      await made('channels', channel(stringId(), 'ET', { sampling: { per: 'length', everyMm: '10' }, measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: null })),
    ];
    const runId = await made('inspection-runs', inspectionRun(stringId(), channelIds));
    const uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: channelIds[0] ?? '' }, { column: 'et', channelId: channelIds[1] ?? '' }]));
    const counter = range(0, 40_000, 10);
    const ofEach = (values: readonly number[]): number[] => counter.map((mm) => values[Math.floor(mm / 1_000)] ?? NaN);
    expect(await sendPart(engineer().send, uploadId, 1, { counter, values: { wall: ofEach(walls), et: ofEach(amplitudes) }, firstAt: at('06:01'), lastAt: at('06:23') })).toMatchObject({ status: 200 });
  });

  test('individuals, of the mean of each metre', async () => {
    const chartId = await charted('channel', { channelIds: channelIds.slice(0, 1), statistic: 'mean', windowMm: 1_000 }, { subgroup: SINGLE });
    await expectWhole(chartId, about(walls, mean(walls), 3 * byMovingRanges(walls)), { toMm: 40_000 });
  });

  test('t-squared', async () => {
    const chartId = await charted('channel', { channelIds, statistic: 'mean', windowMm: 1_000 }, { chart: 't-squared', subgroup: null, rules: [], alpha: '0.0027', unit: 'mm, %' });
    const m = walls.length;
    const off = walls.map((wall, index) => [wall - mean(walls), (amplitudes[index] ?? NaN) - mean(amplitudes)] as const);
    const product = (one: 0 | 1, other: 0 | 1): number => sum(off.map((row) => row[one] * row[other])) / (m - 1);
    const [xx, xy, yy] = [product(0, 0), product(0, 1), product(1, 1)];
    const values = off.map(([x, y]) => (yy * x * x - 2 * xy * x * y + xx * y * y) / (xx * yy - xy * xy));
    // Of two characteristics both quantiles have closed forms: of Beta(1, b) 1 − α^(1/b), of F(2, ν) (ν/2) (α^(−2/ν) − 1).
    const onTrial = ((m - 1) ** 2 / m) * (1 - 0.0027 ** (2 / (m - 3)));
    const inUse = ((2 * (m + 1) * (m - 1)) / (m * (m - 2))) * ((m - 2) / 2) * (0.0027 ** (-2 / (m - 2)) - 1);
    const against = (upper: number): Expected[] => values.map((value) => ({ value, centre: 2, lower: null, upper }));
    await expectWhole(chartId, against(onTrial), { toMm: 40_000, inUse: against(inUse), says: '2 channels on 1.000 m each, chart t squared' });
  });
});

describe('of splices and coils', () => {
  const COILS = 9;
  let coilIds: string[];
  let spliceIds: string[];
  let drawn = 0;
  let normal: () => number;

  beforeAll(() => {
    normal = normalNumbers(41);
  });

  /** Eight coils of 50 m of pipe, a splice at the end of each; the ninth is no pipe yet. */
  beforeEach(async () => {
    const tag = `K${String((drawn += 1))}`;
    const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${tag}`, grade: 'S420MC' });
    [coilIds, spliceIds] = [[], []];
    for (let index = 0; index < COILS; index += 1) {
      coilIds.push(await made('coils', { observedAt: at('05:00'), number: `${tag}-${index + 1}`, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 }));
      await permitted(engineer(), coilIds[index] ?? '');
    }
    for (let index = 0; index < COILS - 1; index += 1) {
      const [fromMm, toMm] = [index * 50_000, (index + 1) * 50_000];
      await made('coil-segments', { stringId: stringId(), observedAt: at('06:00'), coilId: coilIds[index], from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: 50_000, runs: 'head-first' });
      const places = index === COILS - 2 ? [toMm - 100, toMm] : [toMm, toMm + 100];
      spliceIds.push(await made('splices', {
        observedAt: at('06:05'), stringId: stringId(), number: `S-${index + 1}`, leavingCoilId: coilIds[index], enteringCoilId: coilIds[index + 1], from: { footageMm: places[0] }, to: { footageMm: places[1] }, angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted',
      }));
    }
  });

  test('mean-range, of the hardness of splices, two readings each', async () => {
    const readings = spliceIds.map(() => [Math.round(220 + 4 * normal()), Math.round(220 + 4 * normal())] as const);
    for (const [index, spliceId] of spliceIds.entries()) {
      await entered(engineer(), 'splice-steps', {
        observedAt: at('07:00'), stringId: stringId(), spliceId, stage: 'after-forming', outcome: 'accepted', examinations: [], coupons: [], photoSha256s: [], readings: readings[index]?.map((one) => ({ measured: 'hardness-weld', printed: String(one), unit: 'HV10' })),
      });
    }
    const means = readings.map(mean);
    const sigma = mean(readings.map(([one, other]) => Math.abs(one - other))) / D2_OF_2;
    const chartId = await charted('splice-reading', { name: 'hardness-weld' }, { chart: 'mean-range', subgroup: { size: 2, withinMm: 0, everyMm: 1 }, unit: 'HV10' });
    const { points } = await expectWhole(chartId, about(means, mean(means), (3 * sigma) / Math.SQRT2));
    expect(points.map(({ label }) => label)).toEqual(['S-1', 'S-2', 'S-3', 'S-4', 'S-5', 'S-6', 'S-7', 'S-8']);
  });

  test('mean-deviation, of the thickness of coils, three readings each, the last of no pipe yet', async () => {
    const readings = coilIds.map(() => [0, 1, 2].map(() => Number((5 + 0.03 * normal()).toFixed(2))));
    for (const [index, coilId] of coilIds.entries()) {
      await entered(engineer(), 'incoming-checks', { observedAt: at('05:05'), coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', readings: readings[index]?.map((one) => ({ printed: one.toFixed(2), along: 'head', across: 'centre' })) });
    }
    const means = readings.map(mean);
    // c4 of three, √π/2; ISO 7870-2, table 2, prints 0.8862.
    const sigma = mean(readings.map(deviation)) / (Math.sqrt(Math.PI) / 2);
    const chartId = await charted('coil-reading', { name: 'thickness' }, { chart: 'mean-deviation', subgroup: { size: 3, withinMm: 0, everyMm: 1 } });
    const { points } = await expectWhole(chartId, about(means, mean(means), (3 * sigma) / Math.sqrt(3)));
    expect(points.at(-1)).toMatchObject({ fromMm: null, toMm: null, coil: expect.stringMatching(/-9$/) });
  });
});

test('individuals, of the ratio of two counters', async () => {
  await made('counter-periods', period({ counter: 'encoder 2' }));
  const drawn = normalNumbers(43);
  // The master counter makes 40 m in each 24 minutes; the other one a few millimetres more or less.
  const steps = Array.from({ length: 10 }, () => 40_000 + Math.round(20 * drawn()));
  for (let nth = 0; nth <= steps.length; nth += 1) {
    const clock = `${String(6 + Math.floor((24 * nth) / 60)).padStart(2, '0')}:${String((24 * nth) % 60).padStart(2, '0')}`;
    expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(sum(steps.slice(0, nth))), { counter: 'encoder 2' }) })).toMatchObject({ status: 201 });
  }
  const chartId = await charted('counter-ratio', { counters: ['encoder 2', 'main'], windowMm: 40_000 }, { unit: '1', subgroup: SINGLE });
  const ratios = steps.map((mm) => mm / 40_000);
  await expectWhole(chartId, about(ratios, mean(ratios), 3 * byMovingRanges(ratios)));
});

test('every chart there is has its test here', async () => {
  const own = await readFile(new URL(import.meta.url), 'utf8');
  expect(CHART_KINDS.filter((kind) => !new RegExp(`test\\('${kind}[',]`).test(own))).toEqual([]);
});
