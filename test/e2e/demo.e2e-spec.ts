import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { CoilAnswer } from '../../apps/api/src/coils/coil.dto.js';
import type { InspectionAnswer } from '../../apps/api/src/inspections/inspection.dto.js';
import type { NonconformanceAnswer } from '../../apps/api/src/nonconformances/nonconformance.dto.js';
import type { HistoryAnswer } from '../../apps/api/src/records/record.dto.js';
import type { RecallAnswer } from '../../apps/api/src/recall/recall.dto.js';
import type { ReconciliationAnswer } from '../../apps/api/src/reconciliation/reconciliation.dto.js';
import type { SpliceAnswer } from '../../apps/api/src/splices/splice.dto.js';
import type { TraceAnswer } from '../../apps/api/src/trace/trace.dto.js';
import type { WhereaboutsAnswer } from '../../apps/api/src/whereabouts/whereabouts.dto.js';
import { playInDemo } from '../../seed-demo/play-in.js';
import { RELEASED_AT } from '../../seed-demo/after-release.js';
import { MAIN_STRING_ID, STORY } from '../../seed-demo/story.js';
import { startDemoApi, type DemoApi } from '../setup/demo.js';

const PATIENCE_MS = 120_000;
const AUDITED = 'by=md&fromM=212.0&toM=214.5';
const THEN = `asKnownAt=${RELEASED_AT}`;

let demo: DemoApi;
let stringId: string;
let trialId: string;
beforeAll(async () => {
  demo = await startDemoApi();
  const strings = await all<{ id: string; name: string }>('casing-strings');
  const named = (name: string): string => strings.find((string) => string.name === name)?.id ?? '';
  stringId = named('Lindmoor 2 main string');
  trialId = named('Lindmoor 1 guide string');
}, PATIENCE_MS);
afterAll(() => demo.close());

async function all<R>(path: string): Promise<R[]> {
  const { items } = await demo.ask<{ items: R[] }>(`${path}${path.includes('?') ? '&' : '?'}limit=200`);
  return items;
}

const onString = <R>(kind: string): Promise<R[]> => all<R>(`${kind}?stringId=${stringId}`);
const trace = (query: string): Promise<TraceAnswer> => demo.ask<TraceAnswer>(`casing-strings/${stringId}/trace?${query}`);
const wall = (answer: TraceAnswer, name: 'outer' | 'inner'): TraceAnswer['walls'][number] => answer.walls.find((one) => one.wall === name)!;
const history = (kind: string, id: string): Promise<HistoryAnswer> => demo.ask<HistoryAnswer>(`${kind}/${id}/history`);

async function inspection(characteristic: string, footageFromMm: number): Promise<InspectionAnswer> {
  const rows = await onString<InspectionAnswer>('inspections');
  return rows.find((row) => row.characteristic === characteristic && row.footageFromMm === footageFromMm)!;
}

describe('what is on record', () => {
  test('nine coils of four heats, one of them without a certificate, their masses as their sizes say', async () => {
    const coils = await all<CoilAnswer>('coils');
    expect(coils.map(({ number }) => number)).toEqual(['LM-01', 'LM-02', 'LM-03', 'LM-04', 'LM-05', 'LM-06', 'LM-07', 'LM-08', 'LM-09']);
    expect(new Set(coils.map(({ heatId }) => heatId)).size).toBe(4);
    expect(coils.filter(({ certificateId }) => certificateId === null).map(({ number }) => number)).toEqual(['LM-07']);
    for (const { widthMm, thicknessMm, massKg, lengthMm } of coils) {
      const ratio = Number(massKg) / (Number(widthMm) * Number(thicknessMm) * (lengthMm ?? 0) * 7850e-9);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.005);
    }
  });

  test('the pipe is coil after coil from 0 to 1,231.847 m, and LM-01 is in both wells', async () => {
    const segments = (await onString<{ footageFromMm: number; footageToMm: number; runs: string }>('coil-segments'))
      .sort((a, b) => a.footageFromMm - b.footageFromMm);
    expect(segments).toHaveLength(10);
    expect(segments[0]?.footageFromMm).toBe(0);
    expect(segments.at(-1)?.footageToMm).toBe(1_231_847);
    expect(segments.slice(1).map(({ footageFromMm }) => footageFromMm)).toEqual(segments.slice(0, -1).map(({ footageToMm }) => footageToMm));
    expect(segments.filter(({ runs }) => runs === 'tail-first')).toHaveLength(1);
    const [first] = await all<CoilAnswer>('coils');
    const { strings, coils } = await demo.ask<RecallAnswer>(`recall?coilId=${first?.id ?? ''}`);
    expect(strings.map(({ string }) => string.id)).toEqual([trialId, stringId]);
    expect(coils[0]).toMatchObject({ usedMm: 210_089, cropMm: 3_911, restMm: 0, unaccountedMm: 0 });
  });

  test('eight splices: one cut out, one in doubt, one that nobody saw', async () => {
    const splices = await onString<SpliceAnswer>('splices');
    const numbers = (of: (splice: SpliceAnswer) => boolean): string[] => splices.filter(of).map(({ number }) => number);
    expect(splices).toHaveLength(8);
    expect(numbers(({ verdict }) => verdict === 'rejected')).toEqual(['S-3']);
    expect(numbers(({ verdict }) => verdict === 'in-doubt')).toEqual(['S-5']);
    expect(numbers(({ confirmed, predicted }) => !confirmed && predicted)).toEqual(['S-7']);
    const { place } = await demo.ask<WhereaboutsAnswer>(`casing-strings/${stringId}/whereabouts?footageM=369.0`);
    expect(place).toBe('cut-out');
  });

  test('hundreds of readings, a reversal among them, each once', async () => {
    const [counted] = await demo.dataSource.query<{ main: string; push: string; other: string }[]>(
      `select count(*) filter (where counter = 'main' and string_id = $1) as main, count(*) filter (where counter = 'push') as push,
              count(*) filter (where version > 1 or source not in ('instrument', 'keyed')) as other from counter_reading`,
      [stringId],
    );
    expect(Number(counted?.main)).toBeGreaterThan(250);
    expect(counted).toMatchObject({ push: '13', other: '0' });
    const [fallen] = await demo.dataSource.query<{ least: string }[]>(
      `select min(reading - before) as least from (select reading::numeric, lag(reading::numeric) over (order by observed_at) as before
         from counter_reading where counter = 'main' and string_id = $1 and observed_at > '2026-03-06T07:00:00Z') as steps`,
      [stringId],
    );
    expect(Number(fallen?.least)).toBeLessThan(-500);
  });

  test('three nonconformances in three stages, numbered as they came', async () => {
    const rows = (await all<NonconformanceAnswer>('nonconformances')).sort((a, b) => a.number - b.number);
    expect(rows.map(({ label, stage }) => `${label} ${stage}`)).toEqual(['NC-0001 disposition-approved', 'NC-0002 closed', 'NC-0003 open']);
    expect(rows[0]).toMatchObject({ stringId: null, disposition: { kind: 'use-as-is-under-concession' }, coilExtents: [{ stripFromMm: 96_000 }] });
    expect(rows[2]?.containment?.action).toMatch(/Pressure test/);
    const { versions } = await history('nonconformances', rows[1]?.id ?? '');
    expect(versions.map(({ keyedByName }) => keyedByName)).toEqual(['Ilka Brandt', 'Ilka Brandt', 'Rasmus Feld', 'Rasmus Feld', 'Rasmus Feld']);
    for (const { id } of rows) {
      const report = await demo.app.getHttpAdapter().getInstance().inject({ method: 'GET', url: `/api/nonconformances/${id}/report`, headers: demo.headers });
      expect([report.statusCode, report.rawPayload.subarray(0, 5).toString()]).toEqual([200, '%PDF-']);
    }
  });
});

describe('the delivery', () => {
  interface Evaluated { evaluation: { verdict: string }; standing: { state: string; hasChangedSince: boolean | null }; crossChecks: { severity: string; detail: string }[] }
  const evaluated = async (number: string, query = ''): Promise<Evaluated> => {
    const coil = (await all<CoilAnswer>('coils')).find((one) => one.number === number);
    return demo.ask<Evaluated>(`coils/${coil?.id ?? ''}/evaluation${query}`);
  };

  test('eight coils are accepted, one of them under a concession, on papers keyed twice', async () => {
    const certificates = await all<{ id: string }>('certificates');
    for (const { id } of certificates) expect(await demo.ask(`certificates/${id}/verification`)).toMatchObject({ state: 'verified', differences: [] });
    for (const number of ['LM-01', 'LM-02', 'LM-03', 'LM-04', 'LM-05', 'LM-06', 'LM-08']) {
      expect(await evaluated(number)).toMatchObject({ evaluation: { verdict: 'conforms' }, standing: { state: 'accepted' } });
    }
    expect(await evaluated('LM-09')).toMatchObject({ evaluation: { verdict: 'inside-guard-band' }, standing: { state: 'accepted-under-concession', hasChangedSince: false } });
  });

  test('LM-07 came without a certificate: nothing is reported of it, and a permit let it on the line', async () => {
    const now = await evaluated('LM-07');
    expect(now).toMatchObject({ evaluation: { verdict: 'not-reported' }, standing: { state: 'not-decided', isUsable: false } });
    const then = await evaluated('LM-07', `?${THEN}`);
    expect(then).toMatchObject({ standing: { isUsable: true, permits: [{ departure: expect.stringContaining('No certificate came with it') as unknown }] } });
  });

  test('the digits swapped in a second keying are in its history', async () => {
    const keyings = await all<{ id: string; version: number }>('certificate-transcriptions');
    const [slipped] = keyings.filter(({ version }) => version > 1);
    const { versions } = await history('certificate-transcriptions', slipped?.id ?? '');
    expect(versions.map(({ action, keyedByName }) => [action, keyedByName])).toEqual([['created', 'Ilka Brandt'], ['amended', 'Ilka Brandt']]);
    expect(JSON.stringify(versions[1]?.changes)).toContain('1.81');
  });
});

describe('inspections', () => {
  test('some forty, of which one was withdrawn and marks say what was odd', async () => {
    const rows = await onString<InspectionAnswer>('inspections');
    expect(rows).toHaveLength(45);
    const everything = await all<InspectionAnswer>(`inspections?stringId=${stringId}&includeVoid=true`);
    expect(everything.filter(({ state }) => state === 'void').map(({ reason }) => reason)).toEqual(['Entered twice: the first entry of the same look stands.']);
    const marked = (kind: string): unknown[] => rows.filter(({ marks }) => marks.some((mark) => mark.kind === kind)).map(({ value }) => value);
    expect(marked('confirmed-implausible')).toEqual(['5.10']);
    expect(marked('out-of-specification').sort()).toEqual(['1.62', '4.61', '5.10']);
  });

  test('one entry is late: a paper sheet, keyed two days after by another person', async () => {
    const rows = await onString<InspectionAnswer>('inspections');
    const late = rows.filter((row) => row.late);
    expect(late).toHaveLength(1);
    expect(late[0]).toMatchObject({ source: 'paper', observedAt: '2026-03-13T14:20:00.000000Z', surface: 'formed-inside' });
    expect(late[0]?.doneBy).not.toBe(late[0]?.keyedBy);
    const { versions } = await history('inspections', late[0]?.id ?? '');
    expect(versions[0]?.recordedAt).toMatch(/^2026-03-15T15:05:00/);
  });

  test('a value read again keeps the first one in its history', async () => {
    const read = await inspection('wall thickness', 215_600);
    expect(read).toMatchObject({ value: '4.61', version: 3, late: false });
    const { versions } = await history('inspections', read.id);
    expect(versions.map(({ action, reason }) => [action, reason?.slice(0, 30) ?? null])).toEqual([
      ['created', null], ['amended', 'Position derived again because'], ['amended', 'Chart of the wall gauge read a'],
    ]);
    expect(new Map(versions[2]?.changes.map(({ field, before, after }) => [field, [before, after]]))).toEqual(new Map([
      ['value', ['4.91', '4.61']], ['verdict', ['accepted', 'rejected']],
      ['marks', [[], [{ kind: 'out-of-specification', field: 'value', value: '4.61', limit: 'at least 4.75 mm' }]]],
    ]));
    expect(await demo.ask(`inspections/${read.id}?${THEN}`)).toMatchObject({ value: '4.91', footageFromMm: 214_277, marks: [] });
  });
});

describe('what stands at 212.0 to 214.5 m', () => {
  test('as known today: two coils, splice S-2 between them, a thin wall and its nonconformance', async () => {
    const outer = wall(await trace(AUDITED), 'outer');
    expect(outer.segments.map(({ coil, presence }) => `${coil.label} ${presence}`)).toEqual(['LM-02 certain', 'LM-03 certain']);
    expect(outer.splices.map(({ splice, mdFromMm }) => [splice.label, Math.round(mdFromMm / 100)])).toEqual([['S-2', 2132]]);
    expect(outer.inspections.filter(({ outOfSpecification }) => outOfSpecification).map(({ measured }) => measured)).toEqual(['4.61 mm']);
    expect(outer.nonconformances.map(({ nonconformance, stage }) => `${nonconformance.label} ${stage}`)).toEqual(['NC-0003 open']);
    const [md] = outer.nonconformances[0]!.md;
    expect(md!.fromMm).toBeGreaterThanOrEqual(212_000);
    expect(md!.toMm).toBeLessThanOrEqual(214_500);
  });

  test('as known on the day of release: one coil, no splice yet, nothing found', async () => {
    const outer = wall(await trace(`${AUDITED}&${THEN}`), 'outer');
    expect(outer.segments.filter(({ presence }) => presence !== 'possible').map(({ coil }) => coil.label)).toEqual(['LM-02']);
    expect(outer.segments.filter(({ presence }) => presence === 'possible').map(({ coil }) => coil.label)).toEqual(['LM-03']);
    expect(outer.splices.map(({ mdFromMm }) => Math.round(mdFromMm / 100))).toEqual([2146]);
    expect(outer.inspections.map(({ measured }) => measured)).toContain('4.91 mm');
    expect(outer.inspections.filter(({ outOfSpecification, late }) => outOfSpecification || late)).toEqual([]);
    expect(outer.nonconformances).toEqual([]);
  });

  test('the inner wall lacks a certificate, and on the day of release lacked a look', async () => {
    const missing = async (query: string): Promise<Set<string>> => new Set(wall(await trace(query), 'inner').missing.map(({ what }) => what));
    expect(await missing(AUDITED)).toEqual(new Set(['certificate', 'dimensional inspection']));
    expect(await missing(`${AUDITED}&${THEN}`)).toEqual(new Set(['certificate', 'visual inspection', 'dimensional inspection']));
    expect(wall(await trace(AUDITED), 'inner').segments.map(({ coil, certificate }) => [coil.label, certificate])).toEqual([['LM-07', null]]);
  });

  test('where the hole rises, one vertical depth is met at three measured depths', async () => {
    const { asked } = await trace('by=tvd&fromM=5.4&toM=5.6');
    expect(asked.md).toHaveLength(3);
    expect(asked.md.every(({ fromMm, toMm }) => fromMm > 40_000 && toMm < 150_000)).toBe(true);
  });
});

describe('what rests on the counter', () => {
  test('the corrected scale moved what was read, and left what was taped', async () => {
    const splice = (await onString<SpliceAnswer>('splices')).find(({ number }) => number === 'S-2')!;
    const { versions } = await history('splices', splice.id);
    expect(versions.at(-1)?.reason).toMatch(/counter period .* was amended .* footage \[215209, 215430\) mm became \[216500, 216721\) mm/);
    expect(versions.at(-1)?.recordedAt).toMatch(/^2026-03-16T09:40:00/);
    expect(await inspection('dent', 1_165_000)).toMatchObject({ version: 1 });
  });

  test('the three sums agree today, and did not on the day of release', async () => {
    const sums = (query: string): Promise<ReconciliationAnswer> => demo.ask<ReconciliationAnswer>(`casing-strings/${stringId}/reconciliation?${query}`);
    const now = await sums('');
    expect(now.differences.map(({ exceeded }) => exceeded)).toEqual([false, false, false]);
    expect([now.gaps, now.spliceCount.agrees, now.counters[0]?.exceededTotal]).toEqual([[], true, 0]);
    const then = await sums(THEN);
    expect(then.differences.map(({ of, less, exceeded }) => `${of} - ${less}: ${exceeded}`)).toEqual([
      'strip consumed - pipe made: false', 'strip consumed - pipe in place: true', 'pipe made - pipe in place: true',
    ]);
    expect(then.counters[0]?.overall).toMatchObject({ exceeded: true });
  });

  test('one shoe tie does not fit its neighbours, and only that one is suspect', async () => {
    const { ties } = await demo.ask<ReconciliationAnswer>(`casing-strings/${stringId}/reconciliation`);
    expect(ties.map(({ mdMm, suspect }) => [mdMm, suspect])).toEqual([
      [84_815, false], [179_180, false], [290_296, false], [434_690, true], [493_165, false], [598_300, false],
    ]);
    expect(ties[3]?.againstNeighbours?.mm).toBeGreaterThan(2_000);
    expect(ties.map(({ reconciliation }) => reconciliation.exceeded)).toEqual([false, false, false, false, false, false]);
  });
});

describe('the story', () => {
  test('unfolds in order, before today: nothing was recorded before it was observed', async () => {
    const early = await demo.dataSource.query<unknown[]>(
      'select id from inspection where known_from < observed_at union all select id from counter_reading where known_from < observed_at',
    );
    expect(early).toEqual([]);
    const [last] = await demo.dataSource.query<{ last: string }[]>('select max(known_from)::text as last from nonconformance');
    expect(last?.last).toMatch(/^2026-03-17 10:50:00/);
    expect(STORY.every(({ recordedAt }) => Date.parse(recordedAt) <= Date.parse('2026-03-17T10:50:00Z'))).toBe(true);
  });

  test('what is written afterwards is known from the real time on', async () => {
    const before = Date.now();
    const reply = await demo.app.getHttpAdapter().getInstance().inject({
      method: 'POST', url: '/api/heats', headers: await demo.headersOf('rasmus'),
      payload: { id: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b77', observedAt: '2026-03-20T08:00:00Z', number: 'H40999', grade: 'S420MC' },
    });
    const { recordedAt } = reply.json<{ recordedAt: string }>();
    expect([reply.statusCode, Math.abs(Date.parse(recordedAt) - before) < 60_000]).toEqual([201, true]);
  });

  test('a database with people in it takes no second demo', async () => {
    await expect(playInDemo(demo.app)).rejects.toThrow('The demo well is in this database already.');
  });

  test('is the same in every database but for passwords, sessions and request ids', async () => {
    const again = await startDemoApi();
    try {
      expect(again.signIns.map(({ password }) => password)).not.toEqual(demo.signIns.map(({ password }) => password));
      const one = await contentOf(demo);
      const other = await contentOf(again);
      expect(Object.keys(one)).toContain('counter_reading');
      expect(other).toEqual(one);
    } finally {
      await again.close();
    }
  }, PATIENCE_MS);
});

/** Every row of every table of records, but those of the heat that a test added; by table. */
async function contentOf({ dataSource }: DemoApi): Promise<Record<string, unknown>> {
  const tables = await dataSource.query<{ table_name: string }[]>(
    "select table_name from information_schema.columns where table_schema = 'public' and column_name = 'known_from' order by 1",
  );
  const content: Record<string, unknown> = {};
  for (const { table_name: table } of tables) {
    const kept = table === 'heat' ? "where number <> 'H40999'" : '';
    const rows = await dataSource.query<{ row: unknown }[]>(
      `select to_jsonb(t) - 'request_id' as row from ${table} as t ${kept} order by id, version`,
    );
    content[table] = rows.map(({ row }) => row);
  }
  return content;
}

describe('what the README tells', () => {
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
  const asked = [...readme.matchAll(/^get "?([^"\s]+)"?\n```\n```\n([^`]+)/gm)].map(([, path = '', answer = '']) => ({
    path: path.replaceAll('$S', MAIN_STRING_ID),
    figures: answer.match(/\b\d{4,6}\b|\b\d+\.\d{2,3}\b/g) ?? [],
  }));

  test('its string is the main one', () => {
    expect(stringId).toBe(MAIN_STRING_ID);
    expect(readme).toContain(`S=${MAIN_STRING_ID}`);
    expect(asked.length).toBeGreaterThanOrEqual(5);
  });

  test.each(asked)('$path answers with the figures shown', async ({ path, figures }) => {
    const answer = JSON.stringify(await demo.ask(path));
    expect(figures.filter((figure) => !answer.includes(figure))).toEqual([]);
  });
});
