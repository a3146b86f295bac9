import type { FieldProblem } from '../http/problem.js';

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

/** What of a place does not go together, whatever the line is: neither footage nor reading, both, or a station beside a footage. */
export function placeFaults(field: string, { footageMm, counterReading, station }: GivenPlace): FieldProblem[] {
  if (footageMm == null) return counterReading == null ? [{ field, value: null, limit: 'either footageMm or counterReading' }] : [];
  return [
    ...(counterReading == null ? [] : [{ field: `${field}.counterReading`, value: counterReading, limit: 'no reading beside a footage' }]),
    ...(station == null ? [] : [{ field: `${field}.station`, value: station, limit: 'no station beside a footage' }]),
  ];
}

/** The same of both ends of an interval, and footages that end before they begin. */
export function intervalFaults({ from, to }: { readonly from: GivenPlace; readonly to?: GivenPlace | null }): FieldProblem[] {
  const [fromMm, toMm] = [from.footageMm ?? null, to?.footageMm ?? null];
  return [
    ...placeFaults('from', from), ...(to == null ? [] : placeFaults('to', to)),
    ...(fromMm !== null && toMm !== null && toMm <= fromMm ? [{ field: 'to', value: toMm, limit: `a footage above ${fromMm} mm: the interval is half-open` }] : []),
  ];
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
