import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { DataSource, type EntityManager } from 'typeorm';
import {
  BLOCK_LEVEL, cellsInBlock, decodeBlock, decodePage, encodePage, openCells, openSiblings, PyramidTail, sealPage,
  type CellRun, type Samples, type Summary,
} from '#libs/signals';
import { run, type Transaction } from '#libs/persistence';
import { aboutPage, type PackedBlock, type PackedPage, type PackedPart } from './packed-part.js';

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

/** All bodies of one sort travel as one value: an array of them would be sent as text, twice as long. They come last, since what is written before them is copied once. */
const INSERT = `
insert into signal_block (string_id, run_id, upload_id, part_no, known_from, channel_id, level, block_no, items,
                          first_position, last_position, from_us, to_us, unread, body)
select $1, $2, $3, $4, $5, t.channel_id, t.level, t.block_no, t.items, t.first_position, t.last_position, t.from_us, t.to_us, t.unread,
       substr(case t.level when 0 then $18::bytea else $17::bytea end, t.at, t.bytes)
  from unnest($6::uuid[], $7::int2[], $8::int8[], $9::int4[], $10::int8[], $11::int8[], $12::int8[], $13::int8[], $14::int4[], $15::int4[], $16::int4[])
       as t(channel_id, level, block_no, items, first_position, last_position, from_us, to_us, unread, at, bytes)`;

/** How many blocks each channel has, by the end of the index. */
const ENDS = `
select c.id as channel_id, coalesce((select max(block_no) + 1 from signal_block where string_id = $1 and channel_id = c.id and level = 0), 0) as blocks
  from unnest($2::uuid[]) as c(id)`;

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
    const tails = await this.tailsOf(tx.manager, place.stringId, place.channelIds);
    const rows: BlockRow[] = [];
    const pages: Uint8Array[] = [];
    let cellsAt = 0;
    for (const [index, { blocks, pages: own }] of part.columns.entries()) {
      const [channelId, tail] = [place.channelIds[index] as string, tails[index] as PyramidTail];
      const first = tail.nextBlock;
      rows.push(...blocks.map((block, nth) => blockRow(place, part, channelId, first + nth, block)));
      const blockCells: (Summary | null)[] = [];
      for (const page of own) {
        const encoded = { level: page.level, count: page.cells, bytes: part.cells.subarray(cellsAt, cellsAt + page.bytes) };
        cellsAt += page.bytes;
        const firstCellNo = first * cellsInBlock(page.level) + page.firstIndex;
        const body = sealPage(encoded, firstCellNo);
        pages.push(body);
        rows.push(pageRow(place, channelId, firstCellNo, page, body.length));
        if (page.level === BLOCK_LEVEL) blockCells.push(...openCells(encoded, firstCellNo));
      }
      for (const page of tail.grow(blockCells)) {
        const body = encodePage(page);
        pages.push(body);
        rows.push(pageRow(place, channelId, page.firstCellNo, aboutPage(page), body.length));
      }
    }
    await insert(tx, place, rows, part.bodies, Buffer.concat(pages));
    return () => { for (const [index, channelId] of place.channelIds.entries()) this.tails.set(tailKey(place.stringId, channelId), tails[index]); };
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

  /** The ends of the pyramids of channels as committed, or as this transaction sees them. */
  private async tailsOf(manager: EntityManager, stringId: string, channelIds: readonly string[]): Promise<PyramidTail[]> {
    const { rows } = await run<{ channel_id: string; blocks: string }>(manager, ENDS, [stringId, channelIds]);
    const tails: PyramidTail[] = [];
    for (const channelId of channelIds) tails.push(await this.tailOf(manager, stringId, channelId, Number(rows.find((row) => row.channel_id === channelId)?.blocks)));
    return tails;
  }

  private async tailOf(manager: EntityManager, stringId: string, channelId: string, blocks: number): Promise<PyramidTail> {
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

function pageRow(place: PartPlace, channelId: string, firstCellNo: number, page: Omit<PackedPage, 'firstIndex' | 'bytes'>, bytes: number): BlockRow {
  const { level, cells: items, empty: unread, firstPosition, lastPosition } = page;
  return { channelId, level, blockNo: firstCellNo, items, unread, bytes, firstPosition, lastPosition, fromUs: place.fromUs, toUs: place.toUs };
}

async function insert(tx: Transaction, place: PartPlace, rows: readonly BlockRow[], blocks: Uint8Array, pages: Uint8Array): Promise<void> {
  let [blockAt, pageAt] = [1, 1];
  const starts = rows.map(({ level, bytes }) => (level === 0 ? (blockAt += bytes) : (pageAt += bytes)) - bytes);
  const column = <K extends keyof BlockRow>(name: K): BlockRow[K][] => rows.map((row) => row[name]);
  await run(tx.manager, INSERT, [
    place.stringId, place.runId, place.uploadId, place.partNo, tx.knownAt,
    column('channelId'), column('level'), column('blockNo'), column('items'), column('firstPosition'), column('lastPosition'),
    column('fromUs'), column('toUs'), column('unread'), starts, column('bytes'), pages, blocks,
  ]);
}
