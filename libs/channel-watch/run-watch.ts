import { CELLS_IN_BLOCK, type Samples } from '#libs/signals';
import { missingIn } from './cell.js';
import { possibleRuns, type NumberedCell } from './possible-runs.js';
import { IdenticalRuns, MissingRuns, type KeptRuns, type SampleRun } from './sample-runs.js';

/** What is looked for among consecutive samples. */
export interface RunRules {
  /** So many identical readings in a row look stuck; null when nobody says. */
  readonly stuckAfter: number | null;
  /** Runs of at least so many within a part carry the status `suspectStuck` already. */
  readonly isMarkedWithin: boolean;
}

export interface FoundRuns {
  readonly missing: readonly SampleRun[];
  readonly identical: readonly SampleRun[];
}

/** Numbers of the blocks, in order, whose samples have to be read to find the runs of one go along the pipe; of all others the cells do. */
export function blocksToRead(cells: readonly NumberedCell[], { stuckAfter, isMarkedWithin }: RunRules): number[] {
  const blocks = new Set(cells.filter(({ summary }) => missingIn(summary) === 'some').map(({ cellNo }) => blockOf(cellNo)));
  const spans = stuckAfter === null ? [] : possibleRuns(cells, stuckAfter, isMarkedWithin, CELLS_IN_BLOCK);
  for (const { fromCell, toCell } of spans) for (let no = blockOf(fromCell); no <= blockOf(toCell - 1); no += 1) blocks.add(no);
  return [...blocks].sort((a, b) => a - b);
}

const blockOf = (cellNo: number): number => Math.floor(cellNo / CELLS_IN_BLOCK);

/** Finds the runs of one go along the pipe, block after block in the order of reading: by samples for `blocksToRead`, else by cells. */
export class RunWatch {
  private readonly missing: MissingRuns;
  private readonly identical: IdenticalRuns | null;

  /** @param kept which runs of missing samples, and how many of either kind; all when left out. More throw TooManyRuns, wherever they are found. */
  constructor({ stuckAfter }: Pick<RunRules, 'stuckAfter'>, kept?: KeptRuns) {
    this.missing = new MissingRuns(kept);
    this.identical = stuckAfter === null ? null : new IdenticalRuns(stuckAfter, kept);
  }

  samples(blockNo: number, samples: Samples): void {
    this.missing.samples(blockNo, samples);
    this.identical?.samples(blockNo, samples);
  }

  /** Throws RangeError when the samples of the block are needed. */
  cells(blockNo: number, cells: readonly NumberedCell[]): void {
    for (const { summary } of cells) this.missing.cell(blockNo, summary);
    this.identical?.stop();
  }

  end(): FoundRuns {
    return { missing: this.missing.end(), identical: this.identical?.end() ?? [] };
  }
}
