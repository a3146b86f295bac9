import { isWorse, pipeByState, type EvidenceState } from '#libs/evidence';
import { IntervalSet, type Interval } from '#libs/intervals';
import { HOLDS_KEY } from '../evidence/evidence-map.js';
import type { FrozenEvidence, FrozenLine } from '../releases/frozen-evidence.js';

/** An item that is not shown on some of the pipe. */
export interface OpenForRelease {
  readonly code: string;
  /** The worst that it comes to. */
  readonly state: EvidenceState;
  readonly on: IntervalSet;
  /** What records say of it there, each once. */
  readonly because: readonly string[];
}

/** What stands against or beside a release of some pipe. */
export interface ReleaseGround {
  /** Failed or held: no release is given, whatever the reason. */
  readonly against: readonly OpenForRelease[];
  /** Missing, suspect or provisional: each needs its reason. */
  readonly toExcept: readonly OpenForRelease[];
  /** Why there is nothing to release; null where there is. */
  readonly nothing: string | null;
}

/** Some pipe that is to be released. */
export interface PipeToRelease extends Interval {
  /** Of the interval, made and not cut out. */
  readonly pipe: IntervalSet;
  /** Of that, what no control plan holds for. */
  readonly unplanned: IntervalSet;
  /** How far the string is made. */
  readonly madeMm: number;
}

export function releaseGround({ lines }: Pick<FrozenEvidence, 'lines'>, asked: PipeToRelease): ReleaseGround {
  const open = openByCode(lines);
  return { nothing: nothingToRelease(asked), against: open.filter(({ state }) => state === 'failed'), toExcept: open.filter(({ state }) => state !== 'failed') };
}

function nothingToRelease({ toMm, pipe, unplanned, madeMm }: PipeToRelease): string | null {
  if (pipe.isEmpty) return 'no pipe of that footage was made and not cut out';
  if (madeMm < toMm) return `pipe was made up to ${madeMm} mm only`;
  return unplanned.isEmpty ? null : 'no control plan holds for all of it, so nothing says what evidence it needs';
}

/** Two revisions of a plan may have the same code: who makes an exception of it makes it for both. */
function openByCode(lines: readonly FrozenLine[]): OpenForRelease[] {
  const all = lines.flatMap(openOf);
  return [...new Set(all.map(({ code }) => code))].map((code) => {
    const own = all.filter((one) => one.code === code);
    return {
      code, state: own.reduce((worst, { state }) => (isWorse(state, worst) ? state : worst), own[0]?.state ?? 'missing'),
      on: IntervalSet.from(own.flatMap(({ on }) => on.intervals)), because: [...new Set(own.flatMap(({ because }) => because))].slice(0, MOST_WORDS),
    };
  });
}

function openOf({ code, stretches, testimonies }: FrozenLine): OpenForRelease[] {
  const open = stretches.filter(({ state }) => isWorse(state, 'conceded'));
  const [worst] = pipeByState(open).filter(({ pipe }) => !pipe.isEmpty);
  if (worst === undefined) return [];
  const because = [...new Set(open.flatMap(({ by }) => by))].flatMap((nth) => testimonies[nth]?.because ?? []);
  return [{ code, state: worst.state, on: IntervalSet.from(open), because }];
}

const MOST_WORDS = 20;

/** `hold`: it stands though every item of the plan may be met. */
export const isHeld = ({ code }: OpenForRelease): boolean => code === HOLDS_KEY;

/** The sentence of a release. */
export function releaseStatement(stringName: string, { fromMm, toMm }: Interval, exceptions: number): string {
  const except = exceptions === 0 ? '' : `, with ${exceptions} ${exceptions === 1 ? 'exception' : 'exceptions'} that I answer for`;
  return `I have examined the evidence of footage ${metres(fromMm)} to ${metres(toMm)} m of ${stringName} and release this pipe for the well${except}.`;
}

const metres = (mm: number): string => (mm / 1000).toFixed(3);
