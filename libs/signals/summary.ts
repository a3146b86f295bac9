import { STATUS, STATUS_NAMES, type Samples, type StatusName } from './sample.js';

/** How many samples there are of each status. */
export type Counts = Readonly<Record<StatusName, number>>;

/** The least or the greatest of some values, and the address of the first sample that has it. */
export interface Extreme {
  readonly value: number;
  readonly address: number;
}

/**
 * What some samples come to; there is at least one.
 * - `least` and `greatest` are over finite values that were read, and over the bounds of saturated ones: an indication of
 *   "≥ 100" must not vanish. So with `counts.saturatedHigh` above 0 the greatest says "at least", and with
 *   `counts.saturatedLow` above 0 the least says "at most".
 * - `n`, `mean` and `squares` are over finite values that were read and nothing else: a bound is no measurement.
 * - Missing, suspect and implausible samples are counted, and enter no figure; nor does a NaN or an infinity, of any status.
 */
export interface Summary {
  readonly counts: Counts;
  /** Null when there is no such value: what then is drawn is a gap. */
  readonly least: Extreme | null;
  readonly greatest: Extreme | null;
  /** How many values the mean is of. */
  readonly n: number;
  /** Unit of the channel; 0 when n is 0. */
  readonly mean: number;
  /** Sum of the squares of the values' distances from the mean; over n − 1 it is the sample variance. */
  readonly squares: number;
  /** Positions of the first and the last sample, in the order in which they were read. */
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** Least and greatest position, which differ from those where the pipe moved back. */
  readonly fromPosition: number;
  readonly toPosition: number;
}

/**
 * The summary of samples from index `from` up to, and without, `to`, of which there is at least one; `firstAddress` is the
 * address of index 0. Mean and squares in two passes over the values, the second corrected for what rounding left in the mean.
 */
export function summarise(samples: Samples, from: number, to: number, firstAddress: number): Summary {
  return summaryOfRead(samples, from, to, firstAddress) ?? summaryOfAny(samples, from, to, firstAddress);
}

/** As `summaryOfAny`, digit for digit, where every sample was read and is finite, as nearly all are: four times as fast. Null otherwise. */
function summaryOfRead({ positions, values, statuses }: Samples, from: number, to: number, firstAddress: number): Summary | null {
  let all = 0;
  for (let index = from; index < to; index += 1) all |= statuses[index] as number;
  if (all !== STATUS.read) return null;
  const shift = values[from] as number;
  let [least, greatest, low, high, sum] = [from, from, shift, shift, 0];
  let [fromPosition, toPosition] = [positions[from] as number, positions[from] as number];
  for (let index = from; index < to; index += 1) {
    const value = values[index] as number;
    if (value < low) {
      low = value;
      least = index;
    } else if (value > high) {
      high = value;
      greatest = index;
    }
    sum += value - shift;
    const position = positions[index] as number;
    if (position < fromPosition) fromPosition = position;
    else if (position > toPosition) toPosition = position;
  }
  // One that is no number, or endless, leaves no finite sum.
  if (sum - sum !== 0) return null;
  const n = to - from;
  const mean = shift + sum / n;
  let [squares, rest] = [0, 0];
  for (let index = from; index < to; index += 1) {
    const difference = (values[index] as number) - mean;
    squares += difference * difference;
    rest += difference;
  }
  return {
    counts: { read: n, missing: 0, saturatedHigh: 0, saturatedLow: 0, suspectStuck: 0, implausible: 0 },
    least: { value: low, address: firstAddress + least }, greatest: { value: high, address: firstAddress + greatest },
    n, mean, squares: Math.max(squares - (rest * rest) / n, 0),
    firstPosition: positions[from] as number, lastPosition: positions[to - 1] as number, fromPosition, toPosition,
  };
}

function summaryOfAny(samples: Samples, from: number, to: number, firstAddress: number): Summary {
  const { positions, values, statuses } = samples;
  const counted = new Uint32Array(STATUS_NAMES.length);
  let [least, greatest, shift, sum, n] = [-1, -1, 0, 0, 0];
  let [fromPosition, toPosition] = [positions[from] as number, positions[from] as number];
  for (let index = from; index < to; index += 1) {
    const status = statuses[index] as number;
    counted[status] = (counted[status] as number) + 1;
    const position = positions[index] as number;
    if (position < fromPosition) fromPosition = position;
    if (position > toPosition) toPosition = position;
    const value = values[index] as number;
    if (!isBounding(status, value)) continue;
    if (least < 0 || value < (values[least] as number)) least = index;
    if (greatest < 0 || value > (values[greatest] as number)) greatest = index;
    if (status !== STATUS.read) continue;
    if (n === 0) shift = value;
    sum += value - shift;
    n += 1;
  }
  const mean = n === 0 ? 0 : shift + sum / n;
  const extreme = (index: number): Extreme | null => (index < 0 ? null : { value: values[index] as number, address: firstAddress + index });
  return {
    counts: countsOf(counted), least: extreme(least), greatest: extreme(greatest), n, mean, squares: squaresAbout(mean, n, samples, from, to),
    firstPosition: positions[from] as number, lastPosition: positions[to - 1] as number, fromPosition, toPosition,
  };
}

const isBounding = (status: number, value: number): boolean =>
  (status === STATUS.read || status === STATUS.saturatedHigh || status === STATUS.saturatedLow) && value - value === 0;

function squaresAbout(mean: number, n: number, { values, statuses }: Samples, from: number, to: number): number {
  if (n === 0) return 0;
  let [squares, rest] = [0, 0];
  for (let index = from; index < to; index += 1) {
    const difference = (values[index] as number) - mean;
    if (statuses[index] !== STATUS.read || difference - difference !== 0) continue;
    squares += difference * difference;
    rest += difference;
  }
  return Math.max(squares - (rest * rest) / n, 0);
}

const countsOf = (counted: ArrayLike<number>): Counts => ({
  read: counted[STATUS.read] ?? 0, missing: counted[STATUS.missing] ?? 0,
  saturatedHigh: counted[STATUS.saturatedHigh] ?? 0, saturatedLow: counted[STATUS.saturatedLow] ?? 0,
  suspectStuck: counted[STATUS.suspectStuck] ?? 0, implausible: counted[STATUS.implausible] ?? 0,
});

/**
 * The summary of the samples of both, those of `right` read after those of `left`. Counts, extremes and positions are exact;
 * mean and squares by the pairwise formula of Chan, Golub and LeVeque, Updating formulae and a pairwise algorithm for computing
 * sample variances, Stanford STAN-CS-79-773, 1979, eq. 2.1 (the number from memory): no more rounding than a few last digits.
 */
export function merge(left: Summary, right: Summary): Summary {
  const n = left.n + right.n;
  const difference = right.mean - left.mean;
  const apart = left.n > 0 && right.n > 0;
  return {
    counts: plusCounts(left.counts, right.counts),
    least: right.least !== null && (left.least === null || right.least.value < left.least.value) ? right.least : left.least,
    greatest: right.greatest !== null && (left.greatest === null || right.greatest.value > left.greatest.value) ? right.greatest : left.greatest,
    n,
    mean: apart ? left.mean + (difference * right.n) / n : left.n > 0 ? left.mean : right.mean,
    squares: left.squares + right.squares + (apart ? (difference * difference * left.n * right.n) / n : 0),
    firstPosition: left.firstPosition, lastPosition: right.lastPosition,
    fromPosition: Math.min(left.fromPosition, right.fromPosition), toPosition: Math.max(left.toPosition, right.toPosition),
  };
}

/** The summary of the samples of all, in the order given; null stands for no samples, and so does no summary at all. */
export function mergeAll(summaries: Iterable<Summary | null>): Summary | null {
  let whole: Summary | null = null;
  for (const summary of summaries) whole = whole === null ? summary : summary === null ? whole : merge(whole, summary);
  return whole;
}

const plusCounts = (left: Counts, right: Counts): Counts => ({
  read: left.read + right.read, missing: left.missing + right.missing,
  saturatedHigh: left.saturatedHigh + right.saturatedHigh, saturatedLow: left.saturatedLow + right.saturatedLow,
  suspectStuck: left.suspectStuck + right.suspectStuck, implausible: left.implausible + right.implausible,
});

/** How many samples a summary is of. */
export const samplesOf = ({ counts }: Summary): number =>
  counts.read + counts.missing + counts.saturatedHigh + counts.saturatedLow + counts.suspectStuck + counts.implausible;

/** The sample variance, in the square of the channel's unit; null for fewer than two values. */
export const varianceOf = ({ n, squares }: Summary): number | null => (n < 2 ? null : squares / (n - 1));
