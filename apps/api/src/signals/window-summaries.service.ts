import { Injectable } from '@nestjs/common';
import { interval, type Interval } from '#libs/intervals';
import { summarise, SummaryTable, type CellRun, type Samples, type Summary } from '#libs/signals';
import type { PlacedSignal } from './signal-stretches.service.js';
import { SignalStrokes, type PlacedSamples } from './signal-strokes.service.js';
import { ViewReader } from './view-reader.service.js';
import { addCells, cellsFor, windowAt, windowsOn, type StretchWindows } from './window-cells.js';
import { endPieces, piecesOn, type Piece } from './window-pieces.js';

/** Cells that are read in one journey at most. */
const READ_AT_ONCE = 20_000;
const NO_RUNS: readonly string[] = [];

/** What a channel shows on windows of the pipe. */
export class WindowFigures {
  readonly summaries: SummaryTable;
  private readonly runSets: (readonly string[])[] = [NO_RUNS];
  private readonly runSetOf: Int32Array;

  constructor(windows: number) {
    this.summaries = new SummaryTable(windows);
    this.runSetOf = new Int32Array(windows);
  }

  /** What the samples of a window come to that were counted; null without any. */
  summary(window: number): Summary | null {
    return this.summaries.get(window);
  }

  /** The runs whose samples these are: the same list for all windows of the same runs. */
  runsOf(window: number): readonly string[] {
    return this.runSets[this.runSetOf[window] as number] ?? NO_RUNS;
  }

  /** Notes that samples of a run count in a window. */
  met(window: number, runId: string): void {
    const runs = this.runsOf(window);
    if (runs.includes(runId)) return;
    const known = this.runSets.findIndex((set) => set.length === runs.length + 1 && set.includes(runId) && runs.every((one) => set.includes(one)));
    this.runSetOf[window] = known >= 0 ? known : this.runSets.push([...runs, runId]) - 1;
  }
}

/** Cells of a stretch that are to be read. */
interface Reading {
  readonly windows: StretchWindows;
  readonly run: CellRun;
}

/**
 * Works out what a channel shows on windows of the pipe, from the summaries of its samples: of the level that fits the length of the
 * windows, in one journey for up to 20,000 of them. Where a window is too short for summaries (fewer than 768 samples), from samples.
 */
@Injectable()
export class WindowSummaries {
  constructor(
    private readonly reader: ViewReader,
    private readonly strokes: SignalStrokes,
  ) {}

  /**
   * @param windows in rising footage, none overlapping
   * @param reaches of each window, how far the summaries that count in it may reach; the windows themselves when absent
   * All looks at a window count together. Without reaches a summary counts where it lies wholly in a window: what is read within one
   * summary's length of its ends may be left out, and nothing counts twice. With reaches no sample of a window is left out, and some of
   * its reach within one summary's length of it count too, perhaps in two windows: extremes lose nothing then, and means and counts
   * are not to be taken. Refuses as `ViewReader.read`.
   */
  async of(placed: PlacedSignal, windows: readonly Interval[], reaches: readonly Interval[] | null = null): Promise<WindowFigures> {
    const figures = new WindowFigures(windows.length);
    const all = placed.stretches.map((stretch) => windowsOn(placed.directory, stretch, windows, reaches ?? windows)).filter((one) => one !== null);
    const readings = all.flatMap((one) => (one.level === null ? [] : cellsFor(placed.directory, one, one.level).flatMap(cut).map((run) => ({ windows: one, run }))));
    for (const some of batches(readings)) await this.readCells(placed, some, figures);
    for (const one of all) {
      if (one.level === null) await this.readSamples(placed, one, piecesOn(one, windows), figures);
      else if (reaches !== null) await this.readSamples(placed, one, endPieces(one, windows, reaches), figures);
    }
    return figures;
  }

  private async readCells({ channel }: PlacedSignal, readings: readonly Reading[], figures: WindowFigures): Promise<void> {
    const found = await this.reader.read(channel.stringId, channel.id, readings.map(({ run }) => ({ cells: [run], raw: [] })));
    readings.forEach(({ windows }, index) => {
      addCells(found[index]?.cells ?? [], windows, figures.summaries, (window) => { figures.met(window, windows.stretch.runId); });
    });
  }

  private async readSamples(placed: PlacedSignal, { stretch, blockMm }: StretchWindows, pieces: readonly Piece[], figures: WindowFigures): Promise<void> {
    for (const own of together(pieces, blockMm)) {
      const begins = own.map(({ fromMm }) => fromMm);
      const hull = interval((own[0] as Piece).fromMm, (own.at(-1) as Piece).toMm);
      for await (const block of this.strokes.samples(placed, stretch, hull)) addSamples(block, own, begins, figures);
    }
  }
}

/** Pieces with less than a block between them: read in one go, no block is read for nothing. */
function together(pieces: readonly Piece[], blockMm: number): Piece[][] {
  const found: Piece[][] = [];
  for (const piece of pieces) {
    const last = found.at(-1);
    if (last === undefined || piece.fromMm - (last.at(-1) as Piece).toMm >= blockMm) found.push([piece]);
    else last.push(piece);
  }
  return found;
}

function addSamples({ runId, footageMm, samples }: PlacedSamples, pieces: readonly Piece[], begins: readonly number[], figures: WindowFigures): void {
  for (let from = 0; from < footageMm.length;) {
    const mm = footageMm[from] as number;
    const piece = pieces[windowAt(begins, mm, 0)];
    let to = from + 1;
    if (piece !== undefined && mm < piece.toMm) {
      const isIn = (other: number): boolean => other >= piece.fromMm && other < piece.toMm;
      while (to < footageMm.length && isIn(footageMm[to] as number)) to += 1;
      figures.summaries.merge(piece.window, summaryOf(samples, from, to), 0);
      figures.met(piece.window, runId);
    }
    from = to;
  }
}

const summaryOf = (samples: Samples, from: number, to: number): SummaryTable => SummaryTable.of([summarise(samples, from, to, 0)]);

/** A run in pieces of which each may be read in one journey. */
const cut = ({ level, fromCell, toCell }: CellRun): CellRun[] => Array.from({ length: Math.ceil((toCell - fromCell) / READ_AT_ONCE) }, (_, piece) =>
  ({ level, fromCell: fromCell + piece * READ_AT_ONCE, toCell: Math.min(toCell, fromCell + (piece + 1) * READ_AT_ONCE) }));

function batches(readings: readonly Reading[]): Reading[][] {
  const found: Reading[][] = [];
  let room = 0;
  for (const reading of readings) {
    const cells = reading.run.toCell - reading.run.fromCell;
    if (cells > room) {
      found.push([]);
      room = READ_AT_ONCE;
    }
    found.at(-1)?.push(reading);
    room -= cells;
  }
  return found;
}
