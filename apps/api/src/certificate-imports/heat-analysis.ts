import type { PrintedValue } from '#libs/strip';

/** What was said of a heat, and on which line. */
export interface Said {
  readonly printed: string;
  readonly line: number;
}

/** What a certificate says of the melt of one heat, and on which line it said so first. */
export class HeatAnalysis {
  /** By index of the column; holes where nothing is reported yet. */
  private readonly known: (Said | undefined)[] = [];

  /**
   * Notes a value. `first` when this column said nothing of the heat before, `again` when it said the same, and otherwise
   * what it said before.
   */
  note(column: number, { printed }: PrintedValue, line: number): 'first' | 'again' | Said {
    const known = this.known[column];
    if (known !== undefined) return isSame(known.printed, printed) ? 'again' : known;
    this.known[column] = { printed, line };
    return 'first';
  }
}

/** Zeros at the end make no other analysis: 0.08 and 0.080 agree. */
function isSame(one: string, other: string): boolean {
  return one === other || (signOf(one) === signOf(other) && numberOf(one) === numberOf(other));
}

const CENSORED = /^[<>≤≥]/;
const signOf = (printed: string): string => CENSORED.exec(printed)?.[0] ?? '';
const numberOf = (printed: string): number => Number(printed.replace(CENSORED, ''));
