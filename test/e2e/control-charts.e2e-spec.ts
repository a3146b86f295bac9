import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { v7 as uuidv7 } from 'uuid';
import { normalNumbers } from '../fixtures/normal-numbers.js';
import { TEST_PASSWORD, type SignedIn } from '../setup/api.js';
import { beadHeight, controlChart, signLimits } from './control-charts.factory.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, period, setup, reading } = lineFactory();

let inspector: SignedIn;
let chartId: string;
let heights: number[];

beforeAll(async () => {
  inspector = await api().signIn('qc-inspector');
});

/** Forty metres of pipe with a bead height each metre: 0.9 mm and what varies; 1.32 mm at 30 m, and 1.62 mm at 35 m. */
beforeEach(async () => {
  await made('counter-periods', period());
  await made('line-setups', setup());
  for (const [clock, mm] of [['06:00', 0], ['10:00', 40_000]] as const) expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
  const drawn = normalNumbers(11);
  heights = Array.from({ length: 40 }, (_, index) => ({ 30: 1.32, 35: 1.62 })[index] ?? Number((0.9 + 0.05 * Math.max(-2, Math.min(2, drawn()))).toFixed(2)));
  for (const [index, height] of heights.entries()) await made('inspections', beadHeight(stringId(), index * 1_000 + 400, height.toFixed(2), { verdict: height > 1.5 ? 'rejected' : 'accepted' }));
  chartId = await made('control-charts', controlChart(stringId()));
});

const asked = async (query: string, path = `control-charts/${chartId}/chart`): Promise<Fields> => {
  const answer = await engineer().send('GET', `/api/${path}?${query}`);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body;
};

/** Mean of values, and the mean of their moving ranges over 1.128 (d2 of two; ISO 7870-2, table 2, prints 1.128). */
function individuals(values: readonly number[]): { mean: number; sigma: number } {
  const ranges = values.slice(1).map((value, index) => Math.abs(value - (values[index] as number)));
  const average = (all: readonly number[]): number => all.reduce((sum, one) => sum + one, 0) / all.length;
  return { mean: average(values), sigma: average(ranges) / 1.128379167 };
}

interface Part extends Fields {
  readonly points: readonly { readonly values: readonly number[]; readonly fromMm: number }[];
  readonly panels: readonly { readonly shows: string; readonly points: readonly { readonly value: number; readonly upper: number; readonly lower: number }[] }[];
  readonly signals: readonly Fields[];
}
const partsOf = (answer: Fields): readonly Part[] => answer['parts'] as readonly Part[];

describe('trial limits', () => {
  test('come from the points asked for as an own calculation has them, with the digest of all that they were found from', async () => {
    const trial = await asked('fromM=0&toM=25', `control-charts/${chartId}/trial-limits`);
    const own = individuals(heights.slice(0, 25));
    expect(trial).toMatchObject({ points: 25, removed: 0, coils: null, warnings: [], signals: [], statement: expect.stringMatching(/^I have examined the points of control chart BH-1, footage 0\.400 to 24\.410 m, and approve the limits from 25 of them\.$/) });
    const { mean, sigma } = trial['figures'] as { mean: number; sigma: number };
    expect([mean, sigma]).toEqual([expect.closeTo(own.mean, 9), expect.closeTo(own.sigma, 9)]);
  });

  test('are found without what is removed, and say what still signals', async () => {
    const all = await asked('fromM=0&toM=32', `control-charts/${chartId}/trial-limits`);
    expect(all).toMatchObject({ warnings: [{ code: 'signals-left' }], signals: [{ panel: 'values', rule: 'one-beyond-3-sigma', place: { fromMm: 30_400 } }, { panel: 'moving ranges' }, { panel: 'moving ranges' }].slice(0, (all['signals'] as Fields[]).length) });
    const without = await asked('fromM=0&toM=32&removeM=30-31', `control-charts/${chartId}/trial-limits`);
    expect(without).toMatchObject({ points: 31, removed: 1, warnings: [] });
    expect(without['studySha256']).not.toBe(all['studySha256']);
  });

  test('are refused of nothing, of too little, and without what is no point', async () => {
    const refused = async (query: string): Promise<unknown> => (await engineer().send('GET', `/api/control-charts/${chartId}/trial-limits?${query}`)).body['type'];
    expect(await refused('fromM=0.5&toM=0.9')).toBe('urn:everymetre:problem:no-limits');
    expect(await engineer().send('GET', `/api/control-charts/${chartId}/trial-limits?fromM=0.5&toM=0.9`)).toMatchObject({ status: 422, body: { detail: 'The chart has no point on this pipe.' } });
    const nowhere = await engineer().send('GET', `/api/control-charts/${chartId}/trial-limits?fromM=0&toM=20&removeM=25-26,5-6&removeLabels=LM-03`);
    expect(nowhere).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:nothing-removed', errors: [{ field: 'removeM', value: ['25-26'] }, { field: 'removeLabels', value: ['LM-03'] }] } });
    const wrong = await engineer().send('GET', `/api/control-charts/${chartId}/trial-limits?fromM=5&toM=4&removeM=1-x&sigma=3`);
    expect([wrong.status, fieldsRefused(wrong).sort()]).toEqual([400, ['removeM', 'sigma', 'toM']]);
  });
});

describe('limits', () => {
  test('are signed on what was seen, by who may, with a reason for each warning and none for nothing', async () => {
    expect(await signLimits(inspector, chartId, [0, 25_000])).toMatchObject({ status: 403 });
    expect(await signLimits(engineer(), chartId, [0, 25_000], { secret: 'not my secret at all' })).toMatchObject({ status: 403, body: { type: 'urn:everymetre:problem:wrong-secret' } });
    expect(await signLimits(engineer(), chartId, [0, 25_000], { studySha256: '0'.repeat(64) })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:trial-changed' } });
    expect(await signLimits(engineer(), chartId, [0, 25_000], { warningsAcceptedBecause: 'Nothing to accept' })).toMatchObject({ status: 422, body: { errors: [{ field: 'warningsAcceptedBecause' }] } });
    expect(await signLimits(engineer(), chartId, [0, 25_000], { appliesFromMm: 100_000_000 })).toMatchObject({ status: 422, body: { errors: [{ field: 'appliesFromMm', value: 100_000_000, limit: expect.stringMatching(/^below the \d+ mm at which the string ends$/) }] } });
    expect(await signLimits(engineer(), chartId, [0, 12_000], { warningsAcceptedBecause: null })).toMatchObject({ status: 422, body: { errors: [{ limit: expect.stringContaining('few-points') }] } });
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201, body: { number: 1, chartVersion: 1, points: 25, warnings: [], signedBy: 'secret entered again', appliesFromMm: 25_000 } });
    expect(await asked('', `control-charts/${chartId}/limits`)).toHaveLength(1);
  });

  test('have the effect of one when they are sent twice, and are taken back with a reason', async () => {
    const id = uuidv7();
    const [first, second] = await Promise.all([signLimits(engineer(), chartId, [0, 25_000], { id }), signLimits(engineer(), chartId, [0, 25_000], { id })]);
    expect([first.status, second.status, second.body]).toEqual([201, 201, first.body]);
    expect(await signLimits(engineer(), chartId, [0, 26_000], { id })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:id-taken' } });
    const taken = async (): Promise<unknown> => engineer().send('POST', `/api/chart-limits/${id}/withdrawal`, { body: { reason: 'Gauge found out', secret: TEST_PASSWORD } });
    expect(await taken()).toMatchObject({ status: 200, body: { state: 'void', reason: 'Gauge found out' } });
    expect(await taken()).toMatchObject({ status: 409 });
    expect(await asked('fromM=0&toM=40')).toMatchObject({ parts: [], withoutLimits: [{ fromMm: 0, toMm: 40_000 }] });
  });

  test('hold from where they apply; new ones take their place from there, and nothing that was seen before changes', async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    const between = await asked('fromM=0&toM=40');
    expect(between).toMatchObject({ withoutLimits: [{ fromMm: 0, toMm: 25_000 }], parts: [{ fromMm: 25_000, toMm: 40_000, limits: { label: expect.stringContaining('1') } }] });
    expect(await signLimits(engineer(), chartId, [0, 30_000], { appliesFromMm: 33_000 })).toMatchObject({ status: 201, body: { number: 2 } });
    expect(partsOf(await asked('fromM=0&toM=40')).map(({ fromMm, toMm, points }) => [fromMm, toMm, points.length])).toEqual([[25_000, 33_000, 8], [33_000, 40_000, 7]]);
    expect(await asked(`fromM=0&toM=40&asKnownAt=${String(between['knownAt'])}`)).toMatchObject({ parts: between['parts'] });
    const [{ id } = { id: '' }] = (await asked('', `control-charts/${chartId}/limits`)) as unknown as { id: string }[];
    expect(partsOf(await asked(`fromM=0&toM=40&limits=${id}`)).map(({ fromMm, toMm, points }) => [fromMm, toMm, points.length])).toEqual([[0, 40_000, 40]]);
  });

  test('are no answer to what waited: it is told as long as nobody does, and limits that are no longer in force are told so where they are asked for', async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    const tasks = async (): Promise<Fields & { waiting: Fields[]; waitedBefore: Fields[] }> => ((await asked('', `casing-strings/${stringId()}/chart-signals`))['charts'] as (Fields & { waiting: Fields[]; waitedBefore: Fields[] })[])[0]!;
    const { waiting, waitedBefore } = await tasks();
    expect([waiting.length > 0, waitedBefore]).toEqual([true, []]);
    // All 40 m are made by then.
    expect(await signLimits(engineer(), chartId, [0, 38_000], { appliesFromMm: 27_000, warningsAcceptedBecause: 'Tool changed since' })).toMatchObject({ status: 201 });
    const after = await tasks();
    expect(after.waitedBefore).toEqual(waiting);
    const [{ id: limitsId } = { id: '' }] = (await asked('', `control-charts/${chartId}/limits`)) as unknown as { id: string }[];
    const { panel, rule, place } = waiting[0] as { panel: string; rule: string; place: { fromMm: number; toMm: number } };
    await made('chart-reactions', {
      stringId: stringId(), observedAt: at('10:30'), chartId, limitsId, answers: [{ panel, rule, ...place, label: null }], reading: 'not-repeated', notRepeatedBecause: 'Pipe has gone down', causesLookedAt: [], action: 'none-needed',
    });
    expect(await tasks()).toMatchObject({ waitedBefore: waiting.slice(1), reactionsToNothing: [] });
    const warned = async (query: string): Promise<unknown> => partsOf(await asked(`${query}&limits=${limitsId}`)).map((part) => (part as unknown as { warnings: Fields[] }).warnings.map(({ code, text }) => [code, text]));
    expect(await warned('fromM=25&toM=40')).toEqual([[['not-in-force', 'From footage 27.000 m on limits 2 are in force, and limits 1 are no longer.']]]);
    expect(await warned('fromM=25&toM=27')).toEqual([[]]);
    expect(await asked(`fromM=27&toM=30&limits=${limitsId}`, `control-charts/${chartId}/capability`)).toMatchObject({ isInControl: false, control: expect.stringContaining('not in force') });
  });

  test('stand on the plan as it was: a chart that is amended keeps them, and shows what it is now on trial', async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    expect(await amend('control-charts', chartId, 1, { chart: 'long-term' })).toMatchObject({ status: 200 });
    expect(await asked('fromM=25&toM=40')).toMatchObject({
      parts: [{
        chart: 'individuals', panels: [{ shows: 'values' }, { shows: 'moving ranges' }],
        warnings: [{ code: 'chart-amended', text: 'Limits 1 are of version 1 of the chart, whose chart was amended since: this is the chart as it was then, and trial limits show it as it is.' }],
      }],
    });
    expect(await asked('fromM=0&toM=25&limits=trial')).toMatchObject({ parts: [{ chart: 'long-term', limits: null, panels: [{ shows: 'values' }] }] });
  });
});

describe('a chart under limits', () => {
  beforeEach(async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
  });

  test('holds readings against what is specified now, in the chart, what it proposes and the capability alike', async () => {
    const before = await asked('fromM=25&toM=40');
    expect(await amend('control-charts', chartId, 1, { specification: { lower: null, upper: '1.00', target: null, source: 'PS-4 rev 2' } })).toMatchObject({ status: 200 });
    const beyond = heights.slice(25).filter((height) => height > 1);
    expect(beyond.length).toBeGreaterThan(1);
    const answer = await asked('fromM=25&toM=40');
    expect(partsOf(answer)).toMatchObject([{ warnings: [], plan: { specification: { upper: '1.00' } }, outOfSpecification: beyond.map((value) => ({ value })) }]);
    expect(answer).toMatchObject({ specification: { upper: '1.00' }, proposesNonconformance: { lengthMm: beyond.length * 10 } });
    expect(await asked('fromM=25&toM=40', `control-charts/${chartId}/capability`)).toMatchObject({ specification: { upper: '1.00' }, figures: { outside: beyond.length }, outside: { lengthMm: beyond.length * 10 } });
    expect(await asked('', `casing-strings/${stringId()}/chart-signals`)).toMatchObject({ charts: [{ proposesNonconformance: { lengthMm: beyond.length * 10 } }] });
    expect(await asked(`fromM=25&toM=40&asKnownAt=${String(before['knownAt'])}`)).toMatchObject({ parts: before['parts'] });
  });

  test('reads what it read, in its unit, until they are withdrawn', async () => {
    const other = { unit: 'in', characteristic: { of: 'inspected', name: 'wall' } };
    const refused = await amend('control-charts', chartId, 1, other);
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ field: 'characteristic' }, { field: 'unit', value: 'in', limit: 'as it was: limits 1 stand on it; withdraw them first, or make another chart' }] } });
    const [{ id } = { id: '' }] = (await asked('', `control-charts/${chartId}/limits`)) as unknown as { id: string }[];
    expect(await engineer().send('POST', `/api/chart-limits/${id}/withdrawal`, { body: { reason: 'Of other readings', secret: TEST_PASSWORD } })).toMatchObject({ status: 200 });
    expect(await amend('control-charts', chartId, 1, other)).toMatchObject({ status: 200 });
  });
});

describe('a chart in use', () => {
  beforeEach(async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
  });

  test('signals with what it asks for: pipe to watch from the last good point on, and its age; a nonconformance is proposed for what is out of specification alone', async () => {
    const answer = await asked('fromM=0&toM=40');
    const [part] = partsOf(answer);
    const own = individuals(heights.slice(0, 25));
    expect(part?.panels[0]?.points[0]).toMatchObject({ value: heights[25], upper: expect.closeTo(own.mean + 3 * own.sigma, 6), lower: expect.closeTo(own.mean - 3 * own.sigma, 6) });
    const beyond = part?.signals.filter(({ panel }) => panel === 'values');
    expect(beyond).toMatchObject([
      { rule: 'one-beyond-3-sigma', place: { fromMm: 30_400, toMm: 30_410 }, pattern: { fromMm: 30_400, toMm: 30_410 }, watch: { fromMm: 29_410, toMm: 30_410 }, since: '2026-03-02T10:00:00.000000Z', reactions: [], by: [expect.any(Number)] },
      { place: { fromMm: 35_400 }, watch: { fromMm: 34_410, toMm: 35_410 } },
    ]);
    expect(Number(beyond?.[0]?.['ageMinutes'])).toBeGreaterThan(60);
    expect(part).toMatchObject({ outOfSpecification: [{ value: 1.62, side: 'above', place: { fromMm: 35_400, toMm: 35_410 } }] });
    expect(answer).toMatchObject({ proposesNonconformance: { lengthMm: 10, intervals: [{ fromMm: 35_400, toMm: 35_410 }] } });
  });

  test('waits for a reaction until one is on record, and names those that wait', async () => {
    const signals = async (): Promise<Fields> => asked('', `casing-strings/${stringId()}/chart-signals`);
    const [before] = (await signals())['charts'] as (Fields & { waiting: Fields[] })[];
    expect(before).toMatchObject({ chart: { id: chartId }, answered: 0, withoutLimits: [{ fromMm: 0, toMm: 25_000 }], reaction: { decidedBy: 'Shift lead' } });
    expect(before?.waiting.length).toBeGreaterThanOrEqual(2);
    const [{ id: limitsId } = { id: '' }] = (await asked('', `control-charts/${chartId}/limits`)) as unknown as { id: string }[];
    const answered = {
      stringId: stringId(), observedAt: at('10:30'), chartId, limitsId, answers: [{ panel: 'values', rule: 'one-beyond-3-sigma', fromMm: 30_400, toMm: 30_410, label: null }], reading: 'real', repeatedValue: '1.31', repeatedWithInstrumentId: null,
      notRepeatedBecause: null, watchFromMm: 29_410, watchToMm: 30_410, causesLookedAt: ['gauge', 'strip edge'], cause: 'Trimming tool blunt', action: 'adjusted', did: 'Tool changed', nonconformanceId: null, note: null,
    };
    const open = async (): Promise<Fields[]> => ((await asked('', `casing-strings/${stringId()}/open-items`))['items'] as Fields[]).filter(({ what }) => what === 'chart-signals');
    expect(await open()).toMatchObject([{
      record: { kind: 'control-chart', id: chartId }, words: `${before?.waiting.length ?? 0} signals wait for the reaction of the plan: Read it again with the same gauge.`, since: before?.waiting[0]?.['since'],
      footage: [{ fromMm: 28_410, toMm: 31_410 }, { fromMm: 33_410, toMm: 36_410 }],
    }]);
    const reactionId = await made('chart-reactions', answered);
    const [after] = (await signals())['charts'] as (Fields & { waiting: Fields[] })[];
    expect(after).toMatchObject({ answered: 1 });
    expect(after?.waiting).toHaveLength((before?.waiting.length ?? 0) - 1);
    expect(after).toMatchObject({ reactionsToNothing: [] });
    const strange = await post('chart-reactions', { ...answered, answers: [{ ...answered.answers[0], panel: 'T²' }, { ...answered.answers[0], rule: 'six-steadily' }, { ...answered.answers[0], panel: 'moving ranges' }] });
    expect([strange.status, fieldsRefused(strange)]).toEqual([422, ['answers[0].panel', 'answers[1].rule', 'answers[2].rule']]);
    const everywhere = await made('chart-reactions', { ...answered, answers: [{ panel: 'values', rule: 'one-beyond-3-sigma', fromMm: 0, toMm: 40_000, label: null }] });
    expect((await signals())['charts']).toMatchObject([{ answered: 1, reactionsToNothing: [{ kind: 'chart-reaction', id: everywhere }] }]);
    expect(await withdraw('chart-reactions', everywhere, 1)).toMatchObject({ status: 200 });
    const astray = await made('chart-reactions', { ...answered, answers: [{ panel: 'values', rule: 'one-beyond-3-sigma', fromMm: 27_400, toMm: 27_410, label: null }] });
    expect((await signals())['charts']).toMatchObject([{ answered: 1, reactionsToNothing: [{ kind: 'chart-reaction', id: astray }] }]);
    expect(partsOf(await asked('fromM=30&toM=31'))[0]?.signals.find(({ panel }) => panel === 'values')).toMatchObject({ reactions: [{ kind: 'chart-reaction', id: reactionId }] });
    expect(await withdraw('chart-reactions', reactionId, 1)).toMatchObject({ status: 200 });
    expect(((await signals())['charts'] as Fields[])[0]).toMatchObject({ answered: 0 });
  });

  test('reads what is known: a reading that is corrected moves its point, and the knowledge of before stays', async () => {
    const before = await asked('fromM=25&toM=40');
    const [nth = NaN] = partsOf(before)[0]?.signals[0]?.['by'] as number[];
    const { id } = (before['records'] as { id: string; kind: string }[])[nth] ?? { id: '' };
    expect(await amend('inspections', id, 1, { value: '0.92' })).toMatchObject({ status: 200 });
    expect(partsOf(await asked('fromM=25&toM=40'))[0]?.signals.filter(({ panel, place }) => panel === 'values' && (place as Fields)['fromMm'] === 30_400)).toEqual([]);
    expect(await asked(`fromM=25&toM=40&asKnownAt=${String(before['knownAt'])}`)).toMatchObject({ parts: before['parts'] });
  });

  test('is asked for by time, and by depth where the walls are known', async () => {
    // Ten metres an hour.
    expect(await asked(`by=time&fromTime=${at('08:30')}&toTime=${at('09:30')}`)).toMatchObject({ footage: { fromMm: 25_000, toMm: 35_000 } });
    const wrong = await engineer().send('GET', `/api/control-charts/${chartId}/chart?by=coil&fromM=0&limits=best`);
    expect([wrong.status, fieldsRefused(wrong).sort()]).toEqual([400, ['coilId', 'fromM', 'limits']]);
  });

  test('is drawn with its signals, as SVG and as a paper', async () => {
    const svg = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.svg?fromM=0&toM=40`);
    expect(svg).toMatchObject({ status: 200, body: expect.stringContaining('Control chart BH-1') });
    expect(svg.body).toContain('No limits hold for footage');
    const pdf = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.pdf?fromM=0&toM=40&paper=Letter`);
    expect([pdf.status, pdf.headers['content-type'], pdf.body.slice(0, 5)]).toEqual([200, 'application/pdf', '%PDF-']);
    expect(await engineer().send('GET', `/api/control-charts/${chartId}/chart.svg?fromM=0&toM=20`)).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:nothing-to-draw' } });
  });

  test('is drawn without what was removed: the point, and the ranges to both sides of it', async () => {
    const { body } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.svg?fromM=0&toM=34&limits=trial&removeM=30-31`);
    const said = body.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');
    expect(said).toContain('(1) Limits were taken without 1 point, removed: 30.400 to 30.410 m.');
    expect(said).toMatch(/Values mm 34 points 1 left out .* Moving ranges mm 33 points 2 left out/);
  });

  test('tells a table the pipe asked about, what waits for an answer, and what is out of specification', async () => {
    const { body: csv } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.csv?fromM=33&toM=37`);
    const lines: Record<string, string>[] = parse(csv, { columns: true });
    const of = (what: string): Record<string, string>[] => lines.filter((line) => line['what'] === what);
    // From 25 m on, where the limits apply.
    expect([of('plan'), of('point').length]).toMatchObject([[{ from_m: '33.000', to_m: '37.000' }], 12]);
    expect(of('signal')).toMatchObject([{ panel: 'values', from_m: '35.400', because: 'not answered; watch 34.410 to 35.410 m; since 2026-03-02T10:00:00.000000Z' }, { panel: 'moving ranges' }, { panel: 'moving ranges' }]);
    expect([of('caution').length, of('reaction').map(({ because = '' }) => JSON.parse(because) as unknown)]).toEqual([5, [expect.objectContaining({ decidedBy: 'Shift lead' })]]);
    // Four readings of 10 mm on 4 m.
    expect(partsOf(await asked('fromM=33&toM=37'))).toMatchObject([{ betweenMm: 3_960 }]);
    expect(of('out-of-specification')).toMatchObject([{ from_m: '35.400', to_m: '35.410', value: '1.62', because: 'above the specification', records: expect.stringContaining('inspection') }]);
    const { body: trial } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.csv?fromM=25&toM=37&limits=trial`);
    const onTrial: Record<string, string>[] = parse(trial, { columns: true });
    expect(onTrial.filter(({ what }) => what === 'warning').map(({ label }) => label)).toContain('few-points');
  });

  test('gives an auditor all that it takes to compute the limits again', async () => {
    const { body: csv } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.csv?fromM=0&toM=25&limits=trial`);
    const rows = csv.trimEnd().split('\r\n').map((line) => line.split(','));
    const [head = []] = rows;
    const cell = (row: readonly string[], name: string): string => row[head.indexOf(name)] ?? '';
    const own = individuals(rows.filter((row) => row[0] === 'point').map((row) => Number(cell(row, 'readings'))));
    const plotted = rows.filter((row) => row[0] === 'plotted' && cell(row, 'panel') === 'values');
    expect(plotted).toHaveLength(25);
    expect(Number(cell(plotted[0] ?? [], 'upper'))).toBeCloseTo(own.mean + 3 * own.sigma, 6);
    const distances = rows.filter((row) => row[0] === 'point').map((row) => Number(cell(row, 'readings')) - own.mean);
    const sum = (all: readonly number[]): number => all.reduce((total, one) => total + one, 0);
    const phi = sum(distances.slice(1).map((one, index) => one * (distances[index] as number))) / 24 / (sum(distances.map((one) => one * one)) / 25);
    const told: Record<string, string>[] = parse(csv, { columns: true });
    expect(JSON.parse(told.find(({ what }) => what === 'lag-one')?.['because'] ?? '')).toMatchObject({ phi: expect.closeTo(phi, 9), pairs: 24 });
  });
});

test('what is out of specification proposes a nonconformance on pipe without limits too, where nothing signals', async () => {
  const bare = await asked('fromM=0&toM=40');
  expect(bare).toMatchObject({
    parts: [], withoutLimits: [{ fromMm: 0, toMm: 40_000 }], outOfSpecificationWithoutLimits: [{ value: 1.62, side: 'above', place: { fromMm: 35_400 } }], proposesNonconformance: { intervals: [{ fromMm: 35_400, toMm: 35_410 }] },
  });
  const { charts } = await asked('', `casing-strings/${stringId()}/chart-signals`);
  expect(charts).toMatchObject([{ waiting: [], withoutLimits: [{ fromMm: 0, toMm: 40_000 }], proposesNonconformance: { lengthMm: 10 } }]);
  const { body: csv } = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.csv?fromM=0&toM=40`);
  expect(csv).toMatch(/^out-of-specification,,,,,35\.400,35\.410,/m);
  expect(await signLimits(engineer(), chartId, [0, 25_000], { appliesFromMm: 38_000 })).toMatchObject({ status: 201 });
  expect(await asked('fromM=0&toM=40')).toMatchObject({ parts: [{ outOfSpecification: [] }], outOfSpecificationWithoutLimits: [{ value: 1.62 }], proposesNonconformance: { lengthMm: 10 } });
  expect(await asked('fromM=0&toM=35')).toMatchObject({ outOfSpecificationWithoutLimits: [], proposesNonconformance: { lengthMm: 0 } });
  const svg = await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.svg?fromM=0&toM=40`);
  expect(svg.body).toContain('On that pipe a reading is out of specification');
});

describe('capability', () => {
  test('is that of the readings on the chart, beside whether the process was in control, the extremes with their places and the pipe outside', async () => {
    const study = async (query: string): Promise<Fields> => asked(query, `control-charts/${chartId}/capability`);
    const own = heights.slice(0, 30);
    const mean = own.reduce((sum, one) => sum + one, 0) / own.length;
    const s = Math.sqrt(own.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (own.length - 1));
    expect(await study('fromM=0&toM=30&limits=trial')).toMatchObject({
      figures: { readings: 30, mean: expect.closeTo(mean, 9), ppk: { value: expect.closeTo((1.5 - mean) / (3 * s), 9) }, pp: null, cp: null, outside: 0 }, isInControl: false, control: expect.stringContaining('trial limits'),
      greatest: { value: Math.max(...own), place: { fromMm: own.indexOf(Math.max(...own)) * 1_000 + 400 } }, outside: { lengthMm: 0 },
    });
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    expect(await study('fromM=25&toM=30')).toMatchObject({ isInControl: true, control: 'Limits hold for all of this pipe, and none of its 5 points signals. Between the readings lie 4.950 m that nobody read for this chart: they are not watched.' });
    expect(await study('fromM=25&toM=40')).toMatchObject({ isInControl: false, figures: { outside: 1 }, outside: { lengthMm: 10 }, greatest: { value: 1.62, records: [{ kind: 'inspection' }] } });
    expect(await engineer().send('GET', `/api/control-charts/${chartId}/capability?fromM=0&toM=20`)).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:no-study' } });
  });

  test('has the least, the greatest and all that lies outside of every reading of the pipe, removed or not, with limits or without', async () => {
    const study = async (query: string): Promise<Fields> => asked(query, `control-charts/${chartId}/capability`);
    expect(await made('inspections', beadHeight(stringId(), 27_700, '0.12'))).toBeTruthy();
    const without = await study('fromM=0&toM=40&limits=trial&removeM=27.6-27.8,30-31,35-36');
    const outside = { lengthMm: 10, intervals: [{ fromMm: 35_400, toMm: 35_410 }] };
    expect(without).toMatchObject({ figures: { readings: 38, outside: 1, lagOne: { pairs: 34 } }, least: { value: 0.12, place: { fromMm: 27_700 } }, greatest: { value: 1.62, place: { fromMm: 35_400 } }, outside });
    expect(Number((without['figures'] as Fields)['mean'])).toBeLessThan(0.95);
    expect(await signLimits(engineer(), chartId, [0, 25_000], { appliesFromMm: 37_000 })).toMatchObject({ status: 201 });
    expect(await study('fromM=20&toM=40')).toMatchObject({
      figures: { readings: 3, outside: 1 }, least: { value: 0.12 }, greatest: { value: 1.62 }, outside, isInControl: false, control: expect.stringContaining('its readings are in no index of this study'),
    });
  });

  test('says what speaks against its indices: what varies between subgroups, and readings that are not normal', async () => {
    const drawn = normalNumbers(13);
    const walls = Array.from({ length: 80 }, (_, index) => 5 + (Math.floor(index / 40) === 0 ? 0 : 0.4) + 0.05 * (Math.floor(index / 4) % 2) + 0.004 * drawn());
    for (const [index, wall] of walls.entries()) await made('inspections', beadHeight(stringId(), index * 500 + 100, wall.toFixed(3), { characteristic: 'wall' }));
    const wall = await made('control-charts', controlChart(stringId(), {
      code: 'WT-1', characteristic: { of: 'inspected', name: 'wall', channelIds: [], statistic: null, reflector: null, counters: [], windowMm: null }, chart: 'mean-range', subgroup: { size: 4, withinMm: 1_600, everyMm: 2_000 },
      specification: { lower: '4.00', upper: '6.50', target: '5.20', source: 'Pipe specification PS-4 rev 1, 6.2' },
    }));
    const study = await asked('fromM=0&toM=40&limits=trial', `control-charts/${wall}/capability`);
    expect((study['warnings'] as Fields[]).map(({ code }) => code)).toEqual(expect.arrayContaining(['correlated', 'between', 'not-normal', 'within-only']));
    expect(study).toMatchObject({ figures: { readings: 80, normality: { caution: expect.stringContaining('too small') }, byPercentiles: null, ppInterval: null, ppk: { from: null, to: null }, cp: { from: null }, cpk: { to: null }, cpm: { from: null } } });
    expect(await asked('fromM=0&toM=19&limits=trial', `control-charts/${wall}/capability`)).toMatchObject({ figures: { pp: expect.any(Number), ppInterval: { from: expect.any(Number), to: expect.any(Number) } } });
  });
});

describe('what is not there', () => {
  test('is told of limits that hold nothing where they are asked for by name', async () => {
    const signed = await signLimits(engineer(), chartId, [0, 25_000]);
    const id = String(signed.body['id']);
    const warned = async (query: string): Promise<unknown> => (partsOf(await asked(`${query}&limits=${id}`))[0]?.['warnings'] as Fields[]).map(({ code, text }) => [code, text]);
    const control = async (query: string): Promise<Fields> => asked(`${query}&limits=${id}`, `control-charts/${chartId}/capability`);
    expect([await warned('fromM=25&toM=30'), await warned('fromM=0&toM=30')]).toEqual([[], [['not-in-force', 'Limits 1 are in force from footage 25.000 m on: nobody approved them for pipe before it.']]]);
    const nowhere = { isInControl: false, control: 'Held against limits that are not in force on all of this pipe: 0 signals at 5 points. Nothing says that the process is in control. Between the readings lie 4.950 m that nobody read for this chart: they are not watched.' };
    expect([await control('fromM=25&toM=30'), await control('fromM=20&toM=25')]).toMatchObject([{ isInControl: true }, nowhere]);
    expect(await engineer().send('POST', `/api/chart-limits/${id}/withdrawal`, { body: { reason: 'Gauge found out', secret: TEST_PASSWORD } })).toMatchObject({ status: 200 });
    expect(await warned('fromM=25&toM=30')).toEqual([['not-in-force', 'Limits 1 were withdrawn: they are in force nowhere.']]);
    expect(await control('fromM=25&toM=30')).toMatchObject(nowhere);
  });

  test('is told of pipe that is still to be made, on which nothing can be counted', async () => {
    for (const mm of [3_000, 11_000, 12_000, 25_000, 33_000]) await made('indications', { stringId: stringId(), observedAt: at('08:00'), from: { footageMm: mm }, to: { footageMm: mm + 50 }, channelIds: [], method: 'VT' });
    const counts = await made('control-charts', controlChart(stringId(), {
      code: 'IN-1', characteristic: { of: 'indications', name: null, channelIds: [], statistic: null, reflector: null, counters: [], windowMm: 10_000 }, unit: '1/m', subgroup: null, chart: 'u', specification: null,
    }));
    const whole = await asked('fromM=0&toM=90&limits=trial', `control-charts/${counts}/chart`);
    expect(partsOf(whole)[0]).toMatchObject({ figures: { rate: 5 / 40 }, points: [{ values: [1] }, { values: [2] }, { values: [1] }, { values: [1] }] });
    expect(whole).toMatchObject({ leftOut: [{ place: { fromMm: 40_000, toMm: 90_000 }, because: 'pipe that is still to be made' }] });
    expect(await engineer().send('GET', `/api/control-charts/${counts}/trial-limits?fromM=50&toM=90`)).toMatchObject({ status: 422, body: { detail: expect.stringContaining('Left out: 1 (40.000 m): pipe that is still to be made.') } });
  });

  test('is told beside what signals, on the picture, and beside a capability', async () => {
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    // Looked at, and not measured.
    for (const mm of [26_700, 27_700]) await made('inspections', beadHeight(stringId(), mm, '0.9', { kind: 'visual', value: null, unit: null }));
    const because = 'bead height was looked at, and not measured';
    expect(((await asked('', `casing-strings/${stringId()}/chart-signals`))['charts'] as Fields[])[0]).toMatchObject({ points: 15, leftOut: [{ because, count: 2, lengthMm: 20 }] });
    expect(await asked('fromM=25&toM=30', `control-charts/${chartId}/capability`)).toMatchObject({ isInControl: true, control: `Limits hold for all of this pipe, and none of its 5 points signals. Not in this study: 2 (0.020 m): ${because}. Between the readings lie 4.930 m that nobody read for this chart: they are not watched.` });
    const drawn = async (query: string): Promise<string> => (await engineer().send<string>('GET', `/api/control-charts/${chartId}/chart.svg?${query}`)).body.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');
    expect(await drawn('fromM=25&toM=30')).toContain(`Left out, and not watched: 2 (0.020 m): ${because}.`);
    expect(await drawn('fromM=25&toM=30')).not.toContain('warning');
    expect(await drawn('fromM=26.6&toM=28')).toContain('No signal · 1 warning');
    expect(await drawn('fromM=26.5&toM=27')).toContain(`None of this pipe is watched. Left out: 1 (0.010 m): ${because}.`);
    expect(await drawn('fromM=36.5&toM=37')).toContain('Nothing was read on this pipe: it is not watched.');
    expect(await drawn('fromM=36&toM=38')).toContain('of 13 points from footage 25.400 m on');
  });

  test('is no study, and says no more of limits than is so', async () => {
    const refused = async (query: string): Promise<unknown> => (await engineer().send('GET', `/api/control-charts/${chartId}/capability?${query}`)).body['detail'];
    expect(await refused('fromM=0&toM=20')).toBe('No study can be made of these readings: there are no values to summarise. Readings of pipe without limits are not in it: ask with limits=trial.');
    expect(await signLimits(engineer(), chartId, [0, 25_000])).toMatchObject({ status: 201 });
    expect(await refused('fromM=26&toM=27')).toBe('No study can be made of these readings: n is not a whole number of at least 2: 1.');
  });
});

test('readings that resemble each other are told, with the chart that does better on the same points', async () => {
  const like = await made('control-charts', controlChart(stringId(), { code: 'OD-1', characteristic: { of: 'inspected', name: 'outside diameter', channelIds: [], statistic: null, reflector: null, counters: [], windowMm: null }, specification: null }));
  const drawn = normalNumbers(5);
  let before = 0;
  const values = Array.from({ length: 80 }, () => (before = 0.9 * before + drawn()));
  for (const [index, value] of values.entries()) await made('inspections', beadHeight(stringId(), index * 500 + 100, (127 + 0.05 * value).toFixed(3), { characteristic: 'outside diameter' }));
  const trial = await asked('fromM=0&toM=40', `control-charts/${like}/trial-limits`);
  expect(trial).toMatchObject({ lagOne: { phi: expect.any(Number) }, warnings: expect.arrayContaining([expect.objectContaining({ code: 'correlated' })]), better: { chart: 'residuals', panels: [{ shows: 'residuals' }] } });
  expect((trial['lagOne'] as { phi: number }).phi).toBeGreaterThan(0.6);
  expect(Number((trial['better'] as Fields)['signals'])).toBeLessThan((trial['signals'] as unknown[]).length);
  expect(await post('chart-limits', {})).toMatchObject({ status: 400 });
});
