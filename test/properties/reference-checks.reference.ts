/**
 * What reference checks prove, told millimetre by millimetre and instant by instant, as one would with a list and a pencil.
 * Times are small whole numbers; what happened between two of them is asked at their middle. Nothing is shared with the library.
 */
export interface PlainCheck {
  readonly id: string;
  readonly at: number;
  readonly outcome: 'passed' | 'failed' | 'void';
}

export interface PlainPiece {
  readonly t0: number;
  readonly t1: number;
  readonly mm0: number;
  readonly mm1: number;
}

export interface PlainRun {
  readonly id: string;
  readonly pieces: readonly PlainPiece[];
  readonly invalid: readonly number[];
  readonly ended: boolean;
}

export type PlainState = 'confirmed' | 'provisional' | 'suspect' | 'missing';

export interface PlainTold {
  readonly state: Exclude<PlainState, 'missing'>;
  readonly before: readonly string[];
  readonly after: readonly string[];
}

const RANK = { confirmed: 0, provisional: 1, suspect: 2 };

/** What is known of an instant at which no check was made. */
export function toldAt(instant: number, checks: readonly PlainCheck[]): PlainTold {
  const counting = checks.filter(({ outcome }) => outcome !== 'void');
  const beforeAt = Math.max(...counting.filter(({ at }) => at < instant).map(({ at }) => at));
  const afterAt = Math.min(...counting.filter(({ at }) => at > instant).map(({ at }) => at));
  const before = counting.filter(({ at }) => at === beforeAt);
  const after = counting.filter(({ at }) => at === afterAt);
  const isBad = (some: readonly PlainCheck[]): boolean => some.some(({ outcome }) => outcome === 'failed');
  const ids = (some: readonly PlainCheck[]): string[] => some.map(({ id }) => id).sort();
  const state = before.length === 0 || isBad(before) || isBad(after) ? 'suspect' : after.length === 0 ? 'provisional' : 'confirmed';
  return { state, before: ids(before), after: ids(after) };
}

/** All that is told of one millimetre while a piece went over it; the worst of the instants it lasted, of equals the earliest. */
export function toldOf({ t0, t1, mm0, mm1 }: PlainPiece, mm: number, checks: readonly PlainCheck[]): PlainTold | null {
  if (mm < Math.min(mm0, mm1) || mm >= Math.max(mm0, mm1)) return null;
  const size = Math.abs(mm1 - mm0);
  const into = mm0 < mm1 ? mm - mm0 : mm0 - mm - 1;
  // From t0 + into·(t1 − t0)/size on for (t1 − t0)/size, all times `size`.
  const [from, to] = [t0 * size + into * (t1 - t0), t0 * size + (into + 1) * (t1 - t0)];
  let worst: PlainTold | null = null;
  for (let instant = t0 - 1; instant <= t1; instant += 1) {
    const isTouched = t0 === t1 ? instant === t0 - 1 || instant === t0 : instant * size < to && (instant + 1) * size > from;
    if (!isTouched) continue;
    const told = toldAt(instant + 0.5, checks);
    if (worst === null || RANK[told.state] > RANK[worst.state]) worst = told;
  }
  return worst;
}

export interface PlainLook extends PlainTold {
  readonly run: string;
}

export interface PlainAnswer {
  readonly state: PlainState;
  readonly counts: PlainLook | null;
  readonly others: readonly PlainLook[];
}

export function provePlainly(mm: number, runs: readonly PlainRun[], checks: readonly PlainCheck[], rule: 'best' | 'latest'): PlainAnswer {
  const looks = runs
    .filter(({ invalid }) => !invalid.includes(mm))
    .flatMap((run) => run.pieces.map((piece) => ({ run: run.id, at: piece.t0, told: toldOf(piece, mm, checks) })))
    .flatMap(({ run, at, told }) => (told === null ? [] : [{ at, look: { run, ...told } }]))
    .sort((a, b) => a.at - b.at)
    .map(({ look }) => look);
  if (looks.length === 0) return { state: 'missing', counts: null, others: [] };
  let chosen = looks.length - 1;
  if (rule === 'best') looks.forEach(({ state }, nth) => { if (RANK[state] < RANK[looks[chosen]!.state]) chosen = nth; });
  // Of equally good looks the latest.
  if (rule === 'best') chosen = looks.map(({ state }) => state).lastIndexOf(looks[chosen]!.state);
  return { state: looks[chosen]!.state, counts: looks[chosen]!, others: looks.filter((_look, nth) => nth !== chosen) };
}

export interface PlainChange {
  readonly id: string;
  readonly at: number;
}

export interface PlainOccasionRule {
  readonly every: number;
  readonly grace: number;
}

/** An unmet occasion as text: what, whose, when due, and the instant of the late check or `missing`. */
export function unmetPlainly(runs: readonly PlainRun[], checks: readonly PlainCheck[], changes: readonly PlainChange[], { every, grace }: PlainOccasionRule, now: number): Set<string> {
  const made = [...new Set(checks.filter(({ outcome, at }) => outcome !== 'void' && at <= now).map(({ at }) => at))].sort((a, b) => a - b);
  const spans = runs
    .filter(({ pieces }) => pieces.length > 0)
    .map(({ id, pieces, ended }) => ({ id, from: Math.min(...pieces.map(({ t0 }) => t0)), to: Math.max(...pieces.map(({ t1 }) => t1)), ended }))
    .filter(({ from }) => from <= now)
    .map((span) => (span.ended && span.to <= now ? span : { ...span, to: now, ended: false }))
    .sort((a, b) => a.from - b.from);
  const found = new Set<string>();
  const note = (what: string, whose: string, due: number, until: number): void => {
    const late = made.find((at) => at > due && at <= until);
    if (late !== undefined) found.add(`${what} ${whose} due ${due} came ${late}`);
    else if (now > due) found.add(`${what} ${whose} due ${due} missing`);
  };
  const isMadeWithin = (from: number, to: number): boolean => made.some((at) => at >= from && at <= to);

  spans.forEach(({ id, from, to, ended }, nth) => {
    const earliest = Math.max(from - every, spans[nth - 1]?.to ?? -Infinity);
    if (!isMadeWithin(earliest, from)) note('start', id, from, to);
    if (ended && !isMadeWithin(to, to + grace)) note('end', id, to + grace, Infinity);
    // Minute by minute: how long ago was the last check that counts for this run?
    let last = made.filter((at) => at >= earliest && at <= from).at(-1) ?? from;
    for (let minute = from + 1; minute <= to; minute += 1) {
      if (minute - last === every + 1) note('interval', id, last + every, Infinity);
      if (made.includes(minute)) last = minute;
    }
  });
  for (const { id, at } of changes.filter((one) => one.at <= now)) {
    const during = spans.find((span) => span.from <= at && (at < span.to || !span.ended));
    const next = during ?? spans.find((span) => span.from >= at);
    if (next === undefined) continue;
    const due = Math.max(at + grace, next.from);
    if (!isMadeWithin(at, due)) note('change', id, due, Infinity);
  }
  return found;
}
