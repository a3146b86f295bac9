import { setImmediate as others } from 'node:timers/promises';
import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { DataSource } from 'typeorm';
import { addressOf, BlockRoom, decodeBlock, decodeCells, part, type CellRun, type Fetch, type Fetched, type RawPart, type RawSamples, type Samples } from '#libs/signals';
import { run } from '#libs/persistence';
import { KeptCells, type CellShelves } from './kept-cells.js';
import { SIGNAL_PAGES } from './signal-blocks.js';
import { SignalDetachments } from './signal-detachments.service.js';

/** 230,000 cells: some fifty views of other pipe. */
const KEPT_CELL_BYTES = 32 * 2 ** 20;
/** Packed: a thousand blocks, of some twenty close views. */
const KEPT_BLOCK_BYTES = 8 * 2 ** 20;
/** Unpacked in a row before others have their turn: one to two milliseconds. */
const UNPACKED_AT_ONCE_BYTES = 2 ** 18;
const DETACHED = -1;

interface StoredRow {
  readonly level: number;
  readonly block_no: string;
  readonly body: Buffer | null;
}

/** Pages, blocks and whether they are all there, of one moment. */
const STORED = `
select p.level, p.block_no, p.body from (${SIGNAL_PAGES}) p
union all
select level, block_no, body from signal_block where string_id = $1 and channel_id = $2 and level = 0 and block_no = any($6::int8[])
union all
select ${DETACHED}::int2, 0::int8, null from signal_detachment where string_id = $1 and attached_again is null`;

/** What of the parts of a view is known without asking, and what is not. */
interface Wanted {
  readonly shelves: CellShelves;
  readonly blocks: Map<number, Uint8Array>;
  readonly missing: readonly number[];
}

/** Reads what views show of a channel: all of them in one journey, and what was read lately in none. */
@Injectable()
export class ViewReader {
  private readonly cells = new KeptCells(KEPT_CELL_BYTES);
  private readonly blocks = new LRUCache<string, Uint8Array>({ maxSize: KEPT_BLOCK_BYTES, sizeCalculation: ({ length }) => length });

  constructor(
    private readonly dataSource: DataSource,
    private readonly detachments: SignalDetachments,
  ) {}

  /** What was found of each of these. Refuses (409) where what it would have to read is kept outside. */
  async read(stringId: string, channelId: string, fetches: readonly Fetch[]): Promise<Fetched[]> {
    const wanted = this.wanted(`${stringId} ${channelId}`, fetches);
    if (wanted.shelves.missing.length + wanted.missing.length > 0) await this.fetch(stringId, channelId, wanted);
    const blocks = new OneBlock(wanted.blocks);
    return fetches.map(({ cells, raw }) => ({ cells: cells.flatMap((one) => wanted.shelves.rows(one)), raw: raw.flatMap((one) => blocks.part(one)) }));
  }

  private wanted(channel: string, fetches: readonly Fetch[]): Wanted {
    const blocks = new Map<number, Uint8Array>();
    const missing: number[] = [];
    for (const no of new Set(fetches.flatMap(({ raw }) => raw.map(({ blockNo }) => blockNo)))) {
      const kept = this.blocks.get(`${channel} ${no}`);
      if (kept === undefined) missing.push(no);
      else blocks.set(no, kept);
    }
    return { shelves: this.cells.shelves(channel, fetches.flatMap(({ cells }) => cells)), blocks, missing };
  }

  private async fetch(stringId: string, channelId: string, wanted: Wanted): Promise<void> {
    const { shelves, blocks, missing } = wanted;
    const column = (of: (run: CellRun) => number): number[] => shelves.missing.map(of);
    const { rows } = await run<StoredRow>(this.dataSource.manager, STORED, [
      stringId, channelId, column(({ level }) => level), column(({ fromCell }) => fromCell), column(({ toCell }) => toCell), missing,
    ]);
    if (rows.some(({ level }) => level === DETACHED)) {
      await this.detachments.refuse(stringId);
      // They came back in between.
      return this.fetch(stringId, channelId, wanted);
    }
    await inTurns(rows, ({ body }) => body?.length ?? 0, ({ level, block_no: no, body }) => {
      if (body === null) return;
      if (level > 0) {
        shelves.put(decodeCells(body));
        return;
      }
      blocks.set(Number(no), body);
      this.blocks.set(`${stringId} ${channelId} ${no}`, body);
    });
  }
}

/** Does some work on each, and lets others have their turn every so many bytes. */
async function inTurns<T>(all: readonly T[], bytesOf: (one: T) => number, work: (one: T) => void): Promise<void> {
  let bytes = 0;
  for (const one of all) {
    work(one);
    bytes += bytesOf(one);
    if (bytes < UNPACKED_AT_ONCE_BYTES) continue;
    bytes = 0;
    await others();
  }
}

/** Blocks unpacked one at a time, in the same room: thousands of views a minute would else leave the collector gigabytes. */
class OneBlock {
  private room: BlockRoom | null = null;
  private no = -1;
  private samples: Samples | null = null;

  constructor(private readonly packed: ReadonlyMap<number, Uint8Array>) {}

  /** A part of a block as far as it has samples; none of a block that is not there. */
  part({ blockNo, from, to }: RawPart): RawSamples[] {
    const body = this.packed.get(blockNo);
    if (body === undefined) return [];
    return [{ firstAddress: addressOf(blockNo, from), samples: () => {
      const block = this.unpacked(blockNo, body);
      const { length } = block.values;
      return part(block, Math.min(from, length), Math.min(to, length));
    } }];
  }

  private unpacked(no: number, body: Uint8Array): Samples {
    if (this.samples === null || this.no !== no) {
      this.room ??= new BlockRoom();
      [this.samples, this.no] = [decodeBlock(body, this.room), no];
    }
    return this.samples;
  }
}
