/** A place as somebody gave it: a footage, or what a counter said when it was at a station. */
export interface GivenPlace {
  readonly footageMm?: number | null;
  readonly counterReading?: string | null;
  /** The string's master counter when absent. */
  readonly counter?: string | null;
  /** The weld point when absent. */
  readonly station?: string | null;
  /** Standard uncertainty of what was given, mm. */
  readonly uMm?: string | null;
}

export interface GivenInterval {
  readonly from: GivenPlace;
  /** Null for a single place, which is one millimetre long. */
  readonly to: GivenPlace | null;
}

/** A record that a position was derived from. */
export interface RestsOn {
  readonly kind: 'counter-period' | 'line-setup';
  readonly id: string;
}

/** True when both lists name the same records. */
export function restOnTheSame(one: readonly RestsOn[], other: readonly RestsOn[]): boolean {
  return one.length === other.length && one.every(({ id }, index) => other[index]?.id === id);
}

/** A list of records as the history words it. */
export const inWords = (references: readonly RestsOn[]): string =>
  references.length === 0 ? 'nothing' : references.map(({ kind, id }) => `${kind} ${id}`).join(' and ');
