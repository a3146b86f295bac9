import { paged, type CellPage } from './cell-page.js';
import { BLOCK_LEVEL, FAN_OUT, parentsOf } from './pyramid.js';
import type { Summary } from './summary.js';

/** At this level a cell stands for more samples than a channel can ever have. */
export const TOP_LEVEL = 20;

/** Cells of one level that a tail needs: those from `fromCell` up to, and without, `toCell`, whose parent is not whole yet. */
export interface OpenSiblings {
  readonly level: number;
  readonly fromCell: number;
  readonly toCell: number;
}

/** The cells whose parent is not whole when a channel has `blocks` blocks; from the level of blocks on, empty levels left out. */
export function openSiblings(blocks: number): readonly OpenSiblings[] {
  const open: OpenSiblings[] = [];
  for (let [level, whole] = [BLOCK_LEVEL, blocks]; whole > 0 && level < TOP_LEVEL; level += 1, whole = Math.floor(whole / FAN_OUT)) {
    const fromCell = whole - (whole % FAN_OUT);
    if (fromCell < whole) open.push({ level, fromCell, toCell: whole });
  }
  return open;
}

/**
 * The end of a channel's pyramid: what new blocks are put to. Every cell is made once, when all blocks under it are there.
 * Holds at most three cells a level.
 */
export class PyramidTail {
  private readonly open: Map<number, (Summary | null)[]>;

  /**
   * `siblings`: for each of `openSiblings(blocks)` its level and its cells. Throws RangeError when they are others than that.
   */
  constructor(private blocks: number, siblings: ReadonlyMap<number, readonly (Summary | null)[]>) {
    const needed = openSiblings(blocks);
    for (const { level, fromCell, toCell } of needed) {
      const found = siblings.get(level)?.length ?? 0;
      if (found !== toCell - fromCell) throw new RangeError(`level ${level} needs cells ${fromCell} to ${toCell}, and has ${found}`);
    }
    this.open = new Map(needed.map(({ level }) => [level, [...(siblings.get(level) ?? [])]]));
  }

  /** The number that the next block gets. */
  get nextBlock(): number {
    return this.blocks;
  }

  /** A tail at the same end, so that what comes of growing one can be thrown away. */
  copy(): PyramidTail {
    return new PyramidTail(this.blocks, this.open);
  }

  /**
   * Puts blocks to the end, numbered from `nextBlock` on; of each its cell, with the addresses that it has by that number. Gives the pages
   * of all cells above them that are whole now and were not before.
   */
  grow(blocks: readonly (Summary | null)[]): CellPage[] {
    const pages: CellPage[] = [];
    let [firstCell, cells] = [this.blocks, blocks];
    this.blocks += blocks.length;
    for (let level = BLOCK_LEVEL; cells.length > 0 && level < TOP_LEVEL; level += 1) {
      const siblings = [...(this.open.get(level) ?? []), ...cells];
      firstCell = (firstCell - (siblings.length - cells.length)) / FAN_OUT;
      const whole = siblings.length - (siblings.length % FAN_OUT);
      this.open.set(level, siblings.slice(whole));
      cells = parentsOf(siblings.slice(0, whole), firstCell * FAN_OUT);
      pages.push(...paged(level + 1, firstCell, cells));
    }
    return pages;
  }
}
