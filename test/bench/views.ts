import type pg from 'pg';
import { BLOCK_SAMPLES, CELLS_IN_BLOCK, planView, type Fetch } from '#libs/signals';
import { randomFrom, type Random } from '../fixtures/signals.js';
import type { Client } from './bench-string.js';
import { arrowPart, asked, enterSignalString, openUpload, sendParts, type SignalString } from './signal-string.js';

const ROWS_A_KM = 1_000_000;
const PART_SAMPLES = 524_288;
const AT_ONCE = 4;
export const WIDTH_PX = 1_200;
const NARROWEST_MM = 1_000;
const WARM_UPS = 10;
const SEED = 11;

/** Strings of these lengths, the longer with fewer channels: a view is of one. */
const SIZES = [{ km: 1, channels: 8 }, { km: 10, channels: 2 }, { km: 100, channels: 1 }] as const;

/** A string whose first channel is looked at. */
export interface ViewedString extends SignalString {
  readonly km: number;
  readonly channelId: string;
  /** First cells of the pages of each level, rising. */
  readonly pages: ReadonlyMap<number, readonly number[]>;
}

/** Sends strings of 1, 10 and 100 km, up to `kilometres`, and makes the table of summaries that a bare handler reads. */
export async function sendStrings(owner: pg.Client, client: Client, kilometres: number): Promise<ViewedString[]> {
  await owner.query(`create table bare_summary (km int4, level int2, cell_no int8, least float4, greatest float4, mean float8, samples int4, missing int4,
                                                constraint pk_bare_summary primary key (km, level, cell_no))`);
  const strings: ViewedString[] = [];
  for (const { km, channels } of SIZES.filter((size) => size.km <= kilometres)) {
    const string = await enterSignalString(client, channels);
    await sendKilometres(client, string, km);
    const channelId = string.channelIds[0] as string;
    await owner.query(
      `insert into bare_summary select $1::int4, level, cell, random(), random(), random(), 256, 0
         from generate_series(1, 12) level, generate_series(0, ($1::int8 * $2::int8) / (256 * 4::int8 ^ (level - 1))::int8) cell`, [km, ROWS_A_KM],
    );
    strings.push({ ...string, km, channelId, pages: await pagesOf(owner, string.stringId, channelId) });
  }
  await owner.query('vacuum analyze bare_summary, signal_block');
  return strings;
}

async function sendKilometres(client: Client, string: SignalString, km: number): Promise<void> {
  const uploadId = await openUpload(client, string);
  const [rows, partRows] = [km * ROWS_A_KM, PART_SAMPLES / string.channelIds.length];
  const parts = Math.ceil(rows / partRows);
  for (let from = 0; from < parts; from += AT_ONCE) {
    const some = Array.from({ length: Math.min(AT_ONCE, parts - from) }, (_, nth) => arrowPart(string, (from + nth) * partRows, Math.min(partRows, rows - (from + nth) * partRows)));
    // One after another, so that blocks lie in the order of footage.
    await sendParts(client, uploadId, from + 1, some, 1);
  }
}

async function pagesOf(owner: pg.Client, stringId: string, channelId: string): Promise<ViewedString['pages']> {
  const { rows } = await owner.query<{ level: number; nos: string[] }>(
    'select level, array_agg(block_no order by block_no) as nos from signal_block where string_id = $1 and channel_id = $2 and level > 0 group by level', [stringId, channelId],
  );
  return new Map(rows.map(({ level, nos }) => [level, nos.map(Number)]));
}

/** A question of a view, and what it takes two bare handlers to fetch as much. */
export interface Question {
  readonly fromMm: number;
  readonly toMm: number;
  readonly view: string;
  /** The same rows of pages and blocks, sent on as they are. */
  readonly rows: string;
  /** As many summaries from rows of their own, as JSON. */
  readonly summaries: string;
}

/** A view of a random place, from a metre to the whole string, each scale as likely as any other. */
export function questionOf(string: ViewedString, random: Random): Question {
  const lengthMm = string.km * ROWS_A_KM;
  const widthMm = Math.round(NARROWEST_MM * (lengthMm / NARROWEST_MM) ** random());
  const fromMm = Math.floor(random() * (lengthMm - widthMm + 1));
  return questionAt(string, fromMm, fromMm + widthMm);
}

export function questionAt(string: ViewedString, fromMm: number, toMm: number): Question {
  const { stringId, channelId, km } = string;
  const plan = planView([{ fromBlock: Math.floor(fromMm / BLOCK_SAMPLES), toBlock: Math.ceil(toMm / BLOCK_SAMPLES) }], WIDTH_PX);
  const of = summariesOf(plan);
  return {
    fromMm, toMm, view: `/api/casing-strings/${stringId}/signal-view?channelId=${channelId}&fromM=${fromMm / 1000}&toM=${toMm / 1000}&widthPx=${WIDTH_PX}`,
    rows: `/block-rows?stringId=${stringId}&channelId=${channelId}&rows=${rowsOf(string, plan).map(([level, no]) => `${level}.${no}`).join(',')}`,
    summaries: `/summaries?km=${km}&level=${of.level}&from=${of.from}&to=${of.from + of.count}`,
  };
}

/** Level and number of each row that a plan reads. */
export function rowsOf({ pages }: ViewedString, { cells, raw }: Fetch): [number, number][] {
  return [
    ...cells.flatMap(({ level, fromCell, toCell }) => {
      const firsts = pages.get(level) ?? [];
      return firsts.filter((first, nth) => first < toCell && (firsts[nth + 1] ?? Infinity) > fromCell).map((first): [number, number] => [level, first]);
    }),
    ...raw.map(({ blockNo }): [number, number] => [0, blockNo]),
  ];
}

/** A run of the finest level that a plan reads, as long as all its cells; of blocks, the cells under them. */
function summariesOf({ cells, raw }: Fetch): { readonly level: number; readonly from: number; readonly count: number } {
  const [widest] = [...cells].sort((a, b) => b.toCell - b.fromCell - (a.toCell - a.fromCell));
  if (widest === undefined) return { level: 1, from: (raw[0]?.blockNo ?? 0) * CELLS_IN_BLOCK, count: raw.length * CELLS_IN_BLOCK };
  return { level: widest.level, from: widest.fromCell, count: cells.reduce((sum, { fromCell, toCell }) => sum + toCell - fromCell, 0) };
}

export interface Percentiles {
  readonly p50: number;
  readonly p95: number;
}

export function percentiles(values: readonly number[]): Percentiles {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
  return { p50: at(0.5), p95: at(0.95) };
}

/** Times of the views of one string, ms. */
export interface ViewFigures {
  readonly km: number;
  /** The first view after the program started; the second at the same place. */
  readonly firstMs: number;
  readonly secondMs: number;
  readonly view: Percentiles;
  readonly rows: Percentiles;
  readonly summaries: Percentiles;
}

/** `rounds` random views of each string, by turns with the two bare handlers and with the other strings. */
export async function compareViews(client: Client, bareUrl: string, strings: readonly ViewedString[], rounds: number): Promise<ViewFigures[]> {
  const bare = { ...client, url: bareUrl };
  const firsts: { firstMs: number; secondMs: number }[] = [];
  for (const string of strings) {
    const { view } = questionAt(string, 0, string.km * ROWS_A_KM);
    firsts.push({ firstMs: (await asked(client, view)).ms, secondMs: (await asked(client, view)).ms });
  }
  const random = randomFrom(SEED);
  const times = strings.map(() => ({ view: [] as number[], rows: [] as number[], summaries: [] as number[] }));
  for (let round = -WARM_UPS; round < rounds; round += 1) {
    for (const [nth, string] of strings.entries()) {
      const question = questionOf(string, random);
      const [view, rows, summaries] = [await asked(client, question.view), await asked(bare, question.rows), await asked(bare, question.summaries)];
      if (round < 0) continue;
      const own = times[nth];
      own?.view.push(view.ms);
      own?.rows.push(rows.ms);
      own?.summaries.push(summaries.ms);
    }
  }
  return strings.map(({ km }, nth) => {
    const { view, rows, summaries } = times[nth] as (typeof times)[number];
    return { km, ...(firsts[nth] as (typeof firsts)[number]), view: percentiles(view), rows: percentiles(rows), summaries: percentiles(summaries) };
  });
}
