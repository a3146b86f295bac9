import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { v7 as uuidv7 } from 'uuid';
import { decodeBlock, encodeBlock } from '#libs/signals';
import { upload } from '../e2e/signals.factory.js';
import { randomFrom } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { endPrograms, makeAdministrator, Program, signedIn, tokenOf, withDatabase } from './api.harness.js';
import { cleanUp, newFolder } from './embedded-postgres.harness.js';
import { FATES, FlakyProxy, type Fate } from './flaky-proxy.js';
import { FlakySender, keyOf, type Acknowledged } from './flaky-senders.js';
import { PartSender } from './part-sender.js';
import { CHANNEL_KINDS, channelOf, drawPart, type PartForm, type SentPart } from './sent-parts.js';
import { signalDepartures } from './signal-departures.js';
import { columnsOf, makeSignalWorld, type SignalWorld } from './signal-world.js';
import { readParts, readSignals, type StoredBlock, type StoredSignals } from './stored-signals.js';

jest.setTimeout(600_000);

const CHANNELS = 8;
const KINDS = Array.from({ length: CHANNELS }, (_, index) => CHANNEL_KINDS[index % CHANNEL_KINDS.length] ?? 'thickness');
/** `SIGNAL_SAMPLES` names another number: ten million take a minute longer to draw and to check. */
const SAMPLES = Number.parseInt(process.env['SIGNAL_SAMPLES'] ?? '2000000', 10);
const PARTS = 100;
const KILLS = 10;
const UPLOADS = 2;
const AT_ONCE = 3;
/** A sender gives a line up that has been silent for so long; most of the test is spent waiting for nothing then. */
const PATIENCE_MS = 3_000;
const SILENT_EVERY = 8;
/** Each part meets three before it can come in, but for those whose request a kill ends first. */
const LEAST_FAULTS = 200;

const seed = seedFromEnvironment().seed ?? Math.trunc(Math.random() * 2 ** 31);
const random = randomFrom(seed);
const acknowledged: Acknowledged = new Set();
const fates = new Map<string, Fate[]>();
let dataFolder: string;
let program: Program;
let proxy: FlakyProxy;
let world: SignalWorld;
let senders: FlakySender[];
let uploadIds: string[];
let parts: SentPart[];
let slowestRestartMs = 0;
let url: string;
let stored: StoredSignals;
let isOver = false;

const start = (): Program => Program.compiled({ EVERYMETRE_DATA: dataFolder });

/** What becomes of the requests that bring one part: the line cuts some before they are whole, then loses an answer, then lets one pass. */
function fatesOf(nth: number): Fate[] {
  const early = ['dropped', 'request-cut', 'request-cut'] as const;
  const late = ['answer-lost', 'answer-cut'] as const;
  const one = <T>(from: readonly T[]): T => from[Math.trunc(random() * from.length)] as T;
  return [one(early), one(early), ...(nth % SILENT_EVERY === 0 ? ['silent' as const] : [one(early)]), one(late), ...(random() < 0.5 ? ['delayed' as const] : [])];
}

function fateOf(requestLine: string): Fate {
  const [, uploadId, partNo] = /^PUT \/api\/signal-uploads\/([^/]+)\/parts\/(\d+)/.exec(requestLine) ?? [];
  if (uploadId !== undefined) return fates.get(`${uploadId}/${partNo}`)?.shift() ?? 'clean';
  return random() < 0.2 ? 'answer-cut' : 'clean';
}

/** Parts of two uploads of the same channels, in every form that is taken. */
function drawParts(): SentPart[] {
  const forms: PartForm[] = ['arrow', 'arrow-gzip', 'csv', 'arrow', 'ndjson', 'csv-gzip'];
  const drawn: SentPart[] = [];
  const from = [1_000, 5_000_000];
  for (let rows = 0; rows < SAMPLES / CHANNELS;) {
    const nth = drawn.length;
    const own = Math.min(Math.ceil((SAMPLES / CHANNELS / PARTS) * (0.5 + random())), SAMPLES / CHANNELS - rows);
    const backward = random() < 0.15;
    const start = from[nth % UPLOADS] as number;
    drawn.push(drawPart({
      uploadId: uploadIds[nth % UPLOADS] as string, partNo: 1 + Math.trunc(nth / UPLOADS), rows: own, kinds: KINDS, backward,
      form: forms[Math.trunc(nth / UPLOADS) % forms.length] as PartForm, from: backward ? start + own : start,
    }, random));
    from[nth % UPLOADS] = backward ? start : start + own;
    rows += own;
  }
  return drawn;
}

const shuffled = <T>(items: readonly T[]): T[] => items.map((item) => ({ item, key: random() })).sort((one, other) => one.key - other.key).map(({ item }) => item);

beforeAll(async () => {
  dataFolder = join(await newFolder(), 'data');
  await Program.compile();
  await makeAdministrator(dataFolder);
  program = start();
  url = await program.started();
  const administrator = await signedIn(url, 'first');
  const { status, body } = await administrator.post('people', {
    id: uuidv7(), observedAt: '2026-03-01T06:00:00Z', name: 'Writer', signInName: 'writer', roles: ['materials-engineer'], active: true, password: 'nine coils stayed very dry',
  });
  administrator.close();
  if (status !== 201) throw new Error(`no writer: ${JSON.stringify(body)}`);
  const wire = await signedIn(url, 'writer');
  world = await makeSignalWorld(wire, KINDS.map(channelOf));
  uploadIds = [];
  for (let nth = 0; nth < UPLOADS; nth += 1) {
    const opened = await wire.post('signal-uploads', { id: uuidv7(), ...upload(world.runId, columnsOf(world)) });
    if (opened.status !== 201) throw new Error(`no upload: ${JSON.stringify(opened)}`);
    uploadIds.push(String(opened.body['id']));
  }
  wire.close();
  parts = drawParts();
  for (const [nth, part] of parts.entries()) fates.set(keyOf(part), fatesOf(nth));
  proxy = await FlakyProxy.open(random, fateOf);
  proxy.leadTo(url);
  senders = [];
  for (let nth = 0; nth < UPLOADS; nth += 1) senders.push(new FlakySender(new PartSender(proxy.url, await tokenOf(url, 'writer'), PATIENCE_MS), acknowledged, random));
});

afterAll(async () => {
  isOver = true;
  for (const sender of senders) sender.stop();
  proxy.close();
  await endPrograms();
  await cleanUp();
});

/** Kills the program while parts are on their way, starts it again, and sees that all that it acknowledged is there, whole. Gives how many were on their way. */
async function killAndStart(): Promise<number> {
  await pause(random() * 40);
  while (!isOver && proxy.inFlight === 0) await pause(1);
  const inFlight = proxy.inFlight;
  const before = [...acknowledged];
  program.signal('SIGKILL');
  await program.ended();
  const begun = performance.now();
  program = start();
  url = await program.started();
  slowestRestartMs = Math.max(slowestRestartMs, performance.now() - begun);
  proxy.leadTo(url);
  const there = await withDatabase(dataFolder, (client) => readParts(client, world.stringId, CHANNELS));
  const whole = new Set(there.filter(({ isWhole }) => isWhole).map(keyOf));
  expect({ seed, notWhole: there.filter(({ isWhole }) => !isWhole), lost: before.filter((key) => !whole.has(key)) }).toEqual({ seed, notWhole: [], lost: [] });
  return inFlight;
}

async function killWhileSending(): Promise<number[]> {
  const inFlight: number[] = [];
  for (let kill = 1; kill <= KILLS; kill += 1) {
    while (!isOver && acknowledged.size < ((kill - 0.5) / KILLS) * parts.length) await pause(5);
    if (isOver) break;
    inFlight.push(await killAndStart());
  }
  return inFlight;
}

describe('samples sent over a bad line to a program that is killed', () => {
  test(`${SAMPLES} of them, ${KILLS} kills: what was acknowledged is there after each, and in the end every sample once`, async () => {
    const begun = performance.now();
    // Both send in an order of their own, and some of the other's parts too.
    const sending = senders.map((sender, nth) => sender.sendAll(shuffled(parts.filter((part) => part.uploadId === uploadIds[nth] || random() < 0.1)), AT_ONCE));
    const [inFlight] = await Promise.all([killWhileSending(), ...sending]);
    const sentMs = performance.now() - begun;
    const faults = { ...proxy.counts, duplicated: 0, outOfOrder: 0 };
    for (const { counts } of senders) {
      faults.duplicated += counts.duplicated;
      faults.outOfOrder += counts.outOfOrder;
    }
    const ender = new PartSender(url, await tokenOf(url, 'writer'), 30_000);
    for (const id of uploadIds) {
      const partCount = parts.filter((part) => part.uploadId === id).length;
      expect(await ender.json('POST', `/api/signal-uploads/${id}/end`, { partCount })).toMatchObject({ status: 200, body: { endedWith: partCount, parts: [{ from: 1, to: partCount }] } });
    }
    stored = await withDatabase(dataFolder, (client) => readSignals(client, world.stringId));
    expect({ seed, departures: signalDepartures(parts, stored, world.channelIds) }).toEqual({ seed, departures: [] });
    process.stdout.write(
      `signal uploads: seed ${seed}, ${SAMPLES} samples in ${parts.length} parts, ${inFlight.length} kills with ${inFlight.join(', ')} parts on their way, ` +
      `sent in ${Math.round(sentMs / 1000)} s and checked in ${Math.round((performance.now() - begun - sentMs) / 1000)} s, faults ${JSON.stringify(faults)}, senders ${JSON.stringify(senders.map(({ counts }) => counts))}, ` +
      `slowest restart ${Math.round(slowestRestartMs)} ms, lost 0, doubled 0\n`,
    );
    expect(Math.min(...inFlight)).toBeGreaterThan(0);
    expect(FATES.filter((fate) => fate !== 'clean').reduce((sum, fate) => sum + faults[fate], 0)).toBeGreaterThan(LEAST_FAULTS);
    expect(Math.min(...Object.entries(faults).map(([kind, count]) => (kind === 'clean' ? Infinity : count)))).toBeGreaterThan(0);
  });

  test('the check itself sees a part lost, there twice or never sent, another bit, a hole, and a cell that is wrong, missing or too many', () => {
    const [channelId = ''] = world.channelIds;
    const blocks = stored.blocks.filter((block) => block.channelId === channelId);
    const departures = (changed: readonly StoredBlock[], sent: readonly SentPart[] = parts): string[] => signalDepartures(sent, { ...stored, blocks: changed }, [channelId]);
    const one = (level: number, nth = 0): StoredBlock => blocks.filter((block) => block.level === level)[nth] as StoredBlock;
    const last = blocks.filter((block) => block.level === 0).at(-1) as StoredBlock;
    const replaced = (row: StoredBlock, by: Partial<StoredBlock>): StoredBlock[] => blocks.map((block) => (block === row ? { ...row, ...by } : block));
    expect(departures(blocks.filter((block) => block !== last))).toContainEqual(expect.stringMatching(/^column 0: \d+ of \d+ samples: |^column 0: no samples: /));
    expect(departures(blocks.filter((block) => block !== one(0)))).toContain('column 0: block 1 in place of 0');
    expect(departures([...blocks, { ...one(0), blockNo: last.blockNo + 1 }])).toContainEqual(expect.stringMatching(/^column 0: doubled: |^column 0: other samples: /));
    const samples = decodeBlock(one(0, 3).body);
    samples.values[100] = (samples.values[100] as number) + 1;
    const [first, second, ...higher] = departures(replaced(one(0, 3), { body: Buffer.from(encodeBlock(samples)) }));
    expect([first, second]).toEqual([expect.stringMatching(/^column 0: other samples: block 3, /), expect.stringMatching(/^column 0: level 1, cell 48: /)]);
    expect(higher.map((text) => /^column 0: level (\d)/.exec(text)?.[1])).toEqual(expect.arrayContaining(['2', '3', '4']));
    expect(departures(blocks.filter((block) => block !== one(2)))).toContainEqual(expect.stringMatching(/^column 0: level 2: \d+ cells, not \d+$/));
    expect(departures([...blocks, one(4)])).toContainEqual(expect.stringMatching(/^column 0: level 4: cell \d+ twice$/));
    expect(departures(blocks, parts.slice(1))).toContainEqual(expect.stringMatching(/^never sent: part 1 of /));
    expect(signalDepartures(parts, { blocks, parts: stored.parts.slice(1) }, [channelId])).toEqual([expect.stringMatching(/^lost: part 1 of /)]);
  });
});
