import { decimal, exactText } from '#libs/exact';
import { IntervalSet } from '#libs/intervals';
import { countsOn } from './counts-on.js';
import type { Look, RepairEvent } from './look.js';
import { compareSensitivity, type Likeness } from './sensitivity.js';

/**
 * Why repaired pipe is still open, in this order: no look for flaws since; a method used before and not since; used since,
 * but nobody knows how sensitively, by another reflector, or less sensitively; held; rejected.
 */
export const OPEN_REASONS = ['not-looked-at', 'not-repeated', 'not-stated', 'not-comparable', 'less-sensitive', 'held', 'rejected'] as const;
export type OpenReason = (typeof OPEN_REASONS)[number];

export interface OpenPoint<L> {
  readonly reason: OpenReason;
  readonly on: IntervalSet;
  /** Looks from before that ask for more: of pipe that nobody looked at since, all of them; none where a later one is what is open. */
  readonly before: readonly L[];
  /** Looks since that fall short, hold or reject. */
  readonly since: readonly L[];
}

/** A look or a repair, and the pipe that it is about here. */
export interface On<T> {
  readonly it: T;
  readonly on: IntervalSet;
}

export interface Reinspection<L, R> {
  /** Pipe that this repair was the last to change, and that is still in the string. */
  readonly standing: IntervalSet;
  /** Later repairs of the same pipe: what is open there is told of them. */
  readonly repairedAgain: readonly On<R>[];
  /** Looks that say nothing of the repaired pipe any more. */
  readonly noLongerCount: readonly On<L>[];
  /** Looks since that count on what stands. */
  readonly since: readonly On<L>[];
  readonly open: readonly OpenPoint<L>[];
}

/**
 * What is open after a repair, millimetre by millimetre. A result from before no longer counts; a later one takes its place
 * when it accepts, and was made by the same method and at least as sensitively, or stands in for it by somebody's word. A rejection
 * stays open whatever a second look says; what was held stays open until the same method decides later, at least as sensitively as
 * the look that held it: a coarser one may not see what that one saw. The order of `repairs` and `looks` plays no part.
 * Common practice; API 5CT asks, after a defect was removed, for inspection again by equal or better sensitivity.
 */
export function reinspection<L extends Look, R extends RepairEvent>(repair: R, repairs: readonly R[], looks: readonly L[], removed: IntervalSet): Reinspection<L, R> {
  const left = repair.on.subtract(removed);
  const later = repairs.filter(({ atUs }) => atUs > repair.atUs);
  const standing = countsOn({ on: left, atUs: repair.atUs }, later);
  const noLongerCount = within(left, looks.filter(({ atUs }) => atUs <= repair.atUs));
  const since = within(standing, looks.filter(({ atUs }) => atUs > repair.atUs));
  const before = within(standing, noLongerCount.map(({ it }) => it));
  const unseen = standing.subtract(all(since.filter(({ it }) => it.seesFlaws)));
  const refused = notPassed(since);
  const accepted = since.filter(({ it }) => it.outcome === 'accepted');
  const open = [point('not-looked-at', unseen, before, []), ...notRepeated(before, accepted, refused, unseen), ...lessSensitive(before, accepted), ...pointsOf(refused)];
  return { standing, repairedAgain: within(left, later), noLongerCount, since, open: open.filter(({ on }) => !on.isEmpty).sort(inTurn) };
}

/** What of some looks, each at some pipe, turns that pipe down and was not decided otherwise by these: held and rejected, by the rule of `reinspection`. */
export const turnedDownOn = <L extends Look>(looks: readonly On<L>[]): OpenPoint<L>[] => pointsOf(notPassed(looks)).filter(({ on }) => !on.isEmpty).sort(inTurn);

const point = <L>(reason: OpenReason, on: IntervalSet, before: readonly On<L>[], since: readonly On<L>[]): OpenPoint<L> => {
  const there = (looks: readonly On<L>[]): L[] => looks.filter((look) => look.on.overlaps(on)).map(({ it }) => it);
  return { reason, on, before: there(before), since: there(since) };
};

const all = (some: readonly On<unknown>[]): IntervalSet => some.reduce((sum, { on }) => sum.union(on), IntervalSet.empty);

const within = <T extends { readonly on: IntervalSet }>(pipe: IntervalSet, some: readonly T[]): On<T>[] =>
  some.map((it) => ({ it, on: it.on.intersect(pipe) })).filter(({ on }) => !on.isEmpty);

/** By the same method, or by one that stands in for it: whoever said so answers for its sensitivity. */
const takesPlaceOf = (later: Look, earlier: Look): boolean => later.method === earlier.method || later.standsInFor.includes(earlier.method);

/** Methods used before and not since with a pass, where something else was looked at. Where nothing was, or one in their place was held or rejected, that is said already. */
function notRepeated<L extends Look>(before: readonly On<L>[], accepted: readonly On<L>[], refused: readonly On<L>[], unseen: IntervalSet): OpenPoint<L>[] {
  return groups(before, ({ method }) => method).map(({ first, own }) => {
    const isSaid = all([...accepted, ...refused].filter(({ it }) => takesPlaceOf(it, first)));
    return point('not-repeated', all(own).subtract(isSaid).subtract(unseen), own, []);
  });
}

/** Where a method passed it again, but no look as sensitive as one before did: the best that can be said of the looks since. */
function lessSensitive<L extends Look>(before: readonly On<L>[], accepted: readonly On<L>[]): OpenPoint<L>[] {
  return groups(before, demandOf).flatMap(({ first, own }) => {
    const again = accepted.filter(({ it }) => takesPlaceOf(it, first));
    const alike = (likeness: Likeness): On<L>[] => again.filter(({ it }) => (it.method === first.method ? compareSensitivity(it, first) : 'as-sensitive') === likeness);
    let left = all(own).subtract(all(alike('as-sensitive')));
    return (['less-sensitive', 'not-comparable', 'not-stated'] as const).map((reason) => {
      const short = alike(reason);
      const on = left.intersect(all(short));
      left = left.subtract(on);
      return point(reason, on, own, short);
    });
  });
}

/**
 * Looks that rejected, and looks that held where the same method, at least as sensitive, did not decide later; each with the pipe on
 * which that still stands.
 */
function notPassed<L extends Look>(looks: readonly On<L>[]): On<L>[] {
  const decides = (later: L, held: L): boolean =>
    later.outcome !== 'held' && later.atUs > held.atUs && later.method === held.method && compareSensitivity(later, held) === 'as-sensitive';
  return looks.flatMap(({ it, on }) => {
    if (it.outcome === 'accepted') return [];
    return [{ it, on: it.outcome === 'rejected' ? on : on.subtract(all(looks.filter((later) => decides(later.it, it)))) }];
  });
}

const pointsOf = <L extends Look>(refused: readonly On<L>[]): OpenPoint<L>[] =>
  refused.map((look) => point(look.it.outcome === 'held' ? 'held' : 'rejected', look.on, [], [look]));

/** Two looks that ask for the same of a later one. */
const demandOf = ({ method, technique, sensitivity }: Look): string =>
  JSON.stringify(sensitivity === null ? [method, technique] : [method, null, sensitivity.reflector, exactText(decimal(sensitivity.sizeMm))]);

/** Looks alike by `key`, with the first of each group to speak for it. */
function groups<L extends Look>(looks: readonly On<L>[], key: (look: L) => string): { readonly first: L; readonly own: readonly On<L>[] }[] {
  const firsts = new Map(looks.toReversed().map(({ it }) => [key(it), it]));
  return [...firsts].map(([text, first]) => ({ first, own: looks.filter(({ it }) => key(it) === text) }));
}

function inTurn<L>(one: OpenPoint<L>, other: OpenPoint<L>): number {
  const from = ({ on }: OpenPoint<L>): number => on.hull()?.fromMm ?? 0;
  return OPEN_REASONS.indexOf(one.reason) - OPEN_REASONS.indexOf(other.reason) || from(one) - from(other);
}
