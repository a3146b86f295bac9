import { RUN_RULES, type RunRule, type StepRule, type ZoneRule } from './run-rules.js';
import { trendSilence } from './trend-chain.js';
import { type Cell, cellsAt, type Chain, chainOf } from './zone-chain.js';

/**
 * The average run length of a Shewhart chart: how many points it takes until one of these rules signals, on average, for
 * independent normal values whose mean has moved by `shift` standard deviations of the plotted value (0: until a false alarm).
 * Exact, by the Markov chain of what the rules remember (C. W. Champ and W. H. Woodall, Exact results for Shewhart control
 * charts with supplementary runs rules, Technometrics 29, 1987, 393-399); with rules of points that rise, fall or alternate, of
 * where the last value lies too (our own extension of it). Limits are taken as known.
 *
 * Throws RangeError for a shift that is not finite, for no rules at all, where the rules all but never signal, and where many
 * of them together remember too much.
 */
export function shewhartRunLength(rules: readonly RunRule[], shift: number): number {
  return runLengthOf(silenceOf(rules, shift));
}

/**
 * The probability that one of these rules signals within the first `points` points, as within a shift's worth of them; else as
 * for the run length. Throws RangeError as that does, and when the points are not a whole number from 0 on.
 */
export function shewhartSignalChance(rules: readonly RunRule[], points: number, shift: number): number {
  if (!(Number.isSafeInteger(points) && points >= 0)) throw new RangeError(`not a number of points: ${points}`);
  const silence = silenceOf(rules, shift);
  let remaining = 1;
  for (let point = 0; point < points; point++) remaining = silence();
  return 1 - remaining;
}

/** Point by point the probability that nothing has signalled until then. */
function silenceOf(names: readonly RunRule[], shift: number): () => number {
  if (!Number.isFinite(shift)) throw new RangeError(`not a shift: ${shift}`);
  if (names.length === 0) throw new RangeError('without rules no chart signals');
  const rules = [...new Set(names)].map((name): ZoneRule | StepRule => RUN_RULES[name]);
  const steps = rules.filter((rule) => 'alternating' in rule);
  const cells = cellsAt(shift);
  const chain = chainOf(rules.filter((rule) => 'inZone' in rule), cells);
  return steps.length === 0 ? zoneSilence(chain, cells) : trendSilence(chain, cells, steps);
}

function zoneSilence(chain: Chain, cells: readonly Cell[]): () => number {
  let silent = new Float64Array(chain.length);
  silent[0] = 1;
  return () => {
    silent = stepped(chain, cells, silent);
    return silent.reduce((all, one) => all + one, 0);
  };
}

/** A factor that changes by less is the same, but for roundings; and so is a run length, by its share. */
const STEADY = 1e-15;
const STEADY_LENGTH = 1e-14;
/** As many points as the longest rule remembers, so that no lull in a run is taken for the law of the tail. */
const STEADY_POINTS = 15;
const MOST_POINTS = 100_000;
/** What remains loses at least this share from point to point, or a rounding decides how much. */
const LEAST_LOSS = 1e-11;

/**
 * The sum over all points of the probability that nothing has signalled before: point by point, until what remains shrinks by
 * one and the same factor, from where on it is a geometric series.
 */
function runLengthOf(silence: () => number): number {
  let [sum, remaining, factor, steady, length] = [0, 1, 0, 0, 0];
  for (let point = 0; point < MOST_POINTS; point++) {
    sum += remaining;
    const next = silence();
    if (next < sum * Number.EPSILON * Number.EPSILON) return sum;
    const [last, lastLength] = [factor, length];
    [remaining, factor] = [next, next / remaining];
    length = sum + remaining / (1 - factor);
    steady = Math.abs(factor - last) <= STEADY || Math.abs(length - lastLength) <= STEADY_LENGTH * length ? steady + 1 : 0;
    if (steady === STEADY_POINTS && 1 - factor > LEAST_LOSS) return length;
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
