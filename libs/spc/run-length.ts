import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { advance, NO_MEMORY, RUN_RULES, type RunRule, type StepRule, ZONE_LINES, type ZoneMemory, type ZoneRule } from './run-rules.js';

interface Cell {
  /** A value inside, for all that lie between the same two lines. */
  readonly value: number;
  readonly probability: number;
}

/** By state, where each cell leads: the next state, or null for a signal. */
type Chain = readonly (readonly (number | null)[])[];

/**
 * The average run length of a Shewhart chart: how many points it takes until one of these rules signals, on average, for
 * independent normal values whose mean has moved by `shift` standard deviations of the plotted value (0: until a false alarm).
 * Exact, by the Markov chain of what the rules remember (C. W. Champ and W. H. Woodall, Exact results for Shewhart control
 * charts with supplementary runs rules, Technometrics 29, 1987, 393-399). Limits are taken as known.
 *
 * Rules of points that rise, fall or alternate depend on more than zones: with one of them it throws RangeError, as for a shift
 * that is not finite, for no rules at all, and where the rules all but never signal.
 */
export function shewhartRunLength(rules: readonly RunRule[], shift: number): number {
  if (!Number.isFinite(shift)) throw new RangeError(`not a shift: ${shift}`);
  if (rules.length === 0) throw new RangeError('without rules no chart signals');
  const cells = cellsAt(shift);
  return runLengthOf(chainOf(zoneRules(rules), cells), cells);
}

function zoneRules(rules: readonly RunRule[]): ZoneRule[] {
  return [...new Set(rules)].map((name) => {
    const rule: ZoneRule | StepRule = RUN_RULES[name];
    if (!('inZone' in rule)) throw new RangeError(`a run length is not known with the rule of ${rule.text}: it depends on more than zones`);
    return rule;
  });
}

function cellsAt(shift: number): Cell[] {
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
function chainOf(rules: readonly ZoneRule[], cells: readonly Cell[]): Chain {
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

/** A factor that changes by less is the same, but for roundings. */
const STEADY = 1e-15;
/** As many points as the longest rule remembers, so that no lull in a run is taken for the law of the tail. */
const STEADY_POINTS = 15;
const MOST_POINTS = 100_000;
/** What remains loses at least this share from point to point, or a rounding decides how much. */
const LEAST_LOSS = 1e-11;

/**
 * The sum over all points of the probability that nothing has signalled before: point by point, until what remains shrinks by
 * one and the same factor, from where on it is a geometric series.
 */
function runLengthOf(chain: Chain, cells: readonly Cell[]): number {
  let silent = new Float64Array(chain.length);
  silent[0] = 1;
  let [sum, remaining, factor, steady] = [0, 1, 0, 0];
  for (let point = 0; point < MOST_POINTS; point++) {
    sum += remaining;
    silent = stepped(chain, cells, silent);
    const next = silent.reduce((all, one) => all + one, 0);
    if (next < sum * Number.EPSILON * Number.EPSILON) return sum;
    steady = Math.abs(next / remaining - factor) <= STEADY ? steady + 1 : 0;
    [remaining, factor] = [next, next / remaining];
    if (steady === STEADY_POINTS && 1 - factor > LEAST_LOSS) return sum + remaining / (1 - factor);
  }
  throw new RangeError('the run length is too long to be worked out');
}

function stepped(chain: Chain, cells: readonly Cell[], silent: Float64Array): Float64Array<ArrayBuffer> {
  const next = new Float64Array(silent.length);
  chain.forEach((to, state) => {
    const here = silent[state] ?? 0;
    to.forEach((target, cell) => {
      if (target !== null) next[target] = (next[target] ?? 0) + here * (cells[cell]?.probability ?? 0);
    });
  });
  return next;
}
