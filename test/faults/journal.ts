import type { Client } from 'pg';
import type { WireAnswer, WireRequest } from '../setup/wire.js';

/** The tables that the writers of a campaign write to, and the column by which a row is told from another. */
const TABLES = { well: 'note', nonconformance: 'title', inspection: 'note', counter_reading: 'note' } as const;
export type Table = keyof typeof TABLES;

/** One version that a request makes. */
export interface Effect {
  readonly table: Table;
  readonly id: string;
  readonly version: number;
  /** What the version says that no other does. */
  readonly word: string;
}

/** A request that was sent, all that it does, and its answer once that came. */
export interface Entry {
  readonly request: WireRequest;
  readonly effects: readonly Effect[];
  answer: WireAnswer | null;
}

/** One version as the database has it; times as text. */
export interface StoredRow extends Effect {
  readonly knownFrom: string;
  readonly knownUntil: string | null;
  readonly number: number | null;
}

/** What the database holds of the campaign. */
export interface Stored {
  readonly rows: readonly StoredRow[];
  readonly lastNumber: number;
  readonly keys: readonly { readonly key: string; readonly answered: boolean }[];
}

/** Reads everything the checks look at, in one snapshot. */
export async function readStored(client: Client): Promise<Stored> {
  await client.query('begin isolation level repeatable read');
  const rows: StoredRow[] = [];
  for (const [table, word] of Object.entries(TABLES)) {
    const number = table === 'nonconformance' ? 'number::int4' : 'null::int4';
    const found = await client.query<Omit<StoredRow, 'table'>>(
      `select id, version, ${word} as word, known_from::text as "knownFrom", known_until::text as "knownUntil", ${number} as number from ${table}`,
    );
    rows.push(...found.rows.map((row) => ({ ...row, table: table as Table })));
  }
  const series = await client.query<{ last: number }>("select last_number::int4 as last from number_series where name = 'nonconformance'");
  const keys = await client.query<{ key: string; answered: boolean }>('select key, status = 200 and body is not null as answered from request_key');
  await client.query('commit');
  return { rows, lastNumber: series.rows[0]?.last ?? 0, keys: keys.rows };
}

const nameOf = ({ table, id, version }: Effect): string => `${table} ${id} version ${version}`;

/**
 * Everything in which the database departs from what was sent and answered: an answered write missing or doubled, an
 * unanswered one half there, a version nobody sent, versions out of order, numbers with a gap. Empty when all is well.
 */
export function departures(journal: readonly Entry[], stored: Stored): string[] {
  const byName = new Map<string, StoredRow[]>();
  for (const row of stored.rows) byName.set(nameOf(row), [...(byName.get(nameOf(row)) ?? []), row]);
  return [
    ...journal.flatMap((entry) => ofEntry(entry, byName)),
    ...ofUnknown(journal, stored.rows),
    ...ofVersions(stored.rows),
    ...ofNumbers(stored),
    ...ofKeys(journal, stored, byName),
  ];
}

function ofEntry({ answer, effects }: Entry, byName: ReadonlyMap<string, StoredRow[]>): string[] {
  const found = effects.map((effect) => ({ effect, rows: byName.get(nameOf(effect)) ?? [] }));
  const there = found.filter(({ rows }) => rows.length > 0);
  const wrong = there.flatMap(({ effect, rows }) => [
    ...(rows.length > 1 ? [`doubled: ${nameOf(effect)}`] : []),
    ...(rows[0]?.word === effect.word ? [] : [`other content: ${nameOf(effect)}`]),
  ]);
  if (answer !== null) {
    const lost = found.filter(({ rows }) => rows.length === 0);
    return [...wrong, ...lost.map(({ effect }) => `lost: ${nameOf(effect)}`)];
  }
  const half = there.length > 0 && there.length < effects.length;
  return half ? [...wrong, `half written: ${there.length} of ${effects.length} of ${effects.map(nameOf)[0]}`] : wrong;
}

function ofUnknown(journal: readonly Entry[], rows: readonly StoredRow[]): string[] {
  const sent = new Set(journal.flatMap(({ effects }) => effects.map(nameOf)));
  return rows.filter((row) => !sent.has(nameOf(row))).map((row) => `never sent: ${nameOf(row)}`);
}

function ofVersions(rows: readonly StoredRow[]): string[] {
  const records = new Map<string, StoredRow[]>();
  for (const row of rows) records.set(row.id, [...(records.get(row.id) ?? []), row]);
  return [...records.values()].flatMap((versions) => {
    versions.sort((one, other) => one.version - other.version);
    return versions.flatMap((row, index) => {
      const next = versions[index + 1];
      const follows = row.version === index + 1 && row.knownUntil === (next?.knownFrom ?? null);
      return follows ? [] : [`out of order: ${nameOf(row)}`];
    });
  });
}

function ofNumbers({ rows, lastNumber }: Stored): string[] {
  const numbers = rows.flatMap(({ number, version }) => (number === null || version > 1 ? [] : [number])).sort((a, b) => a - b);
  const gap = numbers.findIndex((number, index) => number !== index + 1);
  return [
    ...(gap < 0 ? [] : [`numbers: ${numbers[gap]} in place of ${gap + 1}`]),
    ...(numbers.length === lastNumber ? [] : [`numbers: ${lastNumber} given out, ${numbers.length} there`]),
  ];
}

/** A key stands exactly where its effect does. */
function ofKeys(journal: readonly Entry[], { keys }: Stored, byName: ReadonlyMap<string, StoredRow[]>): string[] {
  const kept = new Map(keys.map(({ key, answered }) => [key, answered]));
  return journal.flatMap(({ request, effects: [effect] }) => {
    const key = request.headers?.['idempotency-key'];
    if (key === undefined || effect === undefined) return [];
    return (kept.get(key) ?? false) === byName.has(nameOf(effect)) ? [] : [`key without effect or effect without key: ${nameOf(effect)}`];
  });
}
