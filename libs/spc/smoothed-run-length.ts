import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { gaussLegendre } from './gauss-legendre.js';
import { solved } from './linear-system.js';

/**
 * Average run lengths of charts that remember: how many points until a signal, on average, for independent normal values whose
 * mean has moved by `shift` of their standard deviations. Each solves the integral equation of the run length at the nodes of
 * Gauss's rule (E. S. Page, 1954; S. V. Crowder, Technometrics 29, 1987, 401-407); the kernels are smooth, and the digits of
 * a double are nearly reached.
 */

const DENSITY = 1 / Math.sqrt(2 * Math.PI);
const normalDensity = (z: number): number => DENSITY * Math.exp((-z * z) / 2);

/** Nodes beyond what a short range needs, and for each standard deviation of the kernel that the range is long. */
const NODES = 40;
const NODES_PER_SIGMA = 10;
const MOST_NODES = 600;

/**
 * Of an EWMA chart with fixed limits ± L σ √(λ/(2 − λ)), two-sided, from the target on: with h that limit over σ,
 * L(u) = 1 + (1/λ) ∫ φ((y − (1 − λ) u)/λ − shift) L(y) dy over −h…h, at u = 0. With the exact limits of the first points, which are
 * narrower, signals come a little sooner. Throws RangeError when λ is not above 0 and at most 1, the width is not above 0, the
 * shift is not finite, the design needs more nodes than are taken, or the run length is above 10¹¹.
 */
export function ewmaRunLength(lambda: number, width: number, shift: number): number {
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`not a weight above 0 and at most 1: ${lambda}`);
  if (!(width > 0 && width < Infinity)) throw new RangeError(`not a width of limits: ${width}`);
  demandShift(shift);
  const h = width * Math.sqrt(lambda / (2 - lambda));
  const nodes = gaussLegendre(nodesFor((2 * h) / lambda), -h, h);
  const kernel = (u: number, y: number): number => normalDensity((y - (1 - lambda) * u) / lambda - shift) / lambda;
  const rows = nodes.map(({ at: u }, row) => Float64Array.from(nodes, ({ at, weight }, column) => Number(row === column) - weight * kernel(u, at)));
  const lengths = solved(rows, new Float64Array(nodes.length).fill(1));
  return trusted(1 + nodes.reduce((sum, { at, weight }, index) => sum + weight * kernel(0, at) * (lengths[index] ?? NaN), 0));
}

/** A CUSUM in standard deviations of the values: reference value, decision interval and head start. */
export interface StandardCusum {
  readonly k: number;
  readonly h: number;
  /** 0 if not given. */
  readonly headStart?: number;
}

/**
 * Of a one-sided CUSUM upwards: L(u) = 1 + L(0) Φ(k − u − shift) + ∫ φ(y + k − u − shift) L(y) dy over 0…h, at the head start.
 * Throws RangeError when k is below 0, h is not above 0, the head start is not from 0 to h, the shift is not finite, h needs
 * more nodes than are taken, or the run length is above 10¹¹.
 */
export function oneSidedCusumRunLength(design: StandardCusum, shift: number): number {
  return trusted(oneSided(design, shift)(design.headStart ?? 0));
}

/**
 * Of a CUSUM to both sides, from its two halves: with A and B the lengths of the upper and of the lower one from 0 and a, b those
 * from the head start, (B a + A b − A B)/(A + B), which without a head start is 1/(1/A + 1/B) (Lucas and Crosier, Technometrics
 * 24, 1982, 199-205). Errors as for one side.
 */
export function cusumRunLength(design: StandardCusum, shift: number): number {
  return trusted(twoSided(design, shift));
}

function twoSided(design: StandardCusum, shift: number): number {
  const { headStart = 0 } = design;
  const [high, low] = [oneSided(design, shift), oneSided(design, -shift)];
  const [fromZero, lowFromZero] = [high(0), low(0)];
  return (lowFromZero * high(headStart) + fromZero * low(headStart) - fromZero * lowFromZero) / (fromZero + lowFromZero);
}

/**
 * The decision interval h at which a CUSUM to both sides with this k signals falsely after so many points on average; in
 * standard deviations, by halving. Throws RangeError when k is below 0 or the run length is longer than can be worked out, and
 * where it is so short that single points beyond k come to it already, without any h.
 */
export function cusumDecisionInterval(k: number, runLength: number): number {
  demandCusum(k, 1, 0);
  trusted(runLength);
  const withoutSum = 1 / (2 * normalCdf(-k, 0, 1));
  if (!(runLength > withoutSum)) throw new RangeError(`single values beyond ${k} signal after ${withoutSum} points: no sum has a run length of ${runLength}`);
  const isReached = (h: number): boolean => {
    const length = twoSided({ k, h }, 0);
    return length >= runLength || !isTrusted(length);
  };
  let [from, to] = [0, 1];
  while (!isReached(to)) [from, to] = [to, 2 * to];
  while (to - from > to * CLOSE) {
    const middle = (from + to) / 2;
    if (isReached(middle)) to = middle;
    else from = middle;
  }
  return (from + to) / 2;
}

/** Twelve digits. */
const CLOSE = 1e-12;

/** The run length as a function of where the sum starts. */
function oneSided({ k, h, headStart = 0 }: StandardCusum, shift: number): (start: number) => number {
  demandCusum(k, h, headStart);
  demandShift(shift);
  const nodes = gaussLegendre(nodesFor(h), 0, h);
  // The first unknown is the length from 0, where the sum can stay; the others are those at the nodes.
  const starts = [0, ...nodes.map(({ at }) => at)];
  const toZero = (u: number): number => normalCdf(k - u, shift, 1);
  const kernel = (u: number, y: number): number => normalDensity(y + k - u - shift);
  const rows = starts.map((u, row) => Float64Array.from(starts, (_, column) => {
    const node = nodes[column - 1];
    return Number(row === column) - (node === undefined ? toZero(u) : node.weight * kernel(u, node.at));
  }));
  const lengths = solved(rows, new Float64Array(starts.length).fill(1));
  return (start) => 1 + (lengths[0] ?? NaN) * toZero(start)
    + nodes.reduce((sum, { at, weight }, index) => sum + weight * kernel(start, at) * (lengths[index + 1] ?? NaN), 0);
}

/** Of longer ones the equations keep too few digits. */
const LONGEST = 1e11;
const isTrusted = (length: number): boolean => length >= 0 && length <= LONGEST;

function trusted(length: number): number {
  if (!isTrusted(length)) throw new RangeError(`a run length of more than ${LONGEST} points is not worked out`);
  return length;
}

function nodesFor(sigmas: number): number {
  const count = NODES + Math.ceil(NODES_PER_SIGMA * sigmas);
  if (count > MOST_NODES) throw new RangeError('the run length of so slow a chart is not worked out');
  return count;
}

function demandCusum(k: number, h: number, headStart: number): void {
  if (!(k >= 0 && k < Infinity)) throw new RangeError(`not a reference value: ${k}`);
  if (!(h > 0 && h < Infinity)) throw new RangeError(`not a decision interval: ${h}`);
  if (!(headStart >= 0 && headStart <= h)) throw new RangeError(`not a head start from 0 to ${h}: ${headStart}`);
}

function demandShift(shift: number): void {
  if (!Number.isFinite(shift)) throw new RangeError(`not a shift: ${shift}`);
}
