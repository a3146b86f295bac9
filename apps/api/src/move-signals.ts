import 'reflect-metadata';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { readConfiguration, type Configuration } from './configuration.js';
import { attachSignals } from './signal-storage/attach-signals.js';
import { detachSignals } from './signal-storage/detach-signals.js';
import type { SignalFile } from './signal-storage/signal-file.js';
import { demandString, listSamples, type StringSamples } from './signal-storage/signal-rows.js';
import { openLog } from './start/log.js';
import { openDatabase, type OpenDatabase } from './start/open-database.js';
import { StartFailure, startFailureLine } from './start/start-failure.js';

const USAGE = [
  'Use: npm run signals -- list', 'npm run signals -- detach --string <id> --to <new file>', 'npm run signals -- attach --from <file>',
].join('   or   ');

type Order = { readonly verb: 'list' } | { readonly verb: 'detach'; readonly string: string; readonly to: string } | { readonly verb: 'attach'; readonly from: string };

let configuration: Configuration | null = null;
let database: OpenDatabase | null = null;
try {
  const order = orderOf(process.argv.slice(2));
  configuration = readConfiguration(process.env);
  const { logger } = await openLog(configuration);
  database = await openDatabase(configuration, logger);
  process.stdout.write(`${await asOwner(database.url, (client) => done(client, order))}\n`);
  await database.close();
} catch (error) {
  process.stderr.write(`${startFailureLine(error, configuration)}\n`);
  await database?.close();
  process.exit(1);
}

function orderOf(parameters: string[]): Order {
  try {
    const options = { string: { type: 'string' }, to: { type: 'string' }, from: { type: 'string' } } as const;
    const { values: { string, to, from }, positionals: [verb, ...others] } = parseArgs({ args: parameters, options, allowPositionals: true });
    const isAlone = others.length === 0;
    if (isAlone && verb === 'list' && string === undefined && to === undefined && from === undefined) return { verb };
    if (isAlone && verb === 'detach' && string !== undefined && to !== undefined && from === undefined) return { verb, string, to };
    if (isAlone && verb === 'attach' && from !== undefined && string === undefined && to === undefined) return { verb, from };
  } catch {
    // An unknown option is answered like a missing one.
  }
  throw new StartFailure(USAGE);
}

/** The service's own role may add samples and read them; who owns the database may move them. */
async function asOwner<T>(connectionString: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString, options: '-c timezone=UTC', application_name: 'everymetre signals' });
  // Its statements fail by themselves when it is lost.
  client.on('error', () => undefined);
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end().catch(() => undefined);
  }
}

async function done(client: pg.Client, order: Order): Promise<string> {
  if (order.verb === 'list') return (await listSamples(client)).map(lineOf).join('\n') || 'No string has samples.';
  if (order.verb === 'detach') {
    const file = await detachSignals(client, await demandString(client, order.string), resolve(order.to));
    return `Out of the database: ${said(file)}. Keep the file, and a copy of it: nothing else has these samples.`;
  }
  return `In the database again: ${said(await attachSignals(client, resolve(order.from)))}.`;
}

function said({ path, head: { stringId, rows }, sha256, sizeBytes }: SignalFile): string {
  return `string ${stringId}, ${rows} blocks and pages, ${megabytes(sizeBytes)}; file ${path}, SHA-256 ${sha256}`;
}

function lineOf({ stringId, name, rows, bytes, detached }: StringSamples): string {
  const where = detached === null ? `${rows} blocks and pages, ${megabytes(bytes)}` : `in ${detached.fileName} since ${detached.since}, SHA-256 ${detached.sha256}`;
  return `${stringId}  ${name}  ${where}`;
}

function megabytes(bytes: number): string {
  return `${(bytes / 1e6).toFixed(1)} MB`;
}
