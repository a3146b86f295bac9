import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { advance, NO_MEMORY, ZONE_LINES, type ZoneMemory, type ZoneRule } from './run-rules.js';

export interface Cell {
  /** A value inside, for all that lie between the same two lines. */
  readonly value: number;
  readonly probability: number;
}

/** By state, where each cell leads: the next state, or null for a signal. */
export type Chain = readonly (readonly (number | null)[])[];

/** The cells between all lines that rules know, from the lowest, for a normal value whose mean has moved by `shift`. */
export function cellsAt(shift: number): Cell[] {
  const edges = [-Infinity, ...ZONE_LINES, Infinity];
  return edges.slice(1).map((to, index) => {
    const from = edges[index] ?? NaN;
    // On the upper side by the lower tail, which keeps its digits.
    const probability = from >= shift
      ? normalCdf(-from, -shift, 1) - normalCdf(-to, -shift, 1)
      : normalCdf(to, shift, 1) - normalCdf(from, shift, 1);
    return { value: from === -Infinity ? to - 1 : from + 0.5, probability };
  });
}

/** All states that can be reached from a chart that remembers nothing, which is the first of them. */
export function chainOf(rules: readonly ZoneRule[], cells: readonly Cell[]): Chain {
  const start = rules.map(() => NO_MEMORY);
  const [states, places] = [[start], new Map([[keyOf(start), 0]])];
  const chain: (number | null)[][] = [];
  for (let state = states[0]; state !== undefined; state = states[chain.length]) {
    const from = state;
    chain.push(cells.map(({ value }) => {
      const next = from.map((memory, index) => advance(rules[index] as ZoneRule, memory, { value, centre: 0, standardError: 1 }));
      if (next.some(({ side }) => side !== 0)) return null;
      const memories = next.map(({ memory }) => memory);
      const known = places.get(keyOf(memories)) ?? places.set(keyOf(memories), states.push(memories) - 1).size - 1;
      return known;
    }));
  }
  return chain;
}

const keyOf = (memories: readonly ZoneMemory[]): string => memories.map(({ above, below }) => `${above},${below}`).join(';');
