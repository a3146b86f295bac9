/*
 * Signals one sample at a time: what a block, a cell or a pixel column comes to, by walking every sample of the channel. It knows
 * nothing of blocks, levels or plans, and nothing of how values are stored.
 */

/** One sample of a channel, with a status of 0 read, 1 missing, 2 saturated high, 3 saturated low, 4 stuck, 5 implausible. */
export interface PlainSample {
  readonly address: number;
  readonly position: number;
  readonly value: number;
  readonly status: number;
}

export interface PlainSummary {
  readonly counts: number[];
  least: { value: number; address: number } | null;
  greatest: { value: number; address: number } | null;
  /** The values that a mean is of. */
  readonly values: number[];
  first: number;
  last: number;
  from: number;
  to: number;
}

const only = ({ position }: PlainSample): PlainSummary =>
  ({ counts: [0, 0, 0, 0, 0, 0], least: null, greatest: null, values: [], first: position, last: position, from: position, to: position });

/** Takes one more sample into a summary. */
function take(summary: PlainSummary, { address, position, value, status }: PlainSample): void {
  summary.counts[status] = (summary.counts[status] ?? 0) + 1;
  summary.last = position;
  if (position < summary.from) summary.from = position;
  if (position > summary.to) summary.to = position;
  // Of a NaN or an infinity the difference from itself is a NaN.
  const isNumber = value - value === 0;
  if (!isNumber || status === 1 || status === 4 || status === 5) return;
  if (summary.least === null || value < summary.least.value) summary.least = { value, address };
  if (summary.greatest === null || value > summary.greatest.value) summary.greatest = { value, address };
  if (status === 0) summary.values.push(value);
}

/** Mean of the values and the sum of the squares of their distances from it, both by plain sums with what rounding lost carried along. */
export function momentsOf(values: readonly number[]): { n: number; mean: number; squares: number } {
  const mean = values.length === 0 ? 0 : carriedSum(values, (value) => value) / values.length;
  return { n: values.length, mean, squares: carriedSum(values, (value) => (value - mean) * (value - mean)) };
}

/** Neumaier's sum: the part of each addend that does not fit is kept apart. */
function carriedSum(values: readonly number[], of: (value: number) => number): number {
  let [sum, lost] = [0, 0];
  for (const value of values) {
    const addend = of(value);
    const next = sum + addend;
    const sumIsLarger = (sum < 0 ? -sum : sum) >= (addend < 0 ? -addend : addend);
    lost += sumIsLarger ? sum - next + addend : addend - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** The samples between two addresses, summed up; null when there are none. */
export function walkAddresses(channel: readonly PlainSample[], from: number, to: number): PlainSummary | null {
  let summary: PlainSummary | null = null;
  for (const sample of channel) {
    if (sample.address < from || sample.address >= to) continue;
    summary ??= only(sample);
    take(summary, sample);
  }
  return summary;
}

/** What each column of positions holds, sample by sample; null when nothing. */
export function walkColumns(channel: readonly PlainSample[], edges: ArrayLike<number>): (PlainSummary | null)[] {
  const columns = new Array<PlainSummary | null>(edges.length - 1).fill(null);
  const [start, end] = [edges[0] ?? 0, edges[edges.length - 1] ?? 0];
  let column = 0;
  for (const sample of channel) {
    if (sample.position < start || sample.position >= end) continue;
    while (sample.position < (edges[column] ?? 0)) column -= 1;
    while (sample.position >= (edges[column + 1] ?? 0)) column += 1;
    const summary = columns[column] ?? only(sample);
    take(summary, sample);
    columns[column] = summary;
  }
  return columns;
}
