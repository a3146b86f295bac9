/** A stretch of days by their numbers, both ends included; `-Infinity` and `Infinity` where it has none. */
export interface DaySpan {
  readonly from: number;
  readonly to: number;
}

/** The same days as sorted spans with a day or more between any two. */
export function joinedSpans(spans: readonly DaySpan[]): readonly DaySpan[] {
  const joined: DaySpan[] = [];
  for (const span of spans.toSorted((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last === undefined || span.from > last.to + 1) joined.push(span);
    else joined[joined.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
  }
  return joined;
}

/** The span of joined ones that holds the day. */
export function spanAt(spans: readonly DaySpan[], day: number): DaySpan | null {
  return spans.find(({ from, to }) => from <= day && day <= to) ?? null;
}

/** The last of joined spans that is over before the day, and the first that begins after it. */
export function neighbours(spans: readonly DaySpan[], day: number): { before: DaySpan | null; after: DaySpan | null } {
  return { before: spans.findLast(({ to }) => to < day) ?? null, after: spans.find(({ from }) => from > day) ?? null };
}

/** What lies between joined spans, as far as a span that follows has begun on the day. */
export function gapsBefore(spans: readonly DaySpan[], day: number): readonly DaySpan[] {
  const begun = spans.filter(({ from }) => from <= day);
  return begun.slice(1).map(({ from }, index) => ({ from: (begun[index]?.to ?? -Infinity) + 1, to: from - 1 }));
}
