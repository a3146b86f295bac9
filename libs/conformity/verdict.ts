/** What can be said of a value against its limits, best to worst. */
export const VERDICTS = ['conforms', 'inside-guard-band', 'not-comparable', 'not-reported', 'does-not-conform'] as const;
export type Verdict = (typeof VERDICTS)[number];

const RANKS = Object.fromEntries(VERDICTS.map((verdict, rank) => [verdict, rank])) as Readonly<Record<Verdict, number>>;

/** The worst of them. Throws RangeError when there are none: what no verdict at all means is for the caller to say. */
export function worst(verdicts: Iterable<Verdict>): Verdict {
  let rank = -1;
  for (const verdict of verdicts) rank = Math.max(rank, RANKS[verdict]);
  const found = VERDICTS[rank];
  if (found === undefined) throw new RangeError('there is no verdict to take the worst of');
  return found;
}
