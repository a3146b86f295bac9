import { LRUCache } from 'lru-cache';
import { instantOf, microseconds } from '#libs/persistence';
import type { PlacedVersion } from '../line/placed.entity.js';

/** What is asked of a row to keep it. */
export type StandingRow = Pick<PlacedVersion, 'id' | 'version' | 'knownFrom' | 'state' | 'span'>;

/** How the rows of a kind are read, as known now. */
export interface RowsOfStrings<R> {
  /** All that stand, void ones too. */
  readonly ofString: (stringId: string) => Promise<readonly R[]>;
  /**
   * Those that became known at an instant or later, void ones too, but for versions that are known already; and how many versions of
   * all rows there were at that moment.
   */
  readonly since: (stringId: string, instant: string, known: (id: string, version: number) => boolean) => Promise<{ readonly versions: number; readonly rows: readonly R[] }>;
}

interface Kept<R> {
  /** Those that are not void, by footage. */
  readonly rows: readonly R[];
  readonly byId: ReadonlyMap<string, R>;
  /** When the last of them became known. */
  readonly last: string;
}

/** As many as there are kept maps. */
const KEPT_STRINGS = 8;
/** What commits this much later than what became known after it is still found by its instant. */
const OVERLAP_US = 1_000_000;

/**
 * The rows of a kind as they stand now, kept: of what came since, each takes the place of the version that it amends. Others stay the
 * same objects. Versions of a record are numbered from 1 without a gap and none is taken away, so that the numbers of those that stand
 * add up to how many there are; where they do not, something became visible out of turn, and all is read again.
 */
export class StandingRows<R extends StandingRow> {
  private readonly kept = new LRUCache<string, Kept<R>>({ max: KEPT_STRINGS });

  constructor(private readonly read: RowsOfStrings<R>) {}

  /** By footage. */
  async of(stringId: string): Promise<readonly R[]> {
    const before = this.kept.get(stringId);
    const after = before === undefined ? null : await this.caughtUp(stringId, before);
    const kept = after ?? keptOf(await this.read.ofString(stringId));
    this.kept.set(stringId, kept);
    return kept.rows;
  }

  /** Null where not all of what came since was found. */
  private async caughtUp(stringId: string, before: Kept<R>): Promise<Kept<R> | null> {
    if (before.last === '') return null;
    const since = instantOf(microseconds(before.last) - OVERLAP_US);
    const { versions, rows } = await this.read.since(stringId, since, (id, version) => before.byId.get(id)?.version === version);
    const byId = new Map(before.byId);
    for (const row of rows) byId.set(row.id, row);
    if (versionsOf(byId) !== versions) return null;
    return rows.length === 0 ? before : keptOf([...byId.values()]);
  }
}

function keptOf<R extends StandingRow>(all: readonly R[]): Kept<R> {
  return {
    rows: all.filter(({ state }) => state === 'active').sort(byFootage), byId: new Map(all.map((row) => [row.id, row])),
    last: all.reduce((latest, { knownFrom }) => (knownFrom > latest ? knownFrom : latest), ''),
  };
}

function versionsOf(rows: ReadonlyMap<string, StandingRow>): number {
  let sum = 0;
  for (const { version } of rows.values()) sum += version;
  return sum;
}

const byFootage = (one: StandingRow, other: StandingRow): number => one.span.fromMm - other.span.fromMm || (one.id < other.id ? -1 : 1);
