/**
 * `npm run bench`: the program beside bare handlers on the same database in the same run. Ratios are what counts; the
 * absolute numbers are of this machine at this moment.
 */
import { spawnSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { v7 as uuidv7 } from 'uuid';
import { startEmbeddedPostgres } from '../../libs/persistence/embedded/index.js';
import { anotherInspection, enterString, type Client } from './bench-string.js';
import { compareChartRequests } from './chart-requests.js';
import { chartRowCosts, type RowCost } from './chart-row.js';
import { type ChartFigures, chartReadings, type ChartSpeed, compareCharts } from './charts.js';
import { chartsInR } from './charts-in-r.js';
import { askClock, listenedTo, runningString, tellCost } from './clock.js';
import { compareImport, compareSearch, enterSpecification, fillCoils, importPeakMb, LARGE_BYTES, SMALL_BYTES } from './incoming.js';
import { compareDetection, MAKES } from './indications.js';
import { compareEvidence } from './evidence.js';
import { enterEvidenceString } from './evidence-string.js';
import { compareIngest, type Speeds } from './ingest.js';
import { compare, type Comparison, type Load } from './load.js';
import { copyString } from './more-strings.js';
import { ROWS_OF_SPLICE, spliceLoads } from './splices.js';
import { freePort, residentMb, start, type Running } from './processes.js';
import { partSpeeds } from './sample-files.js';
import { compareTable } from './sample-table.js';
import { asked as answered } from './signal-string.js';
import { signalSpeeds } from './signals.js';
import { detectionOverStored } from './stored-detection.js';
import { compareViews, questionAt, sendStrings, type Percentiles, type ViewedString } from './views.js';

const ROUNDS = 5;
const SECONDS = 4;
const STRINGS = 2000;
const PASSWORD = 'bench bench bench bench';
const BUILT = fileURLToPath(new URL('../..', import.meta.url));
const MAIN = join(BUILT, 'apps/api/src/main.js');

const isNumber = (word: string): boolean => /^\d+$/.test(word);
const kilometres = (usual: number): number => Number(process.argv.slice(2).find(isNumber) ?? usual);

const say = (line: string): void => void process.stdout.write(`${line}\n`);

function report(what: string, { baseline, program, rateRatio, p99Ratio }: Comparison, target: string): void {
  say(what);
  say(`  bare handler ${baseline.perSecond.toFixed(0)}/s, p99 ${baseline.p99Ms.toFixed(1)} ms, ${baseline.failures} failed`);
  say(`  program      ${program.perSecond.toFixed(0)}/s, p99 ${program.p99Ms.toFixed(1)} ms, ${program.failures} failed`);
  say(`  rate ratio ${rateRatio.toFixed(2)}, p99 ratio ${p99Ratio.toFixed(2)}   (target: ${target})`);
}

async function post(url: string, body: object, token?: string): Promise<Record<string, unknown>> {
  const headers = { 'content-type': 'application/json', ...(token === undefined ? {} : { authorization: `Bearer ${token}` }) };
  const reply = await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) });
  if (!reply.ok) throw new Error(`${url}: ${reply.status} ${await reply.text()}`);
  return (await reply.json()) as Record<string, unknown>;
}

/** The first administrator by the command, an engineer by the administrator, and the engineer's token. */
async function engineer(url: string, env: NodeJS.ProcessEnv): Promise<Client> {
  const command = join(BUILT, 'apps/api/src/first-administrator.js');
  const made = spawnSync(process.execPath, [command, '--name', 'Bench Administrator', '--sign-in', 'administrator'], {
    env: { ...process.env, ...env }, input: `${PASSWORD}\n`, encoding: 'utf8',
  });
  if (made.status !== 0) throw new Error(made.stderr);
  const signIn = (name: string): Promise<Record<string, unknown>> => post(`${url}/api/sign-in`, { name, password: PASSWORD });
  const administrator = await signIn('administrator');
  const person = {
    id: uuidv7(), observedAt: new Date().toISOString(), name: 'Bench Engineer', signInName: 'engineer',
    roles: ['materials-engineer'], active: true, password: PASSWORD,
  };
  await post(`${url}/api/people`, person, String(administrator['token']));
  const { token } = await signIn('engineer');
  return { url, token: String(token) };
}

/** The program, and the bare server beside it, on one new database. */
interface Stage {
  readonly databaseUrl: string;
  readonly owner: pg.Client;
  readonly client: Client;
  readonly program: Running;
  /** Ends the program and starts it again. */
  readonly restart: () => Promise<void>;
  /** Starts the bare server; `segmentId` is what its one SELECT reads. */
  readonly bare: (segmentId: string) => Promise<Running>;
}

async function onStage(folder: string, work: (stage: Stage) => Promise<void>, settings: NodeJS.ProcessEnv = {}): Promise<void> {
  const database = await startEmbeddedPostgres({ dataFolder: join(folder, 'database') });
  const [port, barePort] = [await freePort(), await freePort()];
  const url = `http://127.0.0.1:${port}`;
  const env = {
    DATABASE_URL: database.url, PORT: String(port), EVERYMETRE_DATA: join(folder, 'program'), EVERYMETRE_DEMO: 'off',
    NODE_ENV: 'production', ...settings,
  };
  const begin = (): Promise<Running> => start(MAIN, [], env, `${url}/health/live`);
  let program = await begin();
  const owner = new pg.Client({ connectionString: database.url });
  await owner.connect();
  try {
    await owner.query('create table bare_entry (id uuid primary key, note text not null)');
    await owner.query('create table bare_part (id uuid primary key, splice_id uuid not null, entered_at timestamptz not null, content jsonb not null)');
    const bareUrl = `http://127.0.0.1:${barePort}/one`;
    await work({
      databaseUrl: database.url, owner, program, client: await engineer(url, env),
      restart: async () => {
        await program.stop();
        program = await begin();
      },
      bare: (segmentId) => start(join(BUILT, 'test/bench/bare-server.js'), [database.url, segmentId, String(barePort)], {}, bareUrl),
    });
  } finally {
    await owner.end();
    await program.stop();
    await database.stop();
    // As root the data lie elsewhere than asked for.
    await rm(database.dataFolder, { recursive: true, force: true });
  }
}

async function compareStrings({ owner, client, program, bare }: Stage): Promise<void> {
  const { stringId, segmentId } = await enterString(client);
  const server = await bare(segmentId);
  try {
    await compareOn(owner, client, stringId, server.url);
    say(`API process after the load: ${residentMb(program).toFixed(0)} MB resident`);
  } finally {
    await server.stop();
  }
}

async function compareIncoming({ owner, client, bare }: Stage): Promise<void> {
  await enterSpecification(async (path, body) => { await post(`${client.url}/api/${path}`, body, client.token); });
  const { importS, copyS, parseS, readS, ratio } = await compareImport(owner, client);
  say('Import and evaluation of a certificate file of 10,000 coils, 33 columns');
  say(`  COPY ${copyS.toFixed(3)} s, parsing ${parseS.toFixed(3)} s, import ${importS.toFixed(3)} s: ${ratio.toFixed(2)} times both   (target: at most 4)`);
  say(`  reading its certificates alone ${readS.toFixed(3)} s: ${(readS / parseS).toFixed(2)} times parsing   (aim 1.8)`);
  const { segmentId } = await enterString(client);
  await fillCoils(owner, 100_000);
  const server = await bare(segmentId);
  try {
    const { part, slip } = await compareSearch(client, server.url);
    report('Search for part of a number, 100,000 coils', part, 'rate at least 0.33');
    report('Search for a number with a typing slip, 100,000 coils', slip, 'rate at least 0.33');
  } finally {
    await server.stop();
  }
}

async function compareSplices({ owner, client, bare }: Stage): Promise<void> {
  const server = await bare(uuidv7());
  try {
    const { sameRows, plainRows, program } = await spliceLoads(client, owner, server.url);
    const what = `A whole splice, ${ROWS_OF_SPLICE} rows and their history in one request, durable`;
    report(`${what}; bare: the same rows in the same tables`, await compare(sameRows, program, ROUNDS, SECONDS), 'rate at least 0.40');
    report(`${what}; bare: as many rows in a table without keys and guards`, await compare(plainRows, program, ROUNDS, SECONDS), 'none');
  } finally {
    await server.stop();
  }
}

async function importMemory({ client, program }: Stage, bytes: number): Promise<void> {
  await enterSpecification(async (path, body) => { await post(`${client.url}/api/${path}`, body, client.token); });
  const idle = residentMb(program);
  const { peakMb, seconds } = await importPeakMb(client, program, bytes);
  say(`Import of ${(bytes / 1_048_576).toFixed(0)} MB: ${seconds.toFixed(0)} s; API process with a heap of 128 MB: ${idle.toFixed(0)} MB before, ${peakMb.toFixed(0)} MB at most   (target: flat from 10 to 200 MB)`);
}

async function compareOn(owner: pg.Client, client: Client, stringId: string, bareUrl: string): Promise<void> {
  const headers = { authorization: `Bearer ${client.token}` };
  const select: Load = { url: bareUrl };
  let asked = 0;
  const depth = (): string => (5 + ((asked++ * 37.137) % 570)).toFixed(3);
  const trace: Load = { url: client.url, headers, path: () => `/api/casing-strings/${stringId}/trace?by=md&fromM=${depth()}` };
  const alone = await compare(select, trace, ROUNDS, SECONDS);
  report('Trace of one depth, 40-coil string', alone, 'rate at least 0.40, p99 under 5');

  await copyString(owner, STRINGS - 1);
  const among = await compare(select, trace, ROUNDS, SECONDS);
  report(`Trace of one depth with ${STRINGS} strings in the database`, among, 'time within 1.3 of that with one');
  say(`  time against one string, each beside its own baseline: ${(alone.rateRatio / among.rateRatio).toFixed(2)}`);

  const insert: Load = { url: bareUrl, method: 'POST', body: () => JSON.stringify({ id: uuidv7(), note: 'bare' }) };
  let entries = 0;
  const inspection: Load = {
    url: `${client.url}/api/inspections`, headers, method: 'POST', body: () => anotherInspection(stringId, entries++),
  };
  report('One inspection entry, durable', await compare(insert, inspection, ROUNDS, SECONDS), 'rate at least 0.50');
}

function detectionSpeeds(): Promise<void> {
  for (const make of MAKES) {
    const { bare, detector, timeRatio, indications } = compareDetection(make);
    say(`Detection over 10 million samples, blocks of 4,096: ${make.what}; ${indications} indications`);
    say(`  comparing alone ${(bare / 1e6).toFixed(0)} million/s, detector ${(detector / 1e6).toFixed(0)} million/s: ${timeRatio.toFixed(2)} times its time   (target: at least 50 million/s)`);
  }
  return Promise.resolve();
}

async function startTimes(folder: string): Promise<void> {
  const port = await freePort();
  const url = `http://127.0.0.1:${port}/health/live`;
  const env = { PORT: String(port), EVERYMETRE_DATA: join(folder, 'own'), NODE_ENV: 'production' };
  const first = await start(MAIN, [], env, url);
  say(`First start, with initdb, migrations and demo: ${(first.startMs / 1000).toFixed(1)} s   (aim 25 s)`);
  await first.stop();
  const warm = await start(MAIN, [], env, url);
  await new Promise((resolve) => setTimeout(resolve, 3000));
  say(`Warm start to first answer: ${(warm.startMs / 1000).toFixed(1)} s   (aim 4 s)`);
  say(`API process, idle: ${residentMb(warm).toFixed(0)} MB resident   (aim 200 MB)`);
  await warm.stop();
}

function compareSignals(): Promise<void> {
  say('Blocks of 4,096 samples in this process, beside copying their arrays');
  for (const { kind, share, encodedPerSecondM, decodedPerSecondM, copiedPerSecondM, encodeRatio, decodeRatio } of signalSpeeds()) {
    say(`  ${kind}: ${(share * 100).toFixed(0)} % of raw float32; million samples/s: encode ${encodedPerSecondM.toFixed(0)}, decode ${decodedPerSecondM.toFixed(0)}, copy ${copiedPerSecondM.toFixed(0)}`);
    say(`    time against the copy: encode ${encodeRatio.toFixed(1)}, decode ${decodeRatio.toFixed(1)}   (target: none)`);
  }
  return Promise.resolve();
}

const millions = (rate: number): string => `${(rate / 1e6).toFixed(2)} million/s`;
const ratioText = ({ ratio, least, most }: Speeds): string => `${ratio.toFixed(2)} (${least.toFixed(2)} to ${most.toFixed(2)})`;

async function ingest({ owner, client, program }: Stage): Promise<void> {
  const { samples, rawCopy, packedCopy, csv, idleMb, peakMb, bytesASample, rawBytesASample } = await compareIngest(owner, client, program, kilometres(1));
  say(`Samples of eight channels over the network into blocks with their pyramid, ${(samples / 1e6).toFixed(0)} million, in windows by turns of which the first is left out; load average ${loadavg()[0]?.toFixed(1)}`);
  say(`  Arrow ${millions(rawCopy.program)}; COPY of raw float32 blocks ${millions(rawCopy.bare)}: ${ratioText(rawCopy)} times its speed   (target: at least 0.5)`);
  say(`  COPY of the packed blocks ${millions(packedCopy.bare)}: ${ratioText(packedCopy)} times its speed   (target: none)`);
  say(`  CSV ${millions(csv.program)}; csv-parse alone ${millions(csv.bare)}: ${ratioText(csv)} times its speed   (target: at least 0.3)`);
  say(`  on disk ${bytesASample.toFixed(2)} bytes a sample: ${((bytesASample / 4) * 100).toFixed(0)} % of float32, ${((bytesASample / rawBytesASample) * 100).toFixed(0)} % of the raw table   (target: at most 60 %)`);
  say(`  API process ${idleMb.toFixed(0)} MB before, ${peakMb.toFixed(0)} MB at most   (target: under 300 MB)`);
}

const VIEWS = 150;
const LONGEST_KM = 100;
const percentilesText = ({ p50, p95 }: Percentiles): string => `p50 ${p50.toFixed(1)} ms, p95 ${p95.toFixed(1)} ms`;
const ratiosText = (one: Percentiles, other: Percentiles): string => `${(one.p50 / other.p50).toFixed(2)} times at p50, ${(one.p95 / other.p95).toFixed(2)} at p95`;

async function views(stage: Stage): Promise<void> {
  const strings = await sendStrings(stage.owner, stage.client, kilometres(LONGEST_KM));
  await stage.restart();
  const bare = await stage.bare(uuidv7());
  try {
    await sayViews(stage, new URL(bare.url).origin, strings);
  } finally {
    await bare.stop();
  }
  const middle = strings.find(({ km }) => km === 10) ?? strings[0];
  if (middle === undefined) throw new Error('no string was sent');
  await sayAnswers(stage, middle);
  await sayDetection(stage, middle);
  const { samples, program, table, alike } = await compareTable(stage.client, middle, VIEWS);
  say(`The same views of ${(samples / 1e6).toFixed(0)} million samples from a table of DuckDB in memory, in this process; ${alike} columns compared and alike`);
  say(`  program over the network ${percentilesText(program)}; DuckDB without one ${percentilesText(table)}: ${ratiosText(program, table)}   (target: none)`);
}

async function sayViews({ client }: Stage, bareUrl: string, strings: readonly ViewedString[]): Promise<void> {
  const figures = await compareViews(client, bareUrl, strings, VIEWS);
  say(`Views of 1,200 columns at ${VIEWS} random scales and places a string, by turns; load average ${loadavg()[0]?.toFixed(1)}`);
  for (const { km, firstMs, secondMs, view, rows, summaries } of figures) {
    say(`  ${km} km: ${percentilesText(view)}; first after a start, all of it ${firstMs.toFixed(0)} ms, again ${secondMs.toFixed(0)} ms`);
    say(`    bare handler, the same rows of pages and blocks ${percentilesText(rows)}: ${ratiosText(view, rows)}   (target: p95 at most 3)`);
    say(`    bare handler, as many summaries as rows ${percentilesText(summaries)}: ${ratiosText(view, summaries)}   (the same)`);
  }
  const [shortest, longest] = [figures[0], figures.at(-1)];
  if (shortest !== undefined && longest !== undefined) say(`  ${longest.km} km against ${shortest.km} km: ${ratiosText(longest.view, shortest.view)}   (target: within 1.3)`);
}

async function sayAnswers({ client }: Stage, string: ViewedString): Promise<void> {
  const { stringId, channelId, km } = string;
  const paths = {
    'inspection proof': `/api/casing-strings/${stringId}/inspection-proof?channelId=${channelId}`, 'all of it as a view': questionAt(string, 0, km * 1_000_000).view,
    'a kilometre of samples, Arrow': `/api/casing-strings/${stringId}/samples?channelId=${channelId}&fromM=0&toM=1000&format=arrow`,
    'a kilometre of samples, CSV': `/api/casing-strings/${stringId}/samples?channelId=${channelId}&fromM=0&toM=1000&format=csv`,
  };
  for (const [what, path] of Object.entries(paths)) {
    const [first, second] = [await answered(client, path), await answered(client, path)];
    say(`  ${km} km, ${what}: ${first.ms.toFixed(0)} ms, again ${second.ms.toFixed(0)} ms, ${(second.bytes.length / 1e6).toFixed(1)} MB   (for information)`);
  }
}

async function sayDetection({ databaseUrl }: Stage, string: ViewedString): Promise<void> {
  const { samples, indications, reading, both, detector, wall } = await detectionOverStored(databaseUrl, string);
  say(`Detection over ${(samples / 1e6).toFixed(0)} million samples read from the store, by processor time of this process; ${indications} indications`);
  say(`  detector alone ${millions(detector)}, reading alone ${millions(reading)}, both ${millions(both)} (by the clock ${millions(wall)}): reading is ${((1 - both / detector) * 100).toFixed(0)} % of it`);
}

async function evidence({ client, bare }: Stage): Promise<void> {
  const string = await enterEvidenceString(client);
  const server = await bare(uuidv7());
  try {
    const { records, bytes, bare: rows, whole, afterInspection, afterAttendance, unchanged } = await compareEvidence(client, new URL(server.url).origin, string);
    say(`Evidence for all pipe of a string of 10 km, by turns; load average ${loadavg()[0]?.toFixed(1)}`);
    say(`  bare handler, its ${records} records ${percentilesText(rows)}`);
    say(`  nothing kept ${percentilesText(whole)}, ${(bytes / 1e6).toFixed(1)} MB: ${ratiosText(whole, rows)}   (target: at most 3)`);
    say(`  after one more inspection ${percentilesText(afterInspection)}: ${ratiosText(afterInspection, whole)} of that   (target: at most 0.3)`);
    say(`  after one more attendance ${percentilesText(afterAttendance)}: ${ratiosText(afterAttendance, whole)} of that   (the same)`);
    say(`  nothing changed ${percentilesText(unchanged)}: ${ratiosText(unchanged, whole)} of that   (target: none)`);
  } finally {
    await server.stop();
  }
}

async function chartRow(stage: Stage): Promise<void> {
  const { databaseUrl, owner, client } = stage;
  const km = kilometres(10);
  const string = (await sendStrings(owner, client, km)).at(-1);
  if (string === undefined) throw new Error('no string was sent');
  await sayChartRequests(stage, string);
  say(`The row of a chart of one channel on ${string.km} km, in this process by turns with bare queries; processor time of this process, and by the clock; load average ${loadavg()[0]?.toFixed(1)}`);
  for (const { windowM, points, summaries, row, again, pages, rows } of await chartRowCosts(databaseUrl, string)) {
    say(`  windows of ${windowM} m: ${points} points from ${summaries} summaries, nothing kept ${costText(row)}; again ${costText(again)}`);
    say(`    the same pages as they are stored ${costText(pages)}: ${(row.cpuMs / pages.cpuMs).toFixed(2)} times, by the clock ${(row.wallMs / pages.wallMs).toFixed(2)}   (target: none)`);
    say(`    as many summaries from rows of their own ${costText(rows)}: ${(row.cpuMs / rows.cpuMs).toFixed(2)} times, by the clock ${(row.wallMs / rows.wallMs).toFixed(2)}   (target: at most 3)`);
  }
}

async function sayChartRequests({ client, bare }: Stage, string: ViewedString): Promise<void> {
  const server = await bare(uuidv7());
  try {
    say(`Charts over all ${string.km} km of a channel, with trial limits from all of it, over the network by turns with a bare handler that fetches as many summaries from rows of their own; load average ${loadavg()[0]?.toFixed(1)}`);
    for (const { windowM, size, everyM, points, summaries, megabytes, firstMs, chart, bare: rows } of await compareChartRequests(client, new URL(server.url).origin, string)) {
      say(`  ${size} windows of ${windowM} m every ${everyM} m: ${points} points, ${summaries} summaries, ${megabytes.toFixed(1)} MB; first ${firstMs.toFixed(0)} ms, then ${percentilesText(chart)}`);
      say(`    bare handler ${percentilesText(rows)}: ${ratiosText(chart, rows)}   (target: at most 3)`);
    }
  } finally {
    await server.stop();
  }
}

const costText = ({ cpuMs, wallMs }: RowCost): string => `${cpuMs.toFixed(1)} ms (${wallMs.toFixed(1)} ms)`;

function comparePartReading(): Promise<void> {
  say('Parts of an upload in this process, three channels');
  for (const { what, beside, megabytes, samplesPerSecondM, timeRatio } of partSpeeds()) {
    say(`  ${what}: ${megabytes.toFixed(1)} MB, ${samplesPerSecondM.toFixed(1)} million samples/s; ${timeRatio.toFixed(2)} times the time of ${beside}`);
  }
  say('  (target: CSV at most 2 times csv-parse)');
  return Promise.resolve();
}

async function charts(folder: string): Promise<void> {
  const readings = chartReadings();
  const { figures, firstMs, bareMs, reusing, anew } = compareCharts(readings);
  const spread = ({ ms, ratio, least, most }: ChartSpeed): string => `${ms.toFixed(2)} ms, ${ratio.toFixed(2)} (${least.toFixed(2)} to ${most.toFixed(2)}) times its time`;
  say(`Charts of means and deviations of 200,000 subgroups of 5: limits, and what signals by the rules of Western Electric; processor time, by turns; load average ${loadavg()[0]?.toFixed(1)}`);
  say(`  one pass for mean and variance of all readings ${bareMs.toFixed(2)} ms; charts written over earlier ones ${spread(reusing)}   (target: at most 3)`);
  say(`  charts in new memory ${spread(anew)}; the first charts of the process ${firstMs.toFixed(0)} ms   (the same; none)`);
  const other = await chartsInR(folder, readings);
  if (other === null) {
    say('  R is not installed (package r-base-core): nothing beside it');
    return;
  }
  say(`  R ${other.chartMs.toFixed(1)} ms: ${(other.chartMs / anew.ms).toFixed(1)} times charts in new memory; its figures are ${areSame(figures, other) ? 'the same' : 'other ones'}   (target: none)`);
}

function areSame(one: ChartFigures, other: ChartFigures): boolean {
  const isSame = (figure: number, another: number): boolean => Math.abs(figure / another - 1) < 1e-12;
  return isSame(one.grandMean, other.grandMean) && isSame(one.meanDeviation, other.meanDeviation) && one.signals.join() === other.signals.join();
}

const CLOCK_READINGS = 20_000;
const LISTENERS = 200;
const LISTEN_S = 20;

async function holdClock({ databaseUrl, owner, client }: Stage): Promise<void> {
  const { silent, unwatched, watched } = await tellCost(databaseUrl, owner, ROUNDS);
  say('Readings of eight lines, a connection each, durable, by turns');
  say(`  ${silent.toFixed(0)}/s without telling, ${unwatched.toFixed(0)}/s where nobody watches: ${(unwatched / silent).toFixed(2)}; ${watched.toFixed(0)}/s where all are watched: ${(watched / silent).toFixed(2)}   (target: at least 0.9 where nobody watches)`);
  const stringId = await runningString(owner, client, CLOCK_READINGS);
  const { keptMs, afterReadingMs } = await askClock(client, stringId, CLOCK_READINGS * 16);
  say(`Hold clock of a string with ${CLOCK_READINGS} counter readings: ${keptMs.toFixed(1)} ms, right after another reading ${afterReadingMs.toFixed(1)} ms: ${(afterReadingMs / keptMs).toFixed(2)} times   (target: at most 2)`);
  const { readings, lost, late, p50Ms, p95Ms, maxMs, bytesAnEvent } = await listenedTo(client, stringId, CLOCK_READINGS * 16 + 1000, { listeners: LISTENERS, seconds: LISTEN_S });
  say(`${LISTENERS} live listeners, ${readings} readings at 5/s; load average ${loadavg()[0]?.toFixed(1)}`);
  say(`  ${lost} without the last state, ${late} of ${readings * LISTENERS} late; p50 ${p50Ms.toFixed(0)} ms, p95 ${p95Ms.toFixed(0)} ms, max ${maxMs.toFixed(0)} ms from before the reading is sent; ${(bytesAnEvent / 1000).toFixed(1)} kB an event   (target: none lost, none later than 1000 ms)`);
}

/** With as much heap as it likes, a process grows by garbage; with this much, it fails where its need grows with the file. */
const SMALL_HEAP = { NODE_OPTIONS: '--max-old-space-size=128' };

const PARTS: Readonly<Record<string, (folder: string) => Promise<void>>> = {
  start: startTimes,
  strings: (folder) => onStage(folder, compareStrings),
  splices: (folder) => onStage(folder, compareSplices),
  signals: compareSignals,
  clock: (folder) => onStage(folder, holdClock),
  'sample-files': comparePartReading,
  charts,
  indications: detectionSpeeds,
  ingest: (folder) => onStage(folder, ingest),
  views: (folder) => onStage(folder, views),
  evidence: (folder) => onStage(folder, evidence),
  'chart-row': (folder) => onStage(folder, chartRow),
  incoming: (folder) => onStage(folder, compareIncoming),
  'import-10': (folder) => onStage(folder, (stage) => importMemory(stage, SMALL_BYTES), SMALL_HEAP),
  'import-200': (folder) => onStage(folder, (stage) => importMemory(stage, LARGE_BYTES), SMALL_HEAP),
};

/** All parts, or those named: `npm run bench -- incoming`; a number is kilometres of pipe: `npm run bench -- ingest 10`. */
const asked = process.argv.slice(2).filter((word) => !isNumber(word));
for (const [part, run] of Object.entries(PARTS)) {
  if (asked.length > 0 && !asked.includes(part)) continue;
  const folder = await mkdtemp(join(tmpdir(), 'everymetre-bench-'));
  try {
    await run(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
