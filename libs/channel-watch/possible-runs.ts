import { CELL_SAMPLES, samplesOf, type Summary } from '#libs/signals';

/** A cell of level 1, in the order of reading. */
export interface NumberedCell {
  readonly cellNo: number;
  readonly summary: Summary;
}

/** Cells from one number up to, and without, another. */
export interface CellSpan {
  readonly fromCell: number;
  readonly toCell: number;
}

/** What of a cell a run of identical readings can take at most. */
interface Room {
  readonly samples: number;
  /** From its first sample on, up to its last, and between. */
  readonly head: number;
  readonly tail: number;
  readonly inner: number;
  /** All of it can be one value. */
  readonly isWhole: boolean;
}

/**
 * The least and the greatest value each stand at a known address, the first that has it. A run cannot hold both unless they are one
 * value, and one that holds either begins there: so a run from the first sample on ends before the first of the two that is not
 * itself the first sample, and one up to the last sample does not begin before the last of the two. Where samples were not read,
 * nothing is known.
 */
function roomOf({ cellNo, summary }: NumberedCell): Room {
  const samples = samplesOf(summary);
  const { least, greatest, n } = summary;
  if (n < samples || least === null || greatest === null || least.value === greatest.value) return { samples, head: samples, tail: samples, inner: samples, isWhole: true };
  const ends = [least.address, greatest.address].map((address) => address - cellNo * CELL_SAMPLES);
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const head = first === 0 ? last : first;
  return { samples, head, tail: samples - last, inner: Math.max(first, last - first, samples - last), isWhole: false };
}

/**
 * Spans of cells in which a run of at least `least` identical readings can lie, so that samples have to be looked at there and
 * nowhere else: no run is ever outside of them. For `isMarkedWithin` runs within a part are marked as suspect already, and those over
 * an end of a block alone are looked for beside them. The longer the run, the fewer the spans: of white noise and 400 readings, one
 * end of a block in 160; runs much shorter than a cell of 256 can be nearly everywhere.
 */
export function possibleRuns(cells: Iterable<NumberedCell>, least: number, isMarkedWithin: boolean, cellsInBlock: number): CellSpan[] {
  const spans: CellSpan[] = [];
  let [open, openFrom, crossed] = [0, 0, false];
  let before: number | null = null;
  for (const cell of cells) {
    const { cellNo, summary } = cell;
    const room = roomOf(cell);
    const isMarked = summary.counts.suspectStuck > 0;
    if (open > 0 && before !== null) crossed ||= Math.floor(before / cellsInBlock) !== Math.floor(cellNo / cellsInBlock);
    const isOver = open > 0 && open + room.head >= least && (crossed || !isMarkedWithin);
    const isInside = isMarked || (!isMarkedWithin && room.inner >= least);
    if (isOver || isInside) add(spans, isOver ? openFrom : cellNo, cellNo + 1);
    if (!room.isWhole || open === 0) {
      [open, openFrom, crossed] = [room.tail, cellNo, false];
    } else open += room.samples;
    before = cellNo;
  }
  return spans;
}

function add(spans: CellSpan[], fromCell: number, toCell: number): void {
  const last = spans.at(-1);
  if (last === undefined || fromCell > last.toCell) spans.push({ fromCell, toCell });
  else spans[spans.length - 1] = { fromCell: Math.min(last.fromCell, fromCell), toCell };
}
