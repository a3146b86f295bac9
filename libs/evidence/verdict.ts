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
  const edges = [...new Set([...pipe.intervals, ...lines.flatMap(({ stretches }) => stretches)].flatMap(({ fromMm, toMm }) => [fromMm, toMm]))].sort((a, b) => a - b);
  const at = lines.map(() => 0);
  const found: VerdictStretch[] = [];
  let asked = 0;
  for (const [index, fromMm] of edges.entries()) {
    while (asked < pipe.intervals.length && (pipe.intervals[asked] as Interval).toMm <= fromMm) asked += 1;
    const own = pipe.intervals[asked];
    const toMm = edges[index + 1];
    if (own === undefined || toMm === undefined || own.fromMm > fromMm) continue;
    add(found, { fromMm, toMm, ...worstOf(lines, here(lines, at, fromMm)) });
  }
  return found;
}

/** What each line says at a place; moves `at` on to it. */
function here<R>(lines: Lines<R>, at: number[], fromMm: number): (JudgedStretch | null)[] {
  return lines.map(({ stretches }, nth) => {
    let index = at[nth] as number;
    while (index < stretches.length && (stretches[index] as JudgedStretch).toMm <= fromMm) index += 1;
    at[nth] = index;
    const stretch = stretches[index];
    return stretch !== undefined && stretch.fromMm <= fromMm ? stretch : null;
  });
}

function worstOf<R>(lines: Lines<R>, said: readonly (JudgedStretch | null)[]): Omit<VerdictStretch, keyof Interval> {
  const rank = said.reduce((least, one) => (one === null ? least : Math.min(least, rankOf(one.state))), Infinity);
  const state = EVIDENCE_STATES[rank] ?? 'missing';
  const by = lines.filter((_line, nth) => said[nth]?.state === state).map(({ key }) => key);
  return { state, late: said.some((one) => one?.late === true), by };
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
