/**
 * One result of a test unit. `follows` names the result it was made after and because of; null for an original. Times are in
 * µs. A result is void when the test itself was, such as on a flaw of machining, and then says why. `discount` says why a pass
 * counts as no retest of what it follows, such as on the piece that failed; a failure counts all the same.
 */
export type TestResult = {
  readonly id: string;
  readonly atUs: number;
  readonly follows: string | null;
  readonly discount?: string;
} & ({ readonly outcome: 'pass' | 'fail' } | { readonly outcome: 'void'; readonly reason: string });

export interface LinkedResult {
  readonly result: TestResult;
  /** The nearest failure that it follows, by way of whatever passed or was void in between; null when there is none. */
  readonly retestOf: string | null;
}

/**
 * The results in order of time (at one instant what follows comes later, the rest by id), each with the failure that it
 * is a retest of.
 * Throws RangeError that names the result when an id comes twice, a result follows one that is not there, follows itself by
 * any way, or is earlier than what it follows, when a time is not finite, or when a void result has no reason.
 */
export function linkedResults(results: readonly TestResult[]): readonly LinkedResult[] {
  const byId = new Map(results.map((result) => [result.id, result]));
  if (byId.size !== results.length) throw new RangeError(`a result comes twice: ${doubleOf(results)}`);
  results.forEach((result) => { demandSense(result, byId); });
  const links = new Map<string, Link>();
  for (const result of inOrderOfLinks(results)) links.set(result.id, linkOf(result, byId, links));
  const sorted = [...results].sort((a, b) => a.atUs - b.atUs || depthOf(a, links) - depthOf(b, links) || (a.id < b.id ? -1 : 1));
  return sorted.map((result) => ({ result, retestOf: links.get(result.id)?.retestOf ?? null }));
}

/** What is wrong with the chain that some results make, in words; null when `linkedResults` takes them. */
export function chainFault(results: readonly TestResult[]): string | null {
  try {
    linkedResults(results);
    return null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

interface Link {
  readonly retestOf: string | null;
  /** 0 for an original, 1 for what follows it. */
  readonly depth: number;
}

function linkOf({ follows }: TestResult, byId: ReadonlyMap<string, TestResult>, links: ReadonlyMap<string, Link>): Link {
  const before = follows === null ? undefined : links.get(follows);
  if (follows === null || before === undefined) return { retestOf: null, depth: 0 };
  return { retestOf: byId.get(follows)?.outcome === 'fail' ? follows : before.retestOf, depth: before.depth + 1 };
}

function depthOf({ id }: TestResult, links: ReadonlyMap<string, Link>): number {
  return links.get(id)?.depth ?? 0;
}

/** What a result follows comes before it. What a walk from the originals does not reach goes round in a circle. */
function inOrderOfLinks(results: readonly TestResult[]): readonly TestResult[] {
  const followers = grouped(results, ({ follows }) => follows);
  const reached: TestResult[] = [];
  for (let next = followers.get(null) ?? []; next.length > 0; next = next.flatMap(({ id }) => followers.get(id) ?? [])) {
    for (const result of next) reached.push(result);
  }
  if (reached.length === results.length) return reached;
  const seen = new Set(reached);
  const left = results.filter((result) => !seen.has(result)).map(({ id }) => id).sort();
  throw new RangeError(`results follow one another in a circle: ${left.join(', ')}`);
}

function demandSense(result: TestResult, byId: ReadonlyMap<string, TestResult>): void {
  const { id, atUs, follows } = result;
  if (!Number.isFinite(atUs)) throw new RangeError(`result ${id} has no time: ${atUs}`);
  if (result.outcome === 'void' && result.reason.trim() === '') throw new RangeError(`result ${id} is void without a reason`);
  if (follows === null) return;
  const before = byId.get(follows);
  if (before === undefined) throw new RangeError(`result ${id} follows one that is not there: ${follows}`);
  if (atUs < before.atUs) throw new RangeError(`result ${id} is earlier than ${follows}, which it follows`);
}

function doubleOf(results: readonly TestResult[]): string {
  const ids = results.map(({ id }) => id);
  return ids.find((id, index) => ids.indexOf(id) !== index) ?? '';
}

/** The items by what `keyOf` says of them, each list in their order. */
export function grouped<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): ReadonlyMap<Key, readonly Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group === undefined) groups.set(keyOf(item), [item]);
    else group.push(item);
  }
  return groups;
}
