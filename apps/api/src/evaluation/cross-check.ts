import type { RecordRef } from '#libs/explanation';

/** Something about a coil's papers and figures that does not fit together: shown, never corrected. */
export interface CrossCheck {
  /** `warning`: somebody should look before deciding; `note`: worth knowing. */
  readonly severity: 'warning' | 'note';
  readonly check: CrossCheckName;
  readonly detail: string;
  readonly records: readonly RecordRef[];
}

export const CROSS_CHECKS = [
  'second keying', 'names the coil', 'heat analysis', 'near number', 'tag', 'mass', 'dates', 'used twice', 'revision in force',
  'coil length', 'carbon equivalent', 'slip', 'condition',
] as const;
export type CrossCheckName = (typeof CROSS_CHECKS)[number];

export function warning(check: CrossCheckName, detail: string, ...records: RecordRef[]): CrossCheck {
  return { severity: 'warning', check, detail, records };
}

export function note(check: CrossCheckName, detail: string, ...records: RecordRef[]): CrossCheck {
  return { severity: 'note', check, detail, records };
}

/** A record as an answer refers to it. */
export function refTo(kind: string, { id, version }: { readonly id: string; readonly version: number }): RecordRef {
  return { kind, id, version };
}
