import type { Column } from '#libs/signals';

/** Columns from `from` up to, and without, `to` that are alike. */
export interface ColumnRun<Kind> {
  readonly from: number;
  readonly to: number;
  readonly kind: Kind;
}

/** Runs of equal kinds; null makes none. */
export function runsOf<Kind>(columns: readonly Column[], kindOf: (column: Column) => Kind | null): ColumnRun<Kind>[] {
  const runs: ColumnRun<Kind>[] = [];
  let from = 0;
  for (let at = 1; at <= columns.length; at += 1) {
    const kind = kindAt(columns, from, kindOf);
    if (at < columns.length && kindAt(columns, at, kindOf) === kind) continue;
    if (kind !== null) runs.push({ from, to: at, kind });
    from = at;
  }
  return runs;
}

function kindAt<Kind>(columns: readonly Column[], at: number, kindOf: (column: Column) => Kind | null): Kind | null {
  const column = columns[at];
  return column === undefined ? null : kindOf(column);
}

/** Why nothing is drawn in a column; null where something is. */
export type Gap = 'no samples' | 'samples missing' | 'samples stuck' | 'samples implausible' | 'no usable samples';

export function gapOf({ summary }: Column): Gap | null {
  if (summary === null) return 'no samples';
  if (summary.least !== null) return null;
  const { missing, suspectStuck, implausible, read } = summary.counts;
  const kinds = [missing, suspectStuck, implausible, read].filter((count) => count > 0).length;
  if (kinds !== 1 || read > 0) return 'no usable samples';
  return missing > 0 ? 'samples missing' : suspectStuck > 0 ? 'samples stuck' : 'samples implausible';
}

/** Band of a column: filled where what it shows lies in it, or next to it; striped where that is not known. */
export const bandOf = (column: Column): 'sharp' | 'coarse' | null =>
  gapOf(column) !== null ? null : column.sharpness === 'coarse' ? 'coarse' : 'sharp';

/** What is told of samples, the gravest last. */
export const COUNTED = ['missing', 'suspectStuck', 'implausible'] as const;
export type Counted = (typeof COUNTED)[number];

/** The gravest that is to be told of a column. */
export function toldOf(column: Column): Counted | 'coarse' | null {
  const { summary } = column;
  const counted = summary === null ? undefined : COUNTED.toReversed().find((name) => summary.counts[name] > 0);
  return counted ?? (bandOf(column) === 'coarse' ? 'coarse' : null);
}
