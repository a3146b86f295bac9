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

/**
 * The verdict along `pipe`, in order of footage; stretches that touch differ. Pipe that no line covers is missing: nothing says
 * what it needs. Cost O(kn) for k stretches of n lines.
 */
export function verdictAlong<R>(pipe: IntervalSet, lines: readonly EvidenceLine<R>[]): VerdictStretch[] {
  const along = lines.map(({ key, stretches }) => new Along(key, stretches));
  const found: VerdictStretch[] = [];
  for (const { fromMm, toMm } of pipe.intervals) {
    for (let atMm = fromMm; atMm < toMm; atMm = found.at(-1)?.toMm ?? toMm) add(found, worstFrom(atMm, toMm, along));
  }
  return found;
}

/** No line says anything: worse than nothing that any says. */
const SAYS_NOTHING: number = EVIDENCE_STATES.length;

/** A line with what it says where the walk is. */
class Along {
  /** Place in the order of states. */
  rank = SAYS_NOTHING;
  late = false;
  /** Up to where it says that. */
  toMm = -Infinity;
  private next = 0;

  constructor(readonly key: string, private readonly stretches: readonly JudgedStretch[]) {}

  moveTo(atMm: number): void {
    while (this.next < this.stretches.length && (this.stretches[this.next] as JudgedStretch).toMm <= atMm) this.next += 1;
    const said = this.stretches[this.next];
    const isThere = said !== undefined && said.fromMm <= atMm;
    this.rank = isThere ? rankOf(said.state) : SAYS_NOTHING;
    this.late = isThere && said.late;
    this.toMm = isThere ? said.toMm : (said?.fromMm ?? Infinity);
  }
}

/** What the lines come to from a place up to where one of them says something else. */
function worstFrom(fromMm: number, untilMm: number, lines: readonly Along[]): VerdictStretch {
  let [rank, late, toMm] = [SAYS_NOTHING, false, untilMm];
  for (const line of lines) {
    if (line.toMm <= fromMm) line.moveTo(fromMm);
    if (line.rank < rank) rank = line.rank;
    if (line.toMm < toMm) toMm = line.toMm;
    late ||= line.late;
  }
  const by = lines.filter((line) => line.rank === rank && rank < SAYS_NOTHING).map(({ key }) => key);
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
