import { v7 as uuidv7 } from 'uuid';
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

/** Whole splices to the program, and the same parts to a handler that inserts a row for each in one transaction. */
export async function spliceLoads(client: Client, bareUrl: string): Promise<[bare: Load, program: Load]> {
  const on = await ground(client);
  let sent = 0;
  const body = (): string => JSON.stringify(spliceBody(sent++, on));
  return [
    { url: bareUrl, method: 'POST', path: () => '/splice', body },
    { url: client.url, headers: { authorization: `Bearer ${client.token}` }, method: 'POST', path: () => '/api/splices/whole', body },
  ];
}

export const ROWS_OF_SPLICE = STEPS + 2;
