import { LRUCache } from 'lru-cache';
import { instantOf, microseconds } from '#libs/persistence';
import type { PlacedVersion } from '../line/placed.entity.js';

/** How the rows of a kind are read. */
export interface RowsOfStrings<R> {
  /** All that stand, as known now. */
  readonly ofString: (stringId: string, asKnownAt: null) => Promise<readonly R[]>;
  /** Those that became known at an instant or later, void ones too, but for versions that are known already. */
  readonly since: (stringId: string, instant: string, known: (id: string, version: number) => boolean) => Promise<readonly R[]>;
}

interface Kept<R> {
  readonly rows: readonly R[];
  readonly byId: ReadonlyMap<string, R>;
  /** When the last of them became known. */
  readonly last: string;
}

/** As many as there are kept maps. */
const KEPT_STRINGS = 8;
/** A transaction older than this cannot still commit: rows that became known before are all there. */
const SETTLED_AFTER_US = 60_000_000;

/** The rows of a kind as they stand now, kept: of what came since, each takes the place of the version that it amends. Others stay the same objects. */
export class StandingRows<R extends PlacedVersion> {
  private readonly kept = new LRUCache<string, Kept<R>>({ max: KEPT_STRINGS });

  constructor(private readonly read: RowsOfStrings<R>) {}

  /** By footage. */
  async of(stringId: string): Promise<readonly R[]> {
    const before = this.kept.get(stringId);
    if (before === undefined) return this.keep(stringId, await this.read.ofString(stringId, null), '');
    const since = instantOf(microseconds(before.last) - SETTLED_AFTER_US);
    const changed = await this.read.since(stringId, since, (id, version) => before.byId.get(id)?.version === version);
    if (changed.length === 0) return before.rows;
    const byId = new Map(before.byId);
    for (const row of changed) byId.set(row.id, row);
    return this.keep(stringId, [...byId.values()].filter(({ state }) => state === 'active').sort(byFootage), before.last);
  }

  private keep(stringId: string, rows: readonly R[], before: string): readonly R[] {
    const last = rows.reduce((latest, { knownFrom }) => (knownFrom > latest ? knownFrom : latest), before);
    if (last !== '') this.kept.set(stringId, { rows, byId: new Map(rows.map((row) => [row.id, row])), last });
    return rows;
  }
}

const byFootage = (one: PlacedVersion, other: PlacedVersion): number => one.span.fromMm - other.span.fromMm || (one.id < other.id ? -1 : 1);
