import { STATUS_NAMES, type Column, type Summary } from '#libs/signals';
import { momentsOf, type PlainSummary } from './signals.reference.js';

/** What a summary has otherwise than the walk; rounding of means and sums of squares is some last digits of their size. */
export function differences(summary: Summary | null, walked: PlainSummary | null): string[] {
  if (summary === null || walked === null) return summary === walked ? [] : ['something where nothing is, or nothing where something is'];
  const { n, mean, squares } = momentsOf(walked.values);
  const size = Math.max(1, Math.abs(walked.least?.value ?? 0), Math.abs(walked.greatest?.value ?? 0));
  const same: Record<string, boolean> = {
    counts: STATUS_NAMES.every((name, status) => summary.counts[name] === walked.counts[status]),
    least: summary.least?.value === walked.least?.value && summary.least?.address === walked.least?.address,
    greatest: summary.greatest?.value === walked.greatest?.value && summary.greatest?.address === walked.greatest?.address,
    'first and last': summary.firstPosition === walked.first && summary.lastPosition === walked.last,
    reach: summary.fromPosition === walked.from && summary.toPosition === walked.to,
    n: summary.n === n,
    mean: Math.abs(summary.mean - mean) <= 1e-13 * size,
    squares: Math.abs(summary.squares - squares) <= 1e-11 * squares + 1e-13 * size * size,
  };
  return Object.keys(same).filter((what) => same[what] !== true);
}

interface Bounds {
  readonly least: { readonly value: number } | null;
  readonly greatest: { readonly value: number } | null;
}

export const leastOf = (all: readonly (Bounds | null | undefined)[]): number => Math.min(...all.map((one) => one?.least?.value ?? Infinity));
export const greatestOf = (all: readonly (Bounds | null | undefined)[]): number => Math.max(...all.map((one) => one?.greatest?.value ?? -Infinity));

/** What is wrong with a column, beside the walk over it and its neighbours. */
export function wrongWith({ summary, sharpness }: Column, walked: readonly (PlainSummary | null)[], column: number): string[] {
  const own = walked[column] ?? null;
  if (sharpness === 'exact') return differences(summary, own);
  const near = [walked[column - 1], own, walked[column + 1]];
  const right: Record<string, boolean> = {
    'no sample is left out': leastOf([summary]) <= leastOf([own]) && greatestOf([summary]) >= greatestOf([own]) && (summary?.n ?? 0) >= (own?.values.length ?? 0),
    'a gap shows': sharpness === 'coarse' || own !== null,
    'none comes from further than a neighbour': sharpness === 'coarse' || (leastOf([summary]) >= leastOf(near) && greatestOf([summary]) <= greatestOf(near)),
  };
  return Object.keys(right).filter((what) => right[what] !== true);
}
