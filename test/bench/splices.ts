import { v7 as uuidv7 } from 'uuid';
import type pg from 'pg';
import type { Client } from './bench-string.js';
import type { Load } from './load.js';

/** Strings that splices are entered on in turn: entries on one string are written one after another, as they must. */
const STRINGS = 16;
/** With the splice and its weld a dozen rows. */
const STEPS = 10;

interface Ground {
  readonly stringIds: readonly string[];
  readonly coilIds: readonly [string, string];
  readonly weldProcedureId: string;
}

async function entered({ url, token }: Client, path: string, body: object): Promise<string> {
  const id = uuidv7();
  const reply = await fetch(`${url}/api/${path}`, {
    method: 'POST', headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' }, body: JSON.stringify({ id, observedAt: '2026-01-01T00:00:00Z', ...body }),
  });
  if (reply.status !== 201) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
  return id;
}

/** Strings, coils that may be used and a procedure to enter splices on. */
async function ground(client: Client): Promise<Ground> {
  const wellId = await entered(client, 'wells', { name: 'Splice bench', datum: 'Guide frame' });
  const stringIds: string[] = [];
  for (let nth = 0; nth < STRINGS; nth += 1) {
    stringIds.push(await entered(client, 'casing-strings', {
      wellId, name: `String ${nth}`, footageLimitMm: 100_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
    }));
  }
  const heatId = await entered(client, 'heats', { number: 'H-SPLICE', grade: 'Strip 420' });
  const coil = async (number: string): Promise<string> => {
    const coilId = await entered(client, 'coils', { number, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850' });
    await entered(client, 'deviation-permits', { coilId, departure: 'Bench: nobody decides on it.', limit: 'Bench only', validUntil: '2099-01-01T00:00:00Z' });
    return coilId;
  };
  const weldProcedureId = await entered(client, 'weld-procedures', {
    number: 'WP-BENCH', revision: 1, title: 'Bench', purpose: 'splice', process: '135', effectiveFrom: '2025-01-01',
    ranges: [{ variable: 'current', min: '160', max: '200', unit: 'A' }, { variable: 'voltage', min: '20', max: '28', unit: 'V' }], lists: [],
  });
  return { stringIds, coilIds: [await coil('SB-01'), await coil('SB-02')], weldProcedureId };
}

/** The body of the nth splice, with ids and a number of its own. */
function spliceBody(nth: number, { stringIds, coilIds: [leavingCoilId, enteringCoilId], weldProcedureId }: Ground): object {
  const at = (minute: number): { observedAt: string } => ({ observedAt: `2026-03-02T08:${String(minute).padStart(2, '0')}:00Z` });
  const part = { outcome: 'accepted', examinations: [], coupons: [], photoSha256s: [] };
  const readings = [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5' }];
  const stages = ['preparation', 'flat-strip-release', 'after-forming'];
  return {
    splice: {
      id: uuidv7(), ...at(0), stringId: stringIds[nth % STRINGS], number: `S-${nth}`, leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: true,
      verdict: 'accepted', from: { footageMm: 1000 * (1 + (nth % 90_000)) },
    },
    welds: [{
      id: uuidv7(), ...at(5), weldProcedureId, chosen: [{ choice: 'process', value: '135' }],
      readings: [{ variable: 'current', printed: '180', unit: 'A' }, { variable: 'voltage', printed: '24', unit: 'V' }],
    }],
    steps: Array.from({ length: STEPS }, (_, index) => {
      const stage = stages[index];
      return { id: uuidv7(), ...at(10 + index), ...part, readings, ...(stage === undefined ? { stage: 'station-sighting', station: `Station ${index}` } : { stage }) };
    }),
  };
}

type Columns = Readonly<Record<string, string | null>>;

/** The rows that the program wrote for a splice, their columns as text; generated ones are left to the database. */
async function rowsOf(owner: pg.Client, spliceId: string): Promise<{ table: string; columns: Columns }[]> {
  const tables = [['splice', 'id'], ['weld', 'splice_id'], ['splice_step', 'splice_id']] as const;
  const found: { table: string; columns: Columns }[] = [];
  for (const [table, key] of tables) {
    const { rows: named } = await owner.query<{ name: string }>(
      'select attname as name from pg_attribute where attrelid = $1::regclass and attnum > 0 and not attisdropped and attgenerated = $2 order by attnum', [table, ''],
    );
    const { rows } = await owner.query<Columns>(`select ${named.map(({ name }) => `${name}::text as ${name}`).join(', ')} from ${table} where ${key} = $1`, [spliceId]);
    found.push(...rows.map((columns) => ({ table, columns })));
  }
  return found;
}

export interface SpliceLoads {
  /** The same rows in the same tables, in one transaction. */
  readonly sameRows: Load;
  /** As many rows in a table without keys, guards or indexes but its own. */
  readonly plainRows: Load;
  readonly program: Load;
}

/** Whole splices to the program, and to handlers that insert a row for each part in one transaction. */
export async function spliceLoads(client: Client, owner: pg.Client, bareUrl: string): Promise<SpliceLoads> {
  const on = await ground(client);
  let sent = 0;
  const next = (): object => spliceBody(sent++, on);
  const headers = { authorization: `Bearer ${client.token}` };
  const first = next() as { splice: { id: string } };
  const reply = await fetch(`${client.url}/api/splices/whole`, { method: 'POST', headers: { ...headers, 'content-type': 'application/json' }, body: JSON.stringify(first) });
  if (reply.status !== 201) throw new Error(`splices/whole: ${reply.status} ${await reply.text()}`);
  const pattern = await rowsOf(owner, first.splice.id);
  const sameRows = (): object => {
    const [spliceId, nth] = [uuidv7(), sent++];
    const rows = pattern.map(({ table, columns }) => {
      const own = table === 'splice' ? { id: spliceId, number: `B-${nth}` } : { id: uuidv7(), splice_id: spliceId };
      return { table, columns: { ...columns, ...own, string_id: on.stringIds[nth % STRINGS] ?? null } };
    });
    return { actor: pattern[0]?.columns['keyed_by'], rows };
  };
  return {
    sameRows: { url: bareUrl, method: 'POST', path: () => '/same-splice', body: () => JSON.stringify(sameRows()) },
    plainRows: { url: bareUrl, method: 'POST', path: () => '/splice', body: () => JSON.stringify(next()) },
    program: { url: client.url, headers, method: 'POST', path: () => '/api/splices/whole', body: () => JSON.stringify(next()) },
  };
}

export const ROWS_OF_SPLICE = STEPS + 2;
