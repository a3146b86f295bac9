import { gaussLegendre } from './gauss-legendre.js';
import type { StepRule } from './run-rules.js';
import type { Cell, Chain } from './zone-chain.js';

/** What rules of steps remember: the last step, and how many in a row went one way or turned, that one among them. */
interface Trend {
  readonly direction: -1 | 0 | 1;
  readonly steady: number;
  readonly turning: number;
}

/** With how many steps of each kind a rule signals; Infinity where none does. */
type TrendLimits = Pick<Trend, 'steady' | 'turning'>;

/** A state is a state of the zones, the cell of the last value and its trend. */
interface State {
  readonly zones: number;
  readonly cell: number;
  readonly trend: Trend;
  /** By cell of the next value, and last downwards within its own cell: the next state, or −1 for a signal. */
  readonly targets: Int32Array;
}

interface Quadrature {
  readonly weights: Float64Array;
  /** By node the weights of the integral from 0 to it, one row after another. */
  readonly below: Float64Array;
}

/** The chance of the last value is so smooth a function of its rank within a cell that this many of its values keep all digits. */
const NODES = 7;
const MOST_STATES = 200_000;

/**
 * Point by point the probability that no rule has signalled, neither those of zones nor those of steps, for independent values.
 * A step depends on where in its cell the last value lies: by its rank in the cell, from 0 to 1, the values of a cell are
 * uniform. With f(u) the density of the last value's rank, p the chance of its cell, the next one in the same cell has
 * p ∫ f over 0…u upwards and p ∫ f over u…1 downwards; towards other cells all values step alike. The integrals are taken at
 * the nodes of Gauss and Legendre. Throws RangeError when the rules remember too much.
 */
export function trendSilence(chain: Chain, cells: readonly Cell[], rules: readonly StepRule[]): () => number {
  const states = statesOf(chain, cells.length, limitsOf(rules));
  const nodes = gaussLegendre(NODES, 0, 1);
  const quadrature = { weights: Float64Array.from(nodes, ({ weight }) => weight), below: Float64Array.from(nodes.flatMap(({ at }) => integralTo(at))) };
  const chances = Float64Array.from(states, ({ cell }) => cells[cell]?.probability ?? NaN);
  let densities: Float64Array<ArrayBuffer> | null = null;
  return () => {
    densities = densities === null ? firstPoint(states) : nextPoint(densities, states, chances, quadrature);
    let sum = 0;
    for (let state = 0; state < states.length; state++) sum += (chances[state] ?? NaN) * massOf(densities, state, quadrature.weights);
    return sum;
  };
}

function limitsOf(rules: readonly StepRule[]): TrendLimits {
  const least = (turns: boolean): number => Math.min(...rules.filter(({ alternating }) => alternating === turns).map(({ points }) => points - 1));
  return { steady: least(false), turning: least(true) };
}

/** The trend after one more step, or null for a signal. What no rule asks about is not counted. */
function stepped({ direction, steady, turning }: Trend, next: -1 | 1, limits: TrendLimits): Trend | null {
  const goesOn = { steady: direction === next ? steady + 1 : 1, turning: direction === -next ? turning + 1 : 1 };
  if (goesOn.steady >= limits.steady || goesOn.turning >= limits.turning) return null;
  const kept = (kind: 'steady' | 'turning'): number => (limits[kind] === Infinity ? 1 : goesOn[kind]);
  return { direction: next, steady: kept('steady'), turning: kept('turning') };
}

const FIRST: Trend = { direction: 0, steady: 0, turning: 0 };

/** All states that can be reached, those of a first value first. */
function statesOf(chain: Chain, cells: number, limits: TrendLimits): State[] {
  const states: State[] = [];
  const places = new Map<string, number>();
  const placeOf = (zones: number | null | undefined, cell: number, trend: Trend | null): number => {
    if (zones === null || zones === undefined || trend === null) return -1;
    const key = `${zones},${cell},${trend.direction},${trend.steady},${trend.turning}`;
    const known = places.get(key);
    if (known !== undefined) return known;
    if (states.length === MOST_STATES) throw new RangeError('these rules together remember too much for their run length to be worked out');
    places.set(key, states.length);
    return states.push({ zones, cell, trend, targets: new Int32Array(cells + 1) }) - 1;
  };
  for (let cell = 0; cell < cells; cell++) placeOf(chain[0]?.[cell], cell, FIRST);
  for (const { zones, cell, trend, targets } of states) {
    for (let to = 0; to < cells; to++) targets[to] = placeOf(chain[zones]?.[to], to, stepped(trend, to >= cell ? 1 : -1, limits));
    targets[cells] = placeOf(chain[zones]?.[cell], cell, stepped(trend, -1, limits));
  }
  return states;
}

function firstPoint(states: readonly State[]): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: states.length * NODES }, (_, place) => Number(states[Math.floor(place / NODES)]?.trend.direction === 0));
}

function nextPoint(densities: Float64Array, states: readonly State[], chances: Float64Array, { weights, below }: Quadrature): Float64Array<ArrayBuffer> {
  const next = new Float64Array(densities.length);
  const [risen, fallen] = [new Float64Array(NODES), new Float64Array(NODES)];
  states.forEach(({ cell, targets }, state) => {
    const chance = chances[state] ?? NaN;
    const mass = chance * massOf(densities, state, weights);
    if (mass === 0) return;
    for (let node = 0; node < NODES; node++) {
      let sum = 0;
      for (let from = 0; from < NODES; from++) sum += (below[node * NODES + from] ?? NaN) * (densities[state * NODES + from] ?? NaN);
      risen[node] = chance * sum;
      fallen[node] = mass - chance * sum;
    }
    const last = targets.length - 1;
    for (let to = 0; to < last; to++) if (to !== cell) addEvenly(next, targets[to] ?? -1, mass);
    add(next, targets[cell] ?? -1, risen);
    add(next, targets[last] ?? -1, fallen);
  });
  return next;
}

function addEvenly(densities: Float64Array, state: number, density: number): void {
  if (state < 0) return;
  const end = (state + 1) * NODES;
  for (let place = state * NODES; place < end; place++) densities[place] = (densities[place] ?? NaN) + density;
}

function add(densities: Float64Array, state: number, density: Float64Array): void {
  if (state < 0) return;
  for (let node = 0; node < NODES; node++) densities[state * NODES + node] = (densities[state * NODES + node] ?? NaN) + (density[node] ?? NaN);
}

function massOf(densities: Float64Array, state: number, weights: Float64Array): number {
  let sum = 0;
  for (let node = 0; node < NODES; node++) sum += (weights[node] ?? NaN) * (densities[state * NODES + node] ?? NaN);
  return sum;
}

/** What the value at each node counts for in the integral from 0 to `end` of the polynomial through all of them. */
function integralTo(end: number): number[] {
  const nodes = gaussLegendre(NODES, 0, 1);
  const basis = (own: number, u: number): number =>
    nodes.reduce((product, { at }, node) => (node === own ? product : (product * (u - at)) / ((nodes[own]?.at ?? NaN) - at)), 1);
  return nodes.map((_, own) => nodes.reduce((sum, { at, weight }) => sum + end * weight * basis(own, end * at), 0));
}
