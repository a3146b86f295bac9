import { meanRelativeRange, rootMeanSquareRelativeRange } from './relative-range.js';

/**
 * Factors of control charts for subgroups of n values, by the symbols under which standards print them. They are computed
 * from the definitions; printed tables round d2 and d3 first and differ in the third decimal here and there.
 */
export interface ControlChartFactors {
  readonly n: number;
  /** The mean of the standard deviation of n normal values, of their range, and the standard deviation of that range; sigma = 1. */
  readonly c4: number;
  readonly d2: number;
  readonly d3: number;
  /** Limits of the mean: ± A sigma, ± A2 mean range, ± A3 mean standard deviation. */
  readonly A: number;
  readonly A2: number;
  readonly A3: number;
  /** Limits of the standard deviation: B3, B4 times its mean; B5, B6 times sigma. */
  readonly B3: number;
  readonly B4: number;
  readonly B5: number;
  readonly B6: number;
  /** Limits of the range: D1, D2 times sigma; D3, D4 times its mean. */
  readonly D1: number;
  readonly D2: number;
  readonly D3: number;
  readonly D4: number;
  /** Limits of single values: ± E2 mean range of n values in a row. */
  readonly E2: number;
}

/**
 * c4 = √(2/(n − 1)) Γ(n/2)/Γ((n − 1)/2): the mean of the sample standard deviation of n normal values with sigma = 1
 * (ISO 7870-2; ASTM E2587). Computed from c4(2) = √(2/π) by c4(n) c4(n + 1) = √((n − 1)/n), which the definition gives at
 * once; each step is off by a rounding only. Throws RangeError when n is not a whole number of at least 2.
 */
export function c4(n: number): number {
  demandGroup(n);
  let factor = Math.sqrt(2 / Math.PI);
  for (let size = 2; size < n; size++) factor = Math.sqrt((size - 1) / size) / factor;
  return factor;
}

/** What was worked out once is kept: d3 takes a double integral. */
const known = new Map<number, ControlChartFactors>();
const MOST_KNOWN = 1000;

/**
 * All factors for subgroups of n values: A = 3/√n, A2 = 3/(d2 √n), A3 = 3/(c4 √n), B3, B4 = 1 ∓ 3 √(1 − c4²)/c4,
 * B5, B6 = c4 ∓ 3 √(1 − c4²), D1, D2 = d2 ∓ 3 d3, D3, D4 = 1 ∓ 3 d3/d2, E2 = 3/d2, the lower ones not below 0 (ISO 7870-2;
 * ASTM E2587; AIAG, Statistical Process Control, for E2). Throws RangeError when n is not a whole number of at least 2.
 */
export function controlChartFactors(n: number): ControlChartFactors {
  const found = known.get(n) ?? factorsOf(n);
  if (known.size < MOST_KNOWN) known.set(n, found);
  return found;
}

function factorsOf(n: number): ControlChartFactors {
  const [mean, d2] = [c4(n), meanRelativeRange(n)];
  const d3 = Math.sqrt(rootMeanSquareRelativeRange(n) ** 2 - d2 * d2);
  const spread = 3 * Math.sqrt(1 - mean * mean);
  const root = Math.sqrt(n);
  return {
    n, c4: mean, d2, d3, A: 3 / root, A2: 3 / (d2 * root), A3: 3 / (mean * root),
    B3: Math.max(1 - spread / mean, 0), B4: 1 + spread / mean, B5: Math.max(mean - spread, 0), B6: mean + spread,
    D1: Math.max(d2 - 3 * d3, 0), D2: d2 + 3 * d3, D3: Math.max(1 - (3 * d3) / d2, 0), D4: 1 + (3 * d3) / d2, E2: 3 / d2,
  };
}

function demandGroup(n: number): void {
  if (!(Number.isSafeInteger(n) && n >= 2)) throw new RangeError(`a subgroup has at least 2 values: ${n}`);
}
