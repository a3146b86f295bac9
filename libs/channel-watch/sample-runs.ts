import { STATUS, type Samples, type Summary } from '#libs/signals';
import { missingIn } from './cell.js';

/** Consecutive samples of one go along the pipe, whatever block, part or upload they came in. */
export interface SampleRun {
  readonly samples: number;
  /** Positions of the first and the last of them, in the order in which they were read. */
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** In which blocks they begin and end. */
  readonly firstBlock: number;
  readonly lastBlock: number;
  /** Null where they are missing. */
  readonly value: number | null;
}

/** Which runs are kept, and how many at most. */
export interface KeptRuns {
  keeps(run: SampleRun): boolean;
  readonly most: number;
}

/** Thrown where there are more runs than are kept. */
export class TooManyRuns extends Error {}

const ALL: KeptRuns = { keeps: () => true, most: Infinity };

/** Gathers samples as long as they go on, and keeps what comes to at least `least` of them. */
class Gatherer {
  private readonly gathered: SampleRun[] = [];
  private open = 0;
  private value: number | null = null;
  private firstPosition = 0;
  private lastPosition = 0;
  private firstBlock = 0;
  private lastBlock = 0;

  constructor(
    private readonly least: number,
    private readonly kept: KeptRuns,
  ) {}

  add(blockNo: number, value: number | null, samples: number, firstPosition: number, lastPosition: number): void {
    // As numbers: 0 and −0 are identical readings.
    if (this.open === 0 || this.value !== value) {
      this.stop();
      this.value = value;
      this.firstPosition = firstPosition;
      this.firstBlock = blockNo;
    }
    this.open += samples;
    this.lastPosition = lastPosition;
    this.lastBlock = blockNo;
  }

  stop(): void {
    const { open: samples, least, firstPosition, lastPosition, firstBlock, lastBlock, value } = this;
    this.open = 0;
    if (samples === 0 || samples < least) return;
    const run = { samples, firstPosition, lastPosition, firstBlock, lastBlock, value };
    if (!this.kept.keeps(run)) return;
    if (this.gathered.length >= this.kept.most) throw new TooManyRuns(`more than ${this.kept.most} runs of samples`);
    this.gathered.push(run);
  }

  end(): readonly SampleRun[] {
    this.stop();
    return this.gathered;
  }
}

/** Runs of missing samples. Cells of which all or none are missing are told by their summaries; samples are needed of others only. */
export class MissingRuns {
  private readonly gatherer: Gatherer;

  constructor(kept: KeptRuns = ALL) {
    this.gatherer = new Gatherer(1, kept);
  }

  /** Throws RangeError when some of the cell is missing: that is for its samples to tell. */
  cell(blockNo: number, summary: Summary): void {
    const missing = missingIn(summary);
    if (missing === 'some') throw new RangeError(`where the missing samples of a cell of block ${blockNo} are is not known`);
    if (missing === 'none') this.gatherer.stop();
    else this.gatherer.add(blockNo, null, summary.counts.missing, summary.firstPosition, summary.lastPosition);
  }

  samples(blockNo: number, { positions, statuses }: Samples): void {
    for (let index = 0; index < positions.length; index += 1) {
      const position = positions[index] as number;
      if (statuses[index] === STATUS.missing) this.gatherer.add(blockNo, null, 1, position, position);
      else this.gatherer.stop();
    }
  }

  end(): readonly SampleRun[] {
    return this.gatherer.end();
  }
}

/** Runs of at least `least` identical readings: those marked as read, or as suspect for this very reason. */
export class IdenticalRuns {
  private readonly gatherer: Gatherer;

  constructor(least: number, { most }: Pick<KeptRuns, 'most'> = ALL) {
    this.gatherer = new Gatherer(least, { ...ALL, most });
  }

  samples(blockNo: number, { positions, values, statuses }: Samples): void {
    for (let index = 0; index < positions.length; index += 1) {
      const [position, status] = [positions[index] as number, statuses[index]];
      if (status === STATUS.read || status === STATUS.suspectStuck) this.gatherer.add(blockNo, values[index] as number, 1, position, position);
      else this.gatherer.stop();
    }
  }

  /** Says that what comes next does not follow what came last, or cannot go on with it. */
  stop(): void {
    this.gatherer.stop();
  }

  end(): readonly SampleRun[] {
    return this.gatherer.end();
  }
}
