import { LRUCache } from 'lru-cache';
import { SUMMARY_BYTES, SummaryTable, type CellRow, type CellRun, type PageTable } from '#libs/signals';

/** Cells that are kept together: 35 KB. */
const SHELF_CELLS = 256;

/** Some shelves of a channel, held while they are read: what others push out meanwhile stays in hand. */
export interface CellShelves {
  /** Runs of cells of which some are not known. */
  readonly missing: readonly CellRun[];
  /** Takes in the cells of a page, whether they were asked for or not. */
  put(page: PageTable): void;
  /** What is known of a run; cells that are not known are none. */
  rows(run: CellRun): CellRow[];
}

/**
 * Cells of channels, by level and number, in a bounded number of bytes; those unasked for longest go first. A cell is written once,
 * when all blocks under it are there, and never again: none that is kept can grow old.
 */
export class KeptCells {
  private readonly kept: LRUCache<string, SummaryTable>;

  constructor(mostBytes: number) {
    this.kept = new LRUCache({ maxSize: mostBytes, sizeCalculation: ({ room }) => room * SUMMARY_BYTES });
  }

  /** The shelves of a channel that runs of cells lie on. */
  shelves(channel: string, runs: readonly CellRun[]): CellShelves {
    const held = new Map<string, SummaryTable>();
    const shelf = (level: number, no: number): SummaryTable => {
      const key = `${channel} ${level} ${no}`;
      const table = held.get(key) ?? this.kept.get(key) ?? new SummaryTable(SHELF_CELLS);
      held.set(key, table);
      return table;
    };
    const missing = runs.flatMap((run) => onShelves(run).flatMap(({ no, from, to }) => unknown(shelf(run.level, no), from, to).map((part) => ({
      level: run.level, fromCell: no * SHELF_CELLS + part.from, toCell: no * SHELF_CELLS + part.to,
    }))));
    return {
      missing: joinedRuns(missing),
      put: ({ level, firstCellNo, count, table }) => {
        for (const { no, from, to } of onShelves({ level, fromCell: firstCellNo, toCell: firstCellNo + count })) {
          const own = shelf(level, no);
          own.copy(from, table, no * SHELF_CELLS + from - firstCellNo, to - from);
          this.kept.set(`${channel} ${level} ${no}`, own);
        }
      },
      rows: (run) => onShelves(run).map(({ no, from, to }) => ({ level: run.level, firstCellNo: no * SHELF_CELLS + from, table: shelf(run.level, no), from, to })),
    };
  }
}

interface ShelfPart {
  readonly no: number;
  readonly from: number;
  readonly to: number;
}

/** A run cut where shelves end: places on each. */
function onShelves({ fromCell, toCell }: CellRun): ShelfPart[] {
  const parts: ShelfPart[] = [];
  for (let at = fromCell; at < toCell;) {
    const no = Math.floor(at / SHELF_CELLS);
    const end = Math.min(toCell, (no + 1) * SHELF_CELLS);
    parts.push({ no, from: at - no * SHELF_CELLS, to: end - no * SHELF_CELLS });
    at = end;
  }
  return parts;
}

/** From the first to the last place of some that is not known. */
function unknown(table: SummaryTable, from: number, to: number): { readonly from: number; readonly to: number }[] {
  let [first, end] = [from, to];
  while (first < end && table.isKnown(first)) first += 1;
  while (end > first && table.isKnown(end - 1)) end -= 1;
  return first === end ? [] : [{ from: first, to: end }];
}

/** Runs that touch or overlap as one. */
export function joinedRuns(runs: readonly CellRun[]): CellRun[] {
  const all: CellRun[] = [];
  for (const run of [...runs].sort((a, b) => a.level - b.level || a.fromCell - b.fromCell)) {
    const last = all.at(-1);
    if (last?.level === run.level && run.fromCell <= last.toCell) all[all.length - 1] = { ...last, toCell: Math.max(last.toCell, run.toCell) };
    else all.push(run);
  }
  return all;
}
