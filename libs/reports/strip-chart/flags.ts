/**
 * Labels on poles: the text stands right of its pole, or over it at the end of the plot, or left of it, in the lowest row where it
 * touches no other text and no pole. What finds no room is handed back, so that it can be counted.
 */
import { type ChartFrame, ROW_EM, textAt } from './chart-frame.js';
import { FlagRows } from './flag-rows.js';
import { type Shape, stroke } from './shapes.js';

export interface Flag {
  readonly text: string;
  readonly atPt: number;
  /** The lower, the sooner it is placed. */
  readonly rank: number;
  /** What is counted when there is no room for it: one of them, and several. */
  readonly counted: readonly [one: string, several: string];
  readonly isBold: boolean;
}

export interface PlacedFlag {
  readonly flag: Flag;
  readonly row: number;
  readonly leftPt: number;
  readonly widthPt: number;
}

export interface Flags {
  readonly placed: readonly PlacedFlag[];
  readonly without: readonly Flag[];
}

const POLE_GAP_EM = 0.3;
/** A little less, so that poles at one place can carry flags one over the other. */
const POLE_CLEAR_EM = 0.27;
const TEXT_GAP_EM = 0.6;
const WIDEST_EM = 24;

/**
 * Flags in at most so many rows. The important are placed first, of one rank the first; where placing from right to left, which
 * suits poles close together, leaves out fewer of the most important, that is taken.
 */
export function placeFlags(flags: readonly Flag[], rowsMax: number, frame: ChartFrame): Flags {
  const measured = flags.map((flag) => ({ ...flag, widthPt: widthOf(flag, frame) }));
  const fromRight = measured.toSorted((a, b) => b.atPt - a.atPt);
  const orders = [measured.toSorted((a, b) => a.rank - b.rank), fromRight.toSorted((a, b) => a.rank - b.rank), fromRight];
  const [first, ...others] = orders.map((order) => placeInOrder(order, rowsMax, frame)) as [Flags, ...Flags[]];
  return others.reduce((best, other) => (leavesOutLess(other, best) ? other : best), first);
}

interface MeasuredFlag extends Flag {
  readonly widthPt: number;
}

const widthOf = ({ text, isBold }: Flag, frame: ChartFrame): number =>
  textAt(frame, text, 0, 0, { isBold, roomPt: Math.min(WIDEST_EM * frame.emPt, frame.plot.widthPt) }).widthPt;

function placeInOrder(flags: readonly MeasuredFlag[], rowsMax: number, frame: ChartFrame): Flags {
  const rows = new FlagRows(rowsMax, TEXT_GAP_EM * frame.emPt, POLE_CLEAR_EM * frame.emPt);
  const [placed, without]: [PlacedFlag[], Flag[]] = [[], []];
  for (const flag of flags) {
    const found = firstPlace(flag, rows, rowsMax, frame);
    if (found === null) without.push(flag);
    else placed.push(found);
  }
  return { placed, without: without.sort((a, b) => a.rank - b.rank) };
}

/** The first rank of which different numbers are left out decides. */
function leavesOutLess(one: Flags, other: Flags): boolean {
  const ranks = [...new Set([...one.without, ...other.without].map(({ rank }) => rank))].sort((a, b) => a - b);
  const leftOut = ({ without }: Flags, rank: number): number => without.filter((flag) => flag.rank === rank).length;
  const deciding = ranks.find((rank) => leftOut(one, rank) !== leftOut(other, rank));
  return deciding !== undefined && leftOut(one, deciding) < leftOut(other, deciding);
}

/** Takes it as well. */
function firstPlace(flag: MeasuredFlag, rows: FlagRows, rowsMax: number, frame: ChartFrame): PlacedFlag | null {
  const { emPt, plot, plotRightPt } = frame;
  const { widthPt, atPt } = flag;
  const gapPt = POLE_GAP_EM * emPt;
  // A text left of its pole lies over the places of others: only where it fits nowhere at the right.
  for (const leftPt of [flag.atPt + gapPt, plotRightPt - widthPt, flag.atPt - gapPt - widthPt]) {
    if (leftPt < plot.leftPt || leftPt + widthPt > plotRightPt || leftPt > flag.atPt + gapPt) continue;
    for (let row = 0; row < rowsMax; row += 1) {
      if (!rows.isFree({ row, leftPt, widthPt, atPt })) continue;
      rows.take({ row, leftPt, widthPt, atPt });
      return { flag, row, leftPt, widthPt };
    }
  }
  return null;
}

/** Whether a text stands on top of its pole. */
const isOver = ({ atPt }: Flag, leftPt: number, widthPt: number): boolean => leftPt <= atPt && leftPt + widthPt >= atPt;

/** The height that placed flags take up. */
export const flagsHeightPt = ({ placed }: Flags, { emPt }: ChartFrame): number =>
  placed.reduce((rows, { row }) => Math.max(rows, row + 1), 0) * ROW_EM * emPt;

/** The flags with their poles down to `footPt`, at which the lowest row begins. */
export function drawFlags(flags: Flags, footPt: number, frame: ChartFrame): Shape[] {
  const rowPt = ROW_EM * frame.emPt;
  return flags.placed.flatMap(({ flag, row, leftPt, widthPt }) => [
    stroke(flag.atPt, footPt - (row + (isOver(flag, leftPt, widthPt) ? 0.08 : 0.85)) * rowPt, flag.atPt, footPt, { ink: 'black', widthPt: 0.6 }),
    textAt(frame, flag.text, leftPt < flag.atPt ? leftPt + widthPt : leftPt, footPt - (row + 0.28) * rowPt, {
      isBold: flag.isBold, hold: leftPt < flag.atPt ? 'end' : 'start', roomPt: widthPt + 0.01,
    }),
  ]);
}

/** @example countWithout({ placed: [], without: [failed, failed, stop] }) // ['+3 more', '2 checks failed', '1 stop'] */
export function countWithout({ without }: Flags): string[] {
  if (without.length === 0) return [];
  const counts = new Map<string, { count: number; several: string }>();
  for (const { counted: [one, several] } of without) counts.set(one, { count: (counts.get(one)?.count ?? 0) + 1, several });
  return [`+${without.length} more`, ...[...counts].map(([one, { count, several }]) => `${count} ${count === 1 ? one : several}`)];
}
