import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { DataSource, type EntityManager } from 'typeorm';
import { decodeBlock, decodePage, encodePage, openSiblings, PyramidTail, type CellRun, type Samples, type Summary } from '#libs/signals';
import { run, type Transaction } from '#libs/persistence';
import type { PackedBlock, PackedPart } from './packed-part.js';

/** Where a part belongs. */
export interface PartPlace {
  readonly stringId: string;
  readonly runId: string;
  readonly uploadId: string;
  readonly partNo: number;
  /** The channel of each column of the part. */
  readonly channelIds: readonly string[];
  /** The sender's clock at the first and the last sample, µs. */
  readonly fromUs: number;
  readonly toUs: number;
  /** True when positions are times themselves. */
  readonly isTimed: boolean;
}

/** One row of `signal_block` without its body. */
interface BlockRow {
  readonly channelId: string;
  readonly level: number;
  readonly blockNo: number;
  readonly items: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  readonly fromUs: number;
  readonly toUs: number;
  readonly unread: number;
  readonly bytes: number;
}

/** Cells that are there of a run of cells, each with its number. */
export interface FoundCell {
  readonly level: number;
  readonly cellNo: number;
  readonly summary: Summary;
}

const KEPT_TAILS = 500;

/** All bodies travel as one value: an array of them would be sent as text, twice as long. */
const INSERT = `
insert into signal_block (string_id, run_id, upload_id, part_no, known_from, channel_id, level, block_no, items,
                          first_position, last_position, from_us, to_us, unread, body)
select $1, $2, $3, $4, $5, t.channel_id, t.level, t.block_no, t.items, t.first_position, t.last_position, t.from_us, t.to_us, t.unread,
       substr($6::bytea, t.at, t.bytes)
  from unnest($7::uuid[], $8::int2[], $9::int8[], $10::int4[], $11::int8[], $12::int8[], $13::int8[], $14::int8[], $15::int4[], $16::int4[], $17::int4[])
       as t(channel_id, level, block_no, items, first_position, last_position, from_us, to_us, unread, at, bytes)`;

/** Pages from the last that begins at or before the first cell that is asked for; each once, however many runs reach into it. In the order of their levels and cells. */
export const SIGNAL_PAGES = `
select distinct on (b.level, b.block_no) b.level, b.block_no, b.body
  from unnest($3::int2[], $4::int8[], $5::int8[]) as r(level, from_cell, to_cell)
 cross join lateral (
   select level, block_no, body from signal_block p
    where p.string_id = $1 and p.channel_id = $2 and p.level = r.level and p.block_no < r.to_cell
      and p.block_no >= coalesce((select max(q.block_no) from signal_block q
                                   where q.string_id = $1 and q.channel_id = $2 and q.level = r.level and q.block_no <= r.from_cell), 0)) b
 order by b.level, b.block_no`;

/** Blocks of samples and the pages of cells above them: written once, read by their numbers. */
@Injectable()
export class SignalBlocks {
  private readonly tails = new LRUCache<string, PyramidTail>({ max: KEPT_TAILS });

  constructor(private readonly dataSource: DataSource) {}

  /**
   * Puts the blocks of a part to the ends of its channels, with all cells that they make whole. The caller holds the locks
   * of the channels. Gives what is to be called once the transaction is committed.
   */
  async append(tx: Transaction, place: PartPlace, part: PackedPart): Promise<() => void> {
    const grown: [string, PyramidTail][] = [];
    const rows: BlockRow[] = [];
    const bodies: Uint8Array[] = [];
    let bodyAt = 0;
    for (const [index, channelId] of place.channelIds.entries()) {
      const blocks = part.columns[index] ?? [];
      const tail = await this.tailOf(tx.manager, place.stringId, channelId);
      const first = tail.nextBlock;
      const pages = tail.grow(blocks.map(({ cells }) => cells));
      const own = blocks.reduce((sum, { bytes }) => sum + bytes, 0);
      bodies.push(part.bodies.subarray(bodyAt, bodyAt + own));
      bodyAt += own;
      rows.push(...blocks.map((block, nth) => blockRow(place, part, channelId, first + nth, block)));
      for (const page of pages) {
        const body = encodePage(page);
        bodies.push(body);
        rows.push(pageRow(place, channelId, page.level, page.firstCellNo, page.cells, body.length));
      }
      grown.push([tailKey(place.stringId, channelId), tail]);
    }
    await insert(tx, place, rows, Buffer.concat(bodies));
    return () => { for (const [key, tail] of grown) this.tails.set(key, tail); };
  }

  /** The cells of these runs that are there and have samples, in the order asked for. */
  async cells(stringId: string, channelId: string, runs: readonly CellRun[], manager: EntityManager = this.dataSource.manager): Promise<FoundCell[]> {
    if (runs.length === 0) return [];
    const { rows } = await run<{ body: Buffer }>(manager, SIGNAL_PAGES, [
      stringId, channelId, runs.map(({ level }) => level), runs.map(({ fromCell }) => fromCell), runs.map(({ toCell }) => toCell),
    ]);
    const pages = rows.map(({ body }) => decodePage(body));
    return runs.flatMap(({ level, fromCell, toCell }) =>
      pages.filter((page) => page.level === level).flatMap(({ firstCellNo, cells }) =>
        cells.slice(Math.max(fromCell - firstCellNo, 0), Math.max(toCell - firstCellNo, 0)).flatMap((summary, index) =>
          (summary === null ? [] : [{ level, cellNo: Math.max(fromCell, firstCellNo) + index, summary }]))));
  }

  /** The samples of these blocks by their numbers, as many as are there. */
  async samples(stringId: string, channelId: string, blockNos: readonly number[]): Promise<ReadonlyMap<number, Samples>> {
    if (blockNos.length === 0) return new Map();
    const { rows } = await run<{ block_no: string; body: Buffer }>(
      this.dataSource.manager,
      'select block_no, body from signal_block where string_id = $1 and channel_id = $2 and level = 0 and block_no = any($3::int8[])',
      [stringId, channelId, blockNos],
    );
    return new Map(rows.map(({ block_no: no, body }) => [Number(no), decodeBlock(body)]));
  }

  /** The end of a channel's pyramid as committed, or as this transaction sees it. */
  private async tailOf(manager: EntityManager, stringId: string, channelId: string): Promise<PyramidTail> {
    const { rows } = await run<{ blocks: string }>(
      manager, 'select coalesce(max(block_no) + 1, 0) as blocks from signal_block where string_id = $1 and channel_id = $2 and level = 0', [stringId, channelId],
    );
    const blocks = Number(rows[0]?.blocks);
    const kept = this.tails.get(tailKey(stringId, channelId));
    if (kept?.nextBlock === blocks) return kept.copy();
    const open = openSiblings(blocks);
    const found = await this.cells(stringId, channelId, open, manager);
    return new PyramidTail(blocks, new Map(open.map(({ level, fromCell, toCell }) => [
      level, Array.from({ length: toCell - fromCell }, (_, index) => found.find((one) => one.level === level && one.cellNo === fromCell + index)?.summary ?? null),
    ])));
  }
}

const tailKey = (stringId: string, channelId: string): string => `${stringId} ${channelId}`;

function blockRow(place: PartPlace, part: PackedPart, channelId: string, blockNo: number, block: PackedBlock): BlockRow {
  const { samples: items, firstPosition, lastPosition, unread, bytes, firstIndex } = block;
  return {
    channelId, level: 0, blockNo, items, firstPosition, lastPosition, unread, bytes,
    fromUs: timeOf(place, part, firstIndex, firstPosition), toUs: timeOf(place, part, firstIndex + items - 1, lastPosition),
  };
}

/** When a sample was read: as it says itself, or by its share of the part's time. */
function timeOf({ fromUs, toUs, isTimed }: PartPlace, { samples }: PackedPart, index: number, position: number): number {
  if (isTimed) return position;
  return samples === 1 ? fromUs : fromUs + Math.round(((toUs - fromUs) * index) / (samples - 1));
}

function pageRow(place: PartPlace, channelId: string, level: number, firstCell: number, cells: readonly (Summary | null)[], bytes: number): BlockRow {
  const filled = cells.filter((cell) => cell !== null);
  return {
    channelId, level, blockNo: firstCell, items: cells.length, unread: cells.length - filled.length, bytes,
    firstPosition: filled[0]?.firstPosition ?? 0, lastPosition: filled.at(-1)?.lastPosition ?? 0, fromUs: place.fromUs, toUs: place.toUs,
  };
}

async function insert(tx: Transaction, place: PartPlace, rows: readonly BlockRow[], bodies: Buffer): Promise<void> {
  let at = 1;
  const starts = rows.map(({ bytes }) => {
    const start = at;
    at += bytes;
    return start;
  });
  const column = <K extends keyof BlockRow>(name: K): BlockRow[K][] => rows.map((row) => row[name]);
  await run(tx.manager, INSERT, [
    place.stringId, place.runId, place.uploadId, place.partNo, tx.knownAt, bodies,
    column('channelId'), column('level'), column('blockNo'), column('items'), column('firstPosition'), column('lastPosition'),
    column('fromUs'), column('toUs'), column('unread'), starts, column('bytes'),
  ]);
}
