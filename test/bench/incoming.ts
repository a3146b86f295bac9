import { readFileSync } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { parse } from 'csv-parse/sync';
import pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { v7 as uuidv7 } from 'uuid';
import { readCertificates } from '../../apps/api/src/certificate-imports/certificate-csv.js';
import { inPieces, LARGE_HEADER, largeFile, largeLine, textOf } from '../setup/certificate-files.js';
import type { Client } from './bench-string.js';
import { compare, median, type Comparison, type Load } from './load.js';
import type { Running } from './processes.js';

const COILS = 10_000;
const ROUNDS = 7;
const MEGABYTE = 1024 * 1024;

/** Seconds that one import took, those of the plain way, COPY of the same rows and parsing them, and of reading certificates alone. */
export interface ImportTimes {
  readonly importS: number;
  readonly copyS: number;
  readonly parseS: number;
  /** Reading the certificates out of the file, in this process, nothing written. */
  readonly readS: number;
  /** The import over COPY and parsing together. */
  readonly ratio: number;
}

/** What the large files are held against. */
export async function enterSpecification(post: (path: string, body: object) => Promise<void>): Promise<void> {
  const at = { observedAt: '2026-01-05T08:00:00Z' };
  const specificationId = uuidv7();
  const heat = { analysis: 'heat', unit: '%' };
  await post('strip-specifications', {
    ...at, id: specificationId, number: 'HS-STRIP-80', revision: 2, title: 'Bench', effectiveFrom: '2025-01-01', grade: 'Strip 420', documentType: '3.1',
    rounding: 'rounding', decisionRule: 'simple-acceptance',
    requirements: [
      { characteristic: 'thickness', min: '-0.30', max: '0.30', unit: 'mm', limitOf: 'deviation' }, { characteristic: 'width', min: '-1.0', max: '10.0', unit: 'mm', limitOf: 'deviation' },
      { characteristic: 'camber', max: '3', unit: 'mm', baseMm: '2000' },
      ...Object.entries({ C: '0.16', Si: '1.20', Mn: '2.10', P: '0.040', S: '0.030', Nb: '0.12', V: '0.10', Ti: '0.11' }).map(([characteristic, max]) => ({ ...heat, characteristic, max })),
      { ...heat, characteristic: 'CE(IIW)', max: '0.60' }, { ...heat, characteristic: 'Nb+V+Ti', max: '0.40' },
      { characteristic: 'ReH', min: '420', unit: 'MPa' }, { characteristic: 'Rm', min: '480', max: '620', unit: 'MPa' }, { characteristic: 'Y/T', max: '0.93', unit: '1' },
      { characteristic: 'A80mm', min: '16', unit: '%' }, { characteristic: 'KV2', min: '40', unit: 'J', temperatureC: '-20' }, { characteristic: 'HV10', max: '250', unit: 'HV10' },
    ],
  });
  for (let order = 0; order < 400; order += 1) {
    await post('strip-orders', { ...at, id: uuidv7(), number: `PO-${order}`, mill: 'Tarnwick Steelworks', orderedOn: '2025-12-01', specificationId, thicknessMm: '5.00', widthMm: '383.0' });
  }
}

/** A file of certificates that no round before had. */
function fileOfRound(round: number, lines: number): Buffer {
  const rows = Array.from({ length: lines }, (_, index) => largeLine(index).map((cell, column) => (column === 0 ? `${cell}-${round}` : cell)));
  return Buffer.from(textOf(LARGE_HEADER, ...rows));
}

/** Imports files of 10,000 coils, turn about with the plain way on the same database. */
export async function compareImport(owner: pg.Client, client: Client): Promise<ImportTimes> {
  await owner.query(`create table if not exists bare_certificate_line (${LARGE_HEADER.map((_, index) => `c${index} text`).join(', ')})`);
  const times: Omit<ImportTimes, 'ratio'>[] = [];
  for (let round = 0; round <= ROUNDS; round += 1) {
    const file = fileOfRound(round, COILS);
    const parseS = await seconds(() => Promise.resolve(parse(file)));
    const readS = await seconds(() => certificatesRead(file));
    const copyS = await seconds(() => copied(owner, file));
    const importS = await seconds(() => imported(client, file));
    // The first round warms both up.
    if (round > 0) times.push({ importS, copyS, parseS, readS });
  }
  const middle = (of: keyof Omit<ImportTimes, 'ratio'>): number => median(times.map((time) => time[of]));
  return {
    importS: middle('importS'), copyS: middle('copyS'), parseS: middle('parseS'), readS: middle('readS'),
    ratio: median(times.map(({ importS, copyS, parseS }) => importS / (copyS + parseS))),
  };
}

async function certificatesRead(file: Buffer): Promise<void> {
  let certificates = 0;
  for await (const { kind } of readCertificates(inPieces(file, 64 * 1024))) if (kind === 'certificate') certificates += 1;
  if (certificates !== COILS / 25) throw new Error(`${certificates} certificates read`);
}

async function copied(owner: pg.Client, file: Buffer): Promise<void> {
  await pipeline(Readable.from([file]), owner.query(copyFrom('copy bare_certificate_line from stdin with (format csv, header)')));
}

async function imported({ url, token }: Client, body: Buffer | ReadableStream<Uint8Array>): Promise<void> {
  const request: RequestInit & { duplex: 'half' } = {
    method: 'POST', headers: { authorization: `Bearer ${token}`, 'content-type': 'text/csv' }, body, duplex: 'half',
  };
  const reply = await fetch(`${url}/api/certificate-imports?id=${uuidv7()}&observedAt=2026-01-30T08:00:00Z`, request);
  if (reply.status !== 201) throw new Error(`import: ${reply.status} ${(await reply.text()).slice(0, 1000)}`);
}

/** The most memory the program's process held while it imported a file of so many bytes, MB. */
export async function importPeakMb(client: Client, program: Running, bytes: number): Promise<{ peakMb: number; seconds: number }> {
  const lines = Math.ceil(bytes / textOf(largeLine(0)).length);
  const stream = Readable.toWeb(Readable.from(largeFile(lines))) as ReadableStream<Uint8Array>;
  const took = await seconds(() => imported(client, stream));
  const status = readFileSync(`/proc/${program.child.pid ?? 0}/status`, 'utf8');
  return { peakMb: Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1] ?? NaN) / 1024, seconds: took };
}

export const SMALL_BYTES = 10 * MEGABYTE;
export const LARGE_BYTES = 200 * MEGABYTE;

/** Adds coils past the triggers, as the owner, until there are `count`: only a full table is wanted here. */
export async function fillCoils(owner: pg.Client, count: number): Promise<void> {
  await owner.query("set session_replication_role = 'replica'");
  const { rows } = await owner.query<{ name: string }>(
    "select attname as name from pg_attribute where attrelid = 'coil'::regclass and attnum > 0 and not attisdropped and attgenerated = ''",
  );
  const columns = rows.map(({ name }) => name);
  const values = columns.map((column) => {
    if (column === 'id') return "md5('coil' || n)::uuid";
    return column === 'number' ? "'LM-' || lpad(((n::bigint * 7919) % 1000003)::text, 7, '0')" : column;
  });
  await owner.query(
    `insert into coil (${columns.join(', ')}) select ${values.join(', ')}
       from (select * from coil where known_until is null limit 1) c, generate_series(1, $1::int) n`, [count],
  );
  await owner.query('reset session_replication_role');
  await owner.query('vacuum analyze');
}

/** Looks for parts of coil numbers, and for numbers with a slip, beside one bare SELECT over the same index. */
export async function compareSearch(client: Client, bareUrl: string): Promise<{ part: Comparison; slip: Comparison }> {
  let asked = 0;
  const number = (): string => String((((asked++ % 90_000) + 1) * 7919) % 1_000_003).padStart(7, '0');
  const part = (): string => number().slice(1, 6);
  const slip = (): string => `LM-${number().replace(/0/, 'O')}`;
  const headers = { authorization: `Bearer ${client.token}` };
  const loads = (of: () => string, bare: string): [Load, Load] => [
    { url: bareUrl, path: () => `${bare}?text=${of()}` }, { url: client.url, headers, path: () => `/api/search?text=${of()}` },
  ];
  const [barePart, programPart] = loads(part, '/part');
  const [bareSlip, programSlip] = loads(slip, '/like');
  return { part: await compare(barePart, programPart, 5, 3), slip: await compare(bareSlip, programSlip, 5, 3) };
}

async function seconds(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return (performance.now() - began) / 1000;
}
