import type { Interval } from '#libs/intervals';
import { isWorse, type EvidenceState } from './evidence-state.js';

/** What a line said of pipe at one time. */
export interface SaidStretch extends Interval {
  readonly state: EvidenceState;
  readonly late: boolean;
}

export interface SaidLine<S extends SaidStretch> {
  readonly key: string;
  readonly stretches: readonly S[];
}

/** Pipe of which a demand comes to something else than before. */
export interface Difference<S extends SaidStretch> extends Interval {
  readonly key: string;
  /** Null where the demand was not made then, or that pipe was not in it. */
  readonly before: S | null;
  readonly after: S | null;
  /** The state now is worse than it was; where nothing was asked for before, a demand has come that is neither confirmed nor conceded. */
  readonly worse: boolean;
}

/**
 * Where two answers about the same pipe differ in state or lateness, line by line, each in order of footage; the lines of
 * `before` first. Stretches of one line are in order and do not overlap. Cost O(n + m) a line.
 */
export function differences<S extends SaidStretch>(before: readonly SaidLine<S>[], after: readonly SaidLine<S>[]): Difference<S>[] {
  const keys = [...new Set([...before, ...after].map(({ key }) => key))];
  const of = (lines: readonly SaidLine<S>[], key: string): readonly S[] => lines.find((line) => line.key === key)?.stretches ?? [];
  return keys.flatMap((key) => alongLine(key, of(before, key), of(after, key)));
}

function alongLine<S extends SaidStretch>(key: string, before: readonly S[], after: readonly S[]): Difference<S>[] {
  const edges = [...new Set([...before, ...after].flatMap(({ fromMm, toMm }) => [fromMm, toMm]))].sort((a, b) => a - b);
  const found: Difference<S>[] = [];
  let [then, now] = [0, 0];
  for (const [index, fromMm] of edges.entries()) {
    const toMm = edges[index + 1];
    if (toMm === undefined) break;
    while (then < before.length && (before[then] as S).toMm <= fromMm) then += 1;
    while (now < after.length && (after[now] as S).toMm <= fromMm) now += 1;
    const [one, other] = [coveringOf(before[then], fromMm), coveringOf(after[now], fromMm)];
    if (!isSame(one, other)) add(found, { key, fromMm, toMm, before: one, after: other, worse: hasWorsened(one, other) });
  }
  return found;
}

const coveringOf = <S extends SaidStretch>(stretch: S | undefined, fromMm: number): S | null => (stretch !== undefined && stretch.fromMm <= fromMm ? stretch : null);

function isSame(one: SaidStretch | null, other: SaidStretch | null): boolean {
  return one === null || other === null ? one === other : one.state === other.state && one.late === other.late;
}

/** Where nothing was asked for before, the line was not there or did not require it, pipe that meets the demand has not become worse. */
function hasWorsened(one: SaidStretch | null, other: SaidStretch | null): boolean {
  const before = one === null || one.state === 'not-required' ? 'conceded' : one.state;
  return other !== null && isWorse(other.state, before);
}

function add<S extends SaidStretch>(found: Difference<S>[], difference: Difference<S>): void {
  const last = found.at(-1);
  if (last !== undefined && last.toMm === difference.fromMm && last.before === difference.before && last.after === difference.after) found[found.length - 1] = { ...last, toMm: difference.toMm };
  else found.push(difference);
}
