import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { CoilAnswer } from '../../apps/api/src/coils/coil.dto.js';
import type { InspectionAnswer } from '../../apps/api/src/inspections/inspection.dto.js';
import type { NonconformanceAnswer } from '../../apps/api/src/nonconformances/nonconformance.dto.js';
import type { DestructiveCoverageAnswer } from '../../apps/api/src/destructive-coverage/destructive-coverage.dto.js';
import type { InspectionProofAnswer } from '../../apps/api/src/inspection-proof/inspection-proof.dto.js';
import type { InstrumentDoubtAnswer } from '../../apps/api/src/instrument-standing/instrument-standing.dto.js';
import type { OpenItemsAnswer } from '../../apps/api/src/open-items/open-items.dto.js';
import type { HistoryAnswer } from '../../apps/api/src/records/record.dto.js';
import type { RecallAnswer } from '../../apps/api/src/recall/recall.dto.js';
import type { ReconciliationAnswer } from '../../apps/api/src/reconciliation/reconciliation.dto.js';
import type { ReinspectionAnswer, StringRepairsAnswer } from '../../apps/api/src/reinspections/reinspection.dto.js';
import type { RejoinRecordAnswer } from '../../apps/api/src/rejoin-record/rejoin-record.dto.js';
import type { SeamStopsAnswer } from '../../apps/api/src/seam-stops/seam-stops.dto.js';
import type { ShiftLogAnswer } from '../../apps/api/src/shift-log/shift-log.dto.js';
import type { SpliceArrivalsAnswer } from '../../apps/api/src/splice-arrivals/splice-arrivals.dto.js';
import type { SpliceRecordAnswer } from '../../apps/api/src/splice-record/splice-record.dto.js';
import type { SpliceAnswer } from '../../apps/api/src/splices/splice.dto.js';
import type { TraceAnswer } from '../../apps/api/src/trace/trace.dto.js';
import type { WeldCheckAnswer } from '../../apps/api/src/weld-checks/weld-check.dto.js';
import type { WeldAnswer } from '../../apps/api/src/welds/weld.dto.js';
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
    expect(rows).toHaveLength(46);
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

interface Numbered { id: string; number: string }
const idOf = async (kind: string, number: string): Promise<string> => (await all<Numbered>(kind)).find((one) => one.number === number)?.id ?? '';
const recordOf = async (number: string): Promise<SpliceRecordAnswer> => demo.ask<SpliceRecordAnswer>(`splices/${await idOf('splices', number)}/record`);
const ACCEPTED = ['accepted', 'accepted', 'accepted', 'accepted'];

describe('how splices were made', () => {
  const statesOf = ({ stages }: SpliceRecordAnswer): string[] => stages.map(({ state }) => state);
  /** Without the address of the check. */
  const openOf = ({ open }: SpliceRecordAnswer): string[] => open.map((words) => words.replace(/; see .*/, ''));

  test('S-8 is whole from its ends to the last station, and nothing is open of it', async () => {
    const record = await recordOf('S-8');
    expect([statesOf(record), record.open]).toEqual([ACCEPTED, []]);
    expect(record.steps.map(({ stage, station }) => station ?? stage)).toEqual(['preparation', 'flat-strip-release', 'seam viewing', 'cutting bench', 'after-forming']);
  });

  test('S-5 was held after forming, and its ends were looked at by nobody qualified that day', async () => {
    const record = await recordOf('S-5');
    expect(statesOf(record)).toEqual(['accepted', 'accepted', 'held', 'accepted']);
    expect(openOf(record)).toEqual([
      'after-forming is held', 'preparation of 2026-03-05T23:20:00.000000Z is not proved: person',
      // 656,200 mm at the weld point, 45,558 mm at 1,200 mm a minute after 08:00, and five minutes.
      'flat-strip-release of 2026-03-06T08:42:58.000000Z is not proved: instrument',
    ]);
  });

  test('of S-7 nobody saw anything once it had left the splice station', async () => {
    const record = await recordOf('S-7');
    expect(statesOf(record)).toEqual(['accepted', 'accepted', 'missing', 'missing']);
    expect(record.open).toEqual(['its place is predicted, and was not confirmed', 'after-forming is missing', 'station-sighting is missing']);
    expect(record.arrival?.stations.flatMap(({ sightings }) => sightings)).toEqual([]);
  });

  test('the weld of S-6 is a little outside its procedure: taken, marked, told, and the only one', async () => {
    const welds = await onString<WeldAnswer>('welds');
    const checks = await Promise.all(welds.map(({ id }) => demo.ask<WeldCheckAnswer>(`welds/${id}/check`)));
    const s6 = await recordOf('S-6');
    expect(welds).toHaveLength(10);
    expect(checks.filter(({ isProved }) => !isProved).map(({ weld }) => weld.id)).toEqual(s6.welds.map(({ id }) => id));
    expect(s6.welds[0]?.marks).toEqual([{ kind: 'out-of-specification', field: 'readings[1].printed', value: '26.4 V', limit: 'voltage: 22 to 26 V' }]);
    const outside = checks.find(({ isProved }) => !isProved)?.lines.filter(({ verdict }) => verdict === 'does-not-conform');
    expect(outside?.map(({ subject, reported, margin }) => [subject, reported, margin])).toEqual([['voltage', '26.4 V', '-0.4']]);
  });

  test('every sighting was where the stated distance says; S-7 alone has none at the viewing station, S-3 was never seen at the bench either', async () => {
    const { splices, stations, count } = await demo.ask<SpliceArrivalsAnswer>(`casing-strings/${stringId}/splice-arrivals`);
    const sightings = splices.flatMap((splice) => splice.stations.flatMap((station) => station.sightings));
    expect(sightings.map(({ agrees }) => agrees)).toEqual(Array.from({ length: 13 }, () => true));
    expect(stations.filter(({ seen }) => seen > 0).map(({ name, past, seen }) => [name, past, seen])).toEqual([['seam viewing', 8, 7], ['cutting bench', 8, 6]]);
    expect(count).toEqual({ coilRuns: 9, splices: 8, agrees: true });
  });

  test('a batch of filler leads to the splices that were welded with it', async () => {
    const { strings } = await demo.ask<RecallAnswer>('recall?fillerBatch=FB-4502');
    // 383 mm / tan 60° is 221 mm of pipe for each of S-6, S-7 and S-8.
    expect(strings.map(({ string, concernedTotal, footage }) => [string.id, concernedTotal, footage.nominalMm])).toEqual([[stringId, 3, 663]]);
    expect(strings[0]?.concerned.map(({ footage }) => footage.fromMm)).toEqual([823_600, 1_008_900, 1_159_700]);
  });
});

describe('who was qualified', () => {
  test('NDT-118 ran out at midnight of the site, and one piece of work came after it', async () => {
    const { strings, cautions } = await demo.ask<RecallAnswer>(`recall?qualificationId=${await idOf('qualifications', 'NDT-118')}`);
    const [preparation] = (await recordOf('S-5')).steps;
    expect(strings.flatMap(({ concerned }) => concerned).map(({ record, isCertain, footage }) => [record.id, isCertain, footage])).toEqual([
      [preparation?.id, true, { fromMm: 668_200, toMm: 668_421 }],
    ]);
    expect(strings[0]?.concerned[0]?.because).toContain('not valid on 2026-03-06, local day at UTC+01:00: expired: valid through 2026-03-05');
    // The ends and the release of S-1 to S-4, and the radiograph of re-join 1.
    expect(cautions.filter((words) => words.startsWith('9 further records'))).toHaveLength(1);
  });

  test('the same instant is covered by a day of UTC, and not by a day of the site', async () => {
    const people = await all<{ id: string; name: string }>('people');
    const ilka = people.find(({ name }) => name === 'Ilka Brandt')?.id ?? '';
    const found = async (at: string): Promise<string> => (await demo.ask<{ found: string }>(`people/${ilka}/qualified?at=${encodeURIComponent(at)}&method=UT`)).found;
    expect([await found('2026-03-05T23:20:00Z'), await found('2026-03-06T00:20:00+01:00')]).toEqual(['covering', 'nearest']);
  });

  test.each(['WQ-31', 'WQ-32', 'OQ-7', 'NDT-204', 'NDT-131'])('%s covered all work that it was for', async (number) => {
    expect(await demo.ask<RecallAnswer>(`recall?qualificationId=${await idOf('qualifications', number)}`)).toMatchObject({ strings: [], coils: [], others: [] });
  });

  test('welder and operator are on record and cannot sign in', async () => {
    const crew = (await all<{ name: string; active: boolean }>('people')).filter(({ active }) => !active).map(({ name }) => name).sort();
    expect(crew).toEqual(['Jorun Halvik', 'Teodor Lasch']);
    expect(demo.signIns.map(({ signInName }) => signInName)).toEqual(['tomke', 'ilka', 'piet', 'rasmus', 'merle']);
  });
});

describe('what it was measured with', () => {
  /** High-low by the bridge gauge in that week, mm, and its distance from the limit of 0.50 mm. */
  const DOUBTFUL = [
    ['splice-step', '0.20 mm; 0.3 mm inside its limit', 'enough'], ['inspection', '0.20 mm; 0.3 mm inside its limit', 'enough'],
    ['splice-step', '0.15 mm; 0.35 mm inside its limit', 'enough'], ['inspection', '0.25 mm; 0.25 mm inside its limit', 'enough'],
    ['splice-step', '0.30 mm; 0.2 mm inside its limit', 'enough'], ['inspection', '5.10 mm; 4.6 mm beyond its limit', 'enough'],
    ['splice-step', '5.10 mm; 4.6 mm beyond its limit', 'enough'],
    // Splice S-4: 0.05 mm inside, and the gauge was off by 0.08 mm.
    ['splice-step', '0.45 mm; 0.05 mm inside its limit', 'less-than-deviation'], ['inspection', '0.15 mm; 0.35 mm inside its limit', 'enough'],
    ['splice-step', '0.25 mm; 0.25 mm inside its limit', 'enough'], ['splice-step', '0.20 mm; 0.3 mm inside its limit', 'enough'],
  ];

  test('the bridge gauge was found out a week after it was good: eleven records are in doubt, one too near its limit', async () => {
    const { spans, unclosed } = await demo.ask<InstrumentDoubtAnswer>(`instruments/${await idOf('instruments', 'BG-02')}/doubt`);
    expect(unclosed).toEqual([]);
    expect(spans.map(({ from, to }) => [from, to])).toEqual([['2026-03-02T05:40:00.000000Z', '2026-03-09T15:30:00.000000Z']]);
    expect(spans[0]?.records.map(({ record, said, margin }) => [record.kind, said, margin])).toEqual(DOUBTFUL.map(([kind, said, margin]) => [kind, `high-low ${said}`, margin]));
    // The places of six splices and four inspections; of S-3 two records are of one place.
    expect(spans[0]?.proposals.map((proposal) => [proposal.stringId, proposal.extents?.length])).toEqual([[stringId, 10]]);
  });

  test('recalled from that calibration, the same records on 6 × 221 mm of pipe; from the one before, nothing', async () => {
    const calibrations = await all<{ id: string; certificateNumber: string }>('calibrations');
    const recallOf = (number: string): Promise<RecallAnswer> =>
      demo.ask<RecallAnswer>(`recall?calibrationId=${calibrations.find(({ certificateNumber }) => certificateNumber === number)?.id ?? ''}`);
    const { strings } = await recallOf('CAL-2026-024');
    expect(strings.map(({ string, concernedTotal, footage }) => [string.id, concernedTotal, footage.nominalMm])).toEqual([[stringId, 11, 1326]]);
    expect(strings[0]?.concerned.every(({ isCertain }) => isCertain)).toBe(true);
    expect((await recallOf('CAL-2026-018')).strings).toEqual([]);
  });

  test('known before it was found out, the gauge puts nothing in doubt', async () => {
    const before = await demo.ask<InstrumentDoubtAnswer>(`instruments/${await idOf('instruments', 'BG-02')}/doubt?asKnownAt=2026-03-09T15:00:00Z`);
    expect(before.spans).toEqual([]);
  });

  test('the certificate of the hardness block ran out a day before S-5 was read, and four splices rest on it', async () => {
    const block = await idOf('instruments', 'RB-250');
    const standing = async (at: string): Promise<string> => (await demo.ask<{ state: string }>(`instruments/${block}/standing?at=${encodeURIComponent(at)}`)).state;
    expect([await standing('2026-03-05T23:59:00+01:00'), await standing('2026-03-06T10:02:00+01:00')]).toEqual(['good', 'overdue']);
    const { strings } = await demo.ask<RecallAnswer>(`recall?instrumentId=${block}`);
    // S-1, S-2, S-4, S-5: of S-3 no hardness was read, and from S-6 on the tester rests on another block.
    expect(strings.flatMap(({ concerned }) => concerned).map(({ record, isCertain, footage }) => [record.kind, isCertain, footage.fromMm])).toEqual([
      ['splice-step', false, 92_400], ['splice-step', false, 216_500], ['splice-step', false, 536_700], ['splice-step', false, 668_200],
    ]);
  });
});

describe('the seam, re-joins and repairs', () => {
  test('the seam weld stopped thirteen times, each time for one cause, and stands where the string ends', async () => {
    const { stops } = await demo.ask<SeamStopsAnswer>(`casing-strings/${stringId}/seam-stops`);
    expect(new Set(stops.map(({ cause }) => cause)).size).toBe(13);
    expect(stops).toHaveLength(13);
    expect(stops.filter(({ lasted }) => lasted.isOpen).map(({ cause }) => cause)).toEqual(['String complete']);
    // The strip jammed at 842 m, 67,250 mm at 1,300 mm a minute after 08:00; the line ran again at 09:20.
    const jam = stops.find(({ cause }) => cause === 'Strip jammed in the entry guide');
    expect([jam?.at, jam?.lasted.seconds]).toEqual(['2026-03-09T08:51:44.000000Z', 1696]);
    const checks = await Promise.all(stops.map(({ event }) => demo.ask<{ isProved: boolean }>(`seam-events/${event.id}/check`)));
    expect(checks.every(({ isProved }) => isProved)).toBe(true);
  });

  test('of the first re-join nothing is open; the film of the second was held, and it has no verdict', async () => {
    const rejoins = (await onString<{ id: string; verdict: string }>('rejoins')).map(({ id }) => id);
    const [first, second] = await Promise.all(rejoins.map((id) => demo.ask<RejoinRecordAnswer>(`rejoins/${id}/record`)));
    expect([first?.ends, first?.open]).toEqual([[{ fromMm: 368_499, toMm: 368_500 }, { fromMm: 369_300, toMm: 369_301 }], []]);
    expect(second?.open).toEqual(['757199 to 757200 mm, 757950 to 757951 mm: RT of 2026-03-07T12:35:00.000000Z held it', 'its verdict is open']);
  });

  test('the ground bead was looked at again as sensitively; the ground scratch was not looked at again', async () => {
    const { repairs, openOn } = await demo.ask<StringRepairsAnswer>(`casing-strings/${stringId}/repairs`);
    expect(repairs.map(({ on, isClosed, open }) => [on, isClosed, open])).toEqual([
      [[{ fromMm: 504_950, toMm: 505_050 }], true, []],
      [[{ fromMm: 1_113_140, toMm: 1_113_200 }], false, ['1113140 to 1113200 mm: not looked at for flaws since; done before and asked for again: visual: surface and seam']],
    ]);
    expect(openOn).toEqual([{ fromMm: 1_113_140, toMm: 1_113_200 }]);
    const { noLongerCount, since } = await demo.ask<ReinspectionAnswer>(`repairs/${repairs[0]?.repair.id ?? ''}/re-inspection`);
    const said = (looks: ReinspectionAnswer['since']): string[] => looks.map(({ method, sensitivity }) => `${method} ${sensitivity ?? ''}`.trim()).sort();
    expect(said(noLongerCount)).toEqual(['ET notch-outside 0.50 mm', 'dimensional: bead height']);
    expect(said(since)).toEqual(['ET notch-outside 0.40 mm', 'dimensional: bead height', 'visual: surface and seam']);
  });
});

describe('destructive tests', () => {
  const coverage = (): Promise<DestructiveCoverageAnswer> => demo.ask<DestructiveCoverageAnswer>(`casing-strings/${stringId}/destructive-tests`);
  const byTest = async (name: string): Promise<DestructiveCoverageAnswer['tests'][number]> => (await coverage()).tests.find(({ test: one }) => one === name)!;

  test('SP-1 is in force for all the pipe, less what was cut out', async () => {
    const { plans, pipe, untested } = await coverage();
    expect(plans.map(({ plan, fromDay, pipe: own }) => [plan?.label, fromDay, own.lengthMm])).toEqual([['SP-1 revision 1', '2026-03-02', 1_231_847 - 800 - 750]]);
    expect([pipe.lengthMm, untested]).toEqual([1_230_297, []]);
  });

  test('two coils are flattened at one end: the one passed, the other failed and its retests passed', async () => {
    const { samples, byState, unsampledEnds, missing } = await byTest('flattening');
    expect(samples.map(({ sample, state, represents }) => [sample.label, state, represents.intervals])).toEqual([
      ['TS-1', 'passed', [{ fromMm: 216_500, toMm: 368_500 }]],
      ...['TS-2', 'TS-2B', 'TS-2C'].map((ring) => [ring, 'failed, retests passed', [{ fromMm: 369_300, toMm: 536_700 }]]),
    ]);
    expect(byState.map(({ state, metres }) => [state, metres.lengthMm])).toEqual([['failed, retests passed', 167_400], ['passed', 152_000]]);
    // Nine coils have eighteen ends.
    expect([unsampledEnds.length, missing.lengthMm]).toEqual([16, 1_230_297 - 319_400]);
  });

  test('one side of one stop of thirteen is sampled: the pipe of LM-09, marked by the old scale and found by the new one', async () => {
    const { samples, unsampledEnds } = await byTest('reverse-bend');
    expect(samples.map(({ sample, represents }) => [sample.label, represents.intervals])).toEqual([['TS-4', [{ fromMm: 1_159_700, toMm: 1_231_847 }]]]);
    // Nothing lies after the last stop.
    expect(unsampledEnds).toHaveLength(13 * 2 - 1 - 1);
    const [sample] = (await onString<{ number: string; stopFootageMm: number | null }>('test-samples')).filter(({ number }) => number === 'TS-4');
    expect(sample?.stopFootageMm).toBe(1_224_500);
  });

  test('the coupon of S-4 stands for its weld alone', async () => {
    const { samples, represented } = await byTest('hardness');
    expect(samples.map(({ cut, represents, state }) => [cut, represents.intervals, state])).toEqual([['coupon of splice S-4', [{ fromMm: 536_700, toMm: 536_921 }], 'passed']]);
    expect(represented.lengthMm).toBe(0);
  });
});

describe('what inspected the pipe while it ran', () => {
  const WITHIN = 'fromMm=180000&toMm=620000';
  const proof = (query = ''): Promise<InspectionProofAnswer> => demo.ask<InspectionProofAnswer>(`casing-strings/${stringId}/inspection-proof?${WITHIN}${query}`);
  const channels = (): Promise<{ id: string; name: string }[]> => onString('channels');
  /** Of each state, where it begins and ends, m; the places of samples are whole counts of 1.006 mm. */
  const metresOf = ({ channels: all }: InspectionProofAnswer, name: string): Record<string, string> => Object.fromEntries(
    (all.find(({ channel }) => channel.label === name)?.states ?? []).map(({ state, metres }) =>
      [state, metres.intervals.map(({ fromMm, toMm }) => `${(fromMm / 1000).toFixed(1)}-${(toMm / 1000).toFixed(1)}`).join(' ')]));

  test('the seam is confirmed on one day, suspect on the next, provisional on the third; three metres and the lifted probe are missing', async () => {
    // From where the ultrasonic head, 9.6 m down the line, stood when the line began, less the cut-out at S-3.
    expect(metresOf(await proof(), 'UT-seam')).toEqual({
      confirmed: '186.4-330.0 333.0-368.0 369.8-376.5', suspect: '376.5-488.4', provisional: '488.4-601.1',
      missing: '180.0-186.4 330.0-333.0 368.0-368.5 369.3-369.8 601.1-620.0',
    });
    // The wall gauge, at 6.2 m, passed the check at which the head failed.
    expect(metresOf(await proof(), 'UT-wall')).toEqual({ confirmed: '189.8-241.0 242.2-368.5 369.3-491.8', suspect: '', provisional: '491.8-604.5', missing: '180.0-189.8 241.0-242.2 604.5-620.0' });
  });

  test('for the failed check a nonconformance is proposed, on just that pipe; the check that nobody made is told', async () => {
    const { failedChecks, channels: all } = await proof();
    expect(failedChecks.map(({ channels: own, footage, nonconformances, proposals }) => [own.map(({ label }) => label), Math.round(footage.lengthMm / 100), nonconformances, proposals.length])).toEqual([[['UT-seam'], 1119, [], 1]]);
    expect(all.map(({ channel, unmet }) => [channel.label, unmet.map(({ occasion, state, due }) => [occasion, state, due])])).toEqual(
      ['UT-seam', 'UT-wall'].map((name) => [name, [['end', 'missing', '2026-03-05T09:53:52.000000Z']]]));
  });

  test('the samples showed 4.60 mm on the day that somebody read 4.91', async () => {
    const wallId = (await channels()).find(({ name }) => name === 'UT-wall')?.id ?? '';
    const least = async (query: string): Promise<number | undefined> => {
      const { columns } = await demo.ask<{ columns: { min: (number | null)[] } }>(`casing-strings/${stringId}/signal-view?channelId=${wallId}&widthPx=1&${query}`);
      return columns.min[0] ?? undefined;
    };
    expect(await least('fromM=215.5&toM=215.7')).toBeCloseTo(4.6, 5);
    // By the scale as it was known then, the same pipe lay 1.3 m before.
    expect([await least(`fromM=214.2&toM=214.4&${THEN}`), await least(`fromM=215.5&toM=215.7&${THEN}`)]).toEqual([expect.closeTo(4.6, 5), expect.closeTo(4.95, 1)]);
  });

  test('an echo beyond the screen is a bound, and what was not read is no value', async () => {
    const seamId = (await channels()).find(({ name }) => name === 'UT-seam')?.id ?? '';
    const { columns, marks } = await demo.ask<{ columns: Record<string, number[]>; marks: { kind: string; label: string }[] }>(
      `casing-strings/${stringId}/signal-view?channelId=${seamId}&widthPx=2&fromM=250&toM=350`);
    expect(columns).toMatchObject({ max: [100, expect.closeTo(44.6, 4)], missing: [0, 298] });
    expect([columns['saturated']?.[0], columns['saturated']?.slice(1)]).toEqual([expect.any(Number), [0]]);
    expect(columns['saturated']?.[0]).toBeGreaterThan(2);
    expect(marks.filter(({ kind }) => !['splice', 'stop', 'cut-out'].includes(kind)).map(({ kind, label }) => `${kind} ${label}`).sort()).toEqual(['check-passed 3 Mar 11:52 UTC']);
  });

  test('the strip chart has every state in words, no gaps between samples that stand as far apart as they should, and no proof of what only tells of the process', async () => {
    const chart = async (query: string): Promise<string> => {
      const reply = await demo.app.getHttpAdapter().getInstance().inject({ method: 'GET', url: `/api/casing-strings/${stringId}/strip-chart.svg?${query}`, headers: demo.headers });
      expect(reply.statusCode).toBe(200);
      return reply.payload;
    };
    const whole = await chart('fromM=186&toM=602');
    for (const words of ['confirmed', 'provisional', 'suspect', 'missing', 'check failed 4 Mar 09:42 UTC', '2 gaps, 298 missing', 'not stated 416 m']) expect([words, whole.includes(words)]).toEqual([words, true]);
    const near = await chart('fromM=212&toM=222');
    expect([near.includes('all confirmed'), /[1-9]\d* gaps?\b/.test(near)]).toEqual([true, false]);
  });
});

describe('shifts', () => {
  const logOf = async (name: string): Promise<ShiftLogAnswer> => {
    const shifts = await onString<{ id: string; name: string }>('shifts');
    return demo.ask<ShiftLogAnswer>(`shifts/${shifts.find((shift) => shift.name === name)?.id ?? ''}/log`);
  };

  test('Friday handed over three items; Saturday took two and refused one, by name', async () => {
    const friday = await logOf('day 2026-03-06');
    expect(friday.crew.map(({ name, duty }) => `${name}, ${duty}`)).toEqual(['Ilka Brandt, Shift lead', 'Jorun Halvik, Welder', 'Teodor Lasch, Seam operator']);
    expect(friday.events.map(({ category, about }) => [category, about?.kind])).toEqual([['equipment', 'line-setup']]);
    expect(friday.handovers.map(({ outcome, givenByName, acceptedByName, acceptance }) => [outcome, givenByName, acceptedByName, acceptance?.items.map(({ accepted }) => accepted)])).toEqual([
      ['partly', 'Ilka Brandt', 'Piet Solberg', [true, true, false]],
    ]);
    expect(friday.open).toEqual(['item 3 of the handover of 2026-03-06T17:40:00.000000Z was refused: Not said from whom, or until when']);
    expect((await logOf('day 2026-03-07')).received.map(({ outcome }) => outcome)).toEqual(['partly']);
  });

  test('the line stood when Friday began and when it ended; one weld and four steps were made', async () => {
    const { stops, records, lateTotal } = await logOf('day 2026-03-06');
    expect(stops.map(({ footageMm, beganBefore, outlasts }) => [footageMm, beganBefore, outlasts])).toEqual([[610_642, true, false], [716_000, false, true]]);
    const made = new Map(records.map(({ kind, total }) => [kind, total]));
    // Of S-5: welded, released, examined after forming, seen at two stations.
    expect([made.get('weld'), made.get('splice-step'), made.get('seam-event'), lateTotal]).toEqual([1, 4, 2, 0]);
  });

  test('to the handover of Saturday nobody has said anything', async () => {
    const saturday = await logOf('day 2026-03-07');
    expect(saturday.handovers.map(({ outcome, acceptedByName }) => [outcome, acceptedByName])).toEqual([['not-accepted', null]]);
    expect(saturday.open).toEqual(['the handover of 2026-03-07T17:45:00.000000Z was accepted by nobody']);
  });

  test('what is open on the string, the oldest first', async () => {
    const { items, cutOut } = await demo.ask<OpenItemsAnswer>(`casing-strings/${stringId}/open-items`);
    expect(items.map(({ what, words }) => `${what}: ${words.slice(0, 40)}`)).toEqual([
      'inspection: wall thickness 4.61 mm: rejected', 'chart-signals: 1 signal waits for the reaction of the p', 'inspection: bead height 1.62 mm: for evaluation', 'splice: in doubt: Hardness of the heat-affected ', 'splice-step: splice S-5, after-forming: held',
      'handover-item: Hardness block with a certificate that h', 'examination: RT, held: Film 3 of 4 is fogged between ', 'rejoin: no verdict yet', 'handover-item: Film 3 of the second re-join is fogged a',
      'weld: outside its procedure: 26.4 V, voltage: ', 'splice: its place is predicted, and was not conf', 'repair: 1113140 to 1113200 mm: not looked at for', 'stop: the line stands: String complete', 'nonconformance: Wall below minimum before splice S-2 (ma',
    ]);
    expect(items.find(({ what }) => what === 'rejoin')?.footage).toEqual([{ fromMm: 757_199, toMm: 757_200 }, { fromMm: 757_950, toMm: 757_951 }]);
    expect(items.find(({ what }) => what === 'repair')?.footage).toEqual([{ fromMm: 1_113_140, toMm: 1_113_200 }]);
    // Splice S-3, two looks at it, its lapped edges and the open seam.
    expect(cutOut).toBe(5);
  });
});

describe('the story', () => {
  test('unfolds in order, before today: nothing was recorded before it was observed', async () => {
    const tables = (await recordTables(demo)).filter(({ isOfEvents }) => isOfEvents).map(({ table }) => table);
    expect(tables.length).toBeGreaterThan(40);
    const early = await demo.dataSource.query<unknown[]>(
      tables.map((table) => `select '${table}' as of, id::text from ${table} where known_from < observed_at`).join(' union all '),
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

/** The tables of records; `isOfEvents` when their rows say when something happened. */
async function recordTables({ dataSource }: DemoApi): Promise<{ table: string; isOfEvents: boolean }[]> {
  return dataSource.query<{ table: string; isOfEvents: boolean }[]>(
    `select table_name as "table", bool_or(column_name = 'observed_at') as "isOfEvents" from information_schema.columns
       where table_schema = 'public' group by 1 having bool_or(column_name = 'known_from') order by 1`,
  );
}

/** Every row of every table of records, but those of the heat that a test added; by table. */
async function contentOf(api: DemoApi): Promise<Record<string, unknown>> {
  const content: Record<string, unknown> = {};
  for (const { table } of await recordTables(api)) {
    const kept = table === 'heat' ? "where number <> 'H40999'" : '';
    const rows = await api.dataSource.query<{ row: unknown }[]>(
      `select to_jsonb(t) - 'request_id' as row from ${table} as t ${kept} order by (to_jsonb(t) - 'request_id')::text`,
    );
    content[table] = rows.map(({ row }) => row);
  }
  return content;
}

describe('evidence and release', () => {
  interface Line { readonly code: string; readonly stretches: readonly { readonly fromMm: number; readonly toMm: number; readonly state: string }[] }
  interface Standing { readonly reopened: { readonly lengthMm: number }; readonly releases: readonly { readonly isMoved: boolean; readonly changes: readonly { readonly code: string; readonly worse: boolean }[] }[] }

  /** Stretches of one state that touch are told as one. */
  const along = ({ items }: { readonly items: readonly Line[] }, code: string): string => {
    const told: { state: string; fromMm: number; toMm: number }[] = [];
    for (const { state, fromMm, toMm } of items.find((one) => one.code === code)?.stretches ?? []) {
      const last = told.at(-1);
      if (last?.state === state && last.toMm === fromMm) last.toMm = toMm;
      else told.push({ state, fromMm, toMm });
    }
    return told.map(({ state, fromMm, toMm }) => `${state} ${fromMm}-${toMm}`).join(', ');
  };

  test('the pipe of the fourth day is suspect by its ultrasonic head, that of the first day conceded, and a splice is not asked of it', async () => {
    const evidence = await demo.ask<{ items: Line[] }>(`casing-strings/${stringId}/evidence?fromM=180&toM=390`);
    expect(along(evidence, 'UT-S')).toBe(
      'conceded 180000-185000, missing 185000-186400, confirmed 186400-216000, not-required 216000-217221, confirmed 217221-330006, missing 330006-333004, confirmed 333004-368000, not-required 368000-368500, not-required 369300-369800, confirmed 369800-376504, suspect 376504-390000',
    );
    expect(along(evidence, 'COIL')).toBe('confirmed 180000-368500, confirmed 369300-390000');
    expect(along(evidence, 'NCR')).toBe('confirmed 180000-215300, failed 215300-217800, confirmed 217800-368500, confirmed 369300-390000');
  });

  test('what Ilka released stood on the 14th, and was reopened by the counter two days later', async () => {
    const standing = (query: string): Promise<Standing> => demo.ask<Standing>(`casing-strings/${stringId}/release-standing${query}`);
    expect(await standing(`?${THEN}`)).toMatchObject({ released: { lengthMm: 110_000 }, reopened: { lengthMm: 0 }, releases: [{ isMoved: false, ownWork: true, changes: [] }] });
    const now = await standing('');
    expect(now).toMatchObject({ released: { lengthMm: 0 }, reopened: { lengthMm: 110_000 }, releases: [{ isMoved: true }] });
    expect(now.releases[0]?.changes).toContainEqual(expect.objectContaining({ code: 'NCR', worse: true, fromMm: 215_300, toMm: 217_800 }));
  });
});

describe('control charts', () => {
  interface Chart extends Record<string, unknown> {
    readonly chart: { readonly id: string; readonly label: string };
    readonly waiting: readonly Record<string, unknown>[];
  }
  const chartsOf = async (): Promise<Map<string, Chart>> => {
    const { charts } = await demo.ask<{ charts: readonly Chart[] }>(`casing-strings/${stringId}/chart-signals`);
    return new Map(charts.map((one) => [one.chart.label.slice(0, 4), one]));
  };

  test('the usual chart of the wall is warned of, and the least wall of each metre signals where it was thin, which led to NC-0003', async () => {
    const charts = await chartsOf();
    const [usual, least] = [charts.get('WT-1'), charts.get('WT-3')];
    const trial = await demo.ask<{ points: number; coils: number; lagOne: { phi: number }; warnings: { code: string; text: string }[]; better: { chart: string; signals: number; warnings: { code: string; text: string }[] }; signals: unknown[] }>(`control-charts/${usual?.chart.id ?? ''}/trial-limits?fromM=196&toM=610`);
    expect(trial).toMatchObject({ better: { chart: 'residuals', warnings: [{ code: 'drift-unseen' }] }, warnings: [{ code: 'correlated' }, { code: 'between' }, { code: 'signals-left' }] });
    expect(trial.better.signals).toBeLessThan(trial.signals.length / 4);
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    expect(readme).toContain(`${trial.points} points of ${trial.coils} coils, ${trial.signals.length} signals, lag-1 correlation ${trial.lagOne.phi.toFixed(2)}`);
    expect(readme).toContain(`better: ${trial.better.chart}, ${trial.better.signals} signals`);
    for (const { code, text } of [...trial.warnings.slice(0, 2), ...trial.better.warnings]) expect(text).toContain(new RegExp(`^  ${code} +(.+?) \\.\\.\\.$`, 'm').exec(readme)?.[1] ?? `${code} in the README`);
    expect(least).toMatchObject({ answered: 1, waiting: [{ panel: 'values', rule: 'one-beyond-3-sigma' }], proposesNonconformance: { intervals: [{ fromMm: 215_001, toMm: 216_001 }] } });
    const { parts } = await demo.ask<{ parts: { signals: unknown[]; outOfSpecification: unknown[] }[] }>(`control-charts/${least?.chart.id ?? ''}/chart?fromM=210&toM=220`);
    expect(parts).toMatchObject([{ signals: [{ reactions: [{ kind: 'chart-reaction' }] }], outOfSpecification: [{ value: 4.6, side: 'below' }] }]);
  });

  test('a chart is asked for by the depth of either wall, by coil and by time, and says the footage that it is of', async () => {
    const chartId = (await chartsOf()).get('WT-3')?.chart.id ?? '';
    const { items } = await demo.ask<{ items: { id: string; number: string }[] }>('coils?limit=50');
    const asked = async (query: string): Promise<unknown> => {
      const { footage, parts } = await demo.ask<{ footage: unknown; parts: { points: { fromMm: number; coil: string }[]; signals: { place: unknown }[] }[] }>(`control-charts/${chartId}/chart?${query}`);
      return { footage, coils: [...new Set(parts.flatMap(({ points }) => points.map(({ coil }) => coil)))], signals: parts.flatMap(({ signals }) => signals.map(({ place }) => place)) };
    };
    const thin = { fromMm: 215_001, toMm: 216_001 };
    expect(await asked('by=outer&fromM=211&toM=212.9')).toMatchObject({ footage: { fromMm: expect.any(Number) }, signals: [thin] });
    expect(await asked(`by=coil&coilId=${items.find(({ number }) => number === 'LM-03')?.id ?? ''}`)).toMatchObject({ coils: expect.arrayContaining(['LM-03']), signals: [] });
    expect(await asked('by=time&fromTime=2026-03-03T08:00:00Z&toTime=2026-03-03T09:00:00Z')).toMatchObject({ signals: [thin] });
    // The inner wall holds the last pipe made, which nothing is sampled on.
    expect(await asked('by=inner&fromM=100&toM=110')).toMatchObject({ signals: [], coils: [] });
  });

  test('limits by the long-term spread do not cry wolf over the days after', async () => {
    const longTerm = (await chartsOf()).get('WT-2');
    expect(longTerm).toMatchObject({ waiting: [], answered: 0, withoutLimits: [{ fromMm: 0, toMm: 186_000 }] });
    const { control } = await demo.ask<{ control: string }>(`control-charts/${longTerm?.chart.id ?? ''}/capability?fromM=190&toM=610`);
    expect(control).toMatch(/none of its 106 points signals\. Its 106 readings say as much as 1\.7 independent ones: that none signals says little\. .* Between the readings lie 359\.554 m that nobody read for this chart/);
  });
});

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

  const files = [...readme.matchAll(/^get "([^"\s]+)" > (?!evidence)\S+\.(svg|pdf|csv)$/gm)].map(([, path = '', kind = '']) => ({ path: path.replaceAll('$S', MAIN_STRING_ID), kind }));

  test.each(files)('$path is a $kind file', async ({ path, kind }) => {
    const { statusCode, headers, payload } = await demo.app.getHttpAdapter().getInstance().inject({ method: 'GET', url: `/api/${path}`, headers: demo.headers });
    const begins = { svg: '<?xml', pdf: '%PDF-', csv: 'counter,footageMm,value,sentInstead,status\n' }[kind] ?? '';
    expect([files.length, statusCode, headers['content-type'], payload.slice(0, begins.length)]).toEqual([4, 200, { svg: 'image/svg+xml', pdf: 'application/pdf', csv: 'text/csv' }[kind], begins]);
  });

  test('the part of samples that it sends is taken by the run that it names', async () => {
    const headers = { ...await demo.headersOf('piet'), 'content-type': 'application/json' };
    const server = demo.app.getHttpAdapter().getInstance();
    const upload = /^UP=(\S+)\npost signal-uploads application\/json -d '([^]*?)'\n(?=printf)/m.exec(readme);
    const csv = /^printf '([^']+)' > part\.csv$/m.exec(readme)?.[1]?.replaceAll('\\n', '\n') ?? '';
    const url = /"\$U(\/api\/signal-uploads\/\$UP[^"]+)"/.exec(readme)?.[1]?.replace('$UP', upload?.[1] ?? '') ?? '';
    const digest = `sha-256=:${createHash('sha256').update(csv).digest('base64')}:`;
    const opened = await server.inject({ method: 'POST', url: '/api/signal-uploads', headers, payload: upload?.[2]?.replace("'$UP'", upload[1] ?? '') ?? '' });
    const part = await server.inject({ method: 'PUT', url, headers: { ...headers, 'content-type': 'text/csv', 'content-digest': digest }, payload: csv });
    expect([opened.statusCode, part.statusCode, part.json<{ samples: number; isNew: boolean }>()]).toEqual([201, 200, expect.objectContaining({ samples: 2, isNew: true })]);
  });
});
