import { IntervalSet, type Interval } from '#libs/intervals';
import { EVIDENCE_STATES, rankOf, type EvidenceState } from './evidence-state.js';
import type { EvidenceLine } from './evidence-line.js';
import type { JudgedStretch } from './judged-pipe.js';

/** Pipe by the worst that any demand comes to on it. */
export interface VerdictStretch extends Interval {
  readonly state: EvidenceState;
  /** Something that was shown of it came only after it had passed the hang-off. */
  readonly late: boolean;
  /** The demands that come to that state there, by their keys, in the order of the lines. */
  readonly by: readonly string[];
}

/** Lines that go on beside one another; each has what its stretches say where the walk is. */
type Lines<R> = readonly EvidenceLine<R>[];

/**
 * The verdict along `pipe`, in order of footage; stretches that touch differ. Pipe that no line covers is missing: nothing says
 * what it needs. Cost O(k log k + kn) for k stretches of n lines.
 */
export function verdictAlong<R>(pipe: IntervalSet, lines: Lines<R>): VerdictStretch[] {
  const edges = edgesOf([pipe.intervals, ...lines.map(({ stretches }) => stretches)]);
  const at = lines.map(() => 0);
  const found: VerdictStretch[] = [];
  let asked = 0;
  for (const [index, fromMm] of edges.entries()) {
    while (asked < pipe.intervals.length && (pipe.intervals[asked] as Interval).toMm <= fromMm) asked += 1;
    const own = pipe.intervals[asked];
    const toMm = edges[index + 1];
    if (own === undefined || toMm === undefined || own.fromMm > fromMm) continue;
    moveTo(lines, at, fromMm);
    add(found, worstOf({ fromMm, toMm }, lines, at));
  }
  return found;
}

/** Where any interval begins or ends, rising, each once. */
function edgesOf(lists: readonly (readonly Interval[])[]): Float64Array {
  const edges = new Set<number>();
  for (const list of lists) for (const { fromMm, toMm } of list) edges.add(fromMm).add(toMm);
  return Float64Array.from(edges).sort();
}

/** Moves on to the stretch of each line that ends beyond a place. */
function moveTo<R>(lines: Lines<R>, at: number[], fromMm: number): void {
  for (const [nth, { stretches }] of lines.entries()) {
    let index = at[nth] as number;
    while (index < stretches.length && (stretches[index] as JudgedStretch).toMm <= fromMm) index += 1;
    at[nth] = index;
  }
}

function worstOf<R>({ fromMm, toMm }: Interval, lines: Lines<R>, at: readonly number[]): VerdictStretch {
  let [rank, late, by]: [number, boolean, string[]] = [EVIDENCE_STATES.length, false, []];
  for (const [nth, { key, stretches }] of lines.entries()) {
    const said = stretches[at[nth] as number];
    if (said === undefined || said.fromMm > fromMm) continue;
    const own = rankOf(said.state);
    if (own < rank) [rank, by] = [own, []];
    if (own === rank) by.push(key);
    late ||= said.late;
  }
  return { fromMm, toMm, state: EVIDENCE_STATES[rank] ?? 'missing', late, by };
}

function add(found: VerdictStretch[], stretch: VerdictStretch): void {
  const last = found.at(-1);
  const goesOn = last !== undefined && last.toMm === stretch.fromMm && last.state === stretch.state && last.late === stretch.late
    && last.by.length === stretch.by.length && last.by.every((key, index) => stretch.by[index] === key);
  if (goesOn) found[found.length - 1] = { ...last, toMm: stretch.toMm };
  else found.push(stretch);
}

/** The pipe in each state, worst first; states that none is in are there, and empty. */
export function pipeByState(stretches: readonly (Interval & { readonly state: EvidenceState })[]): { readonly state: EvidenceState; readonly pipe: IntervalSet }[] {
  return EVIDENCE_STATES.map((state) => ({ state, pipe: IntervalSet.from(stretches.filter((one) => one.state === state)) }));
}
