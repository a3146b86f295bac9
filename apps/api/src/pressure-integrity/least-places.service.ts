import { Injectable } from '@nestjs/common';
import { interval, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { BLOCK_SAMPLES, CELL_SAMPLES } from '#libs/signals';
import { SignalBlocks } from '../signals/signal-blocks.js';
import type { PlacedSignal } from '../signals/signal-stretches.service.js';
import type { Stretch } from '../signals/stretch.js';

/** So many blocks are unpacked to tell a footage to the millimetre; of more, the cell of 256 samples says between which two. */
const MOST_BLOCKS = 16;

/** Finds the footage of samples that a summary names by their addresses. */
@Injectable()
export class LeastPlaces {
  constructor(private readonly blocks: SignalBlocks) {}

  /** The footage at which each sample was read, or within which it was, by its address. */
  async of({ channel }: PlacedSignal, stretch: Stretch, addresses: readonly number[]): Promise<Map<number, Interval>> {
    const places = new Map<number, Interval>();
    const blockOf = (address: number): number => Math.floor(address / BLOCK_SAMPLES);
    if (new Set(addresses.map(blockOf)).size > MOST_BLOCKS) {
      const cells = await this.blocks.cells(channel.stringId, channel.id, addresses.map((address) => ({ level: 1, fromCell: Math.floor(address / CELL_SAMPLES), toCell: Math.floor(address / CELL_SAMPLES) + 1 })));
      const byNo = new Map(cells.map(({ cellNo, summary }) => [cellNo, summary]));
      for (const address of addresses) {
        const cell = byNo.get(Math.floor(address / CELL_SAMPLES));
        if (cell !== undefined) places.set(address, between(stretch.footageOf(cell.fromPosition), stretch.footageOf(cell.toPosition)));
      }
    }
    const left = addresses.filter((address) => !places.has(address));
    const found = await this.blocks.samples(channel.stringId, channel.id, [...new Set(left.map(blockOf))]);
    for (const address of left) {
      const position = found.get(blockOf(address))?.positions[address % BLOCK_SAMPLES];
      if (position !== undefined) places.set(address, between(stretch.footageOf(position), stretch.footageOf(position)));
    }
    return places;
  }
}

function between(one: number, other: number): Interval {
  const [from, to] = [roundMm(Math.min(one, other)), roundMm(Math.max(one, other))];
  return interval(from, to + 1);
}
