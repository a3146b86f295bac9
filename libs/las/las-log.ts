/** A line of the sections ~W and ~P: `mnemonic.unit  value : description`. */
export interface LasItem {
  /** Without spaces, dots or colons; unique in its section, whatever its case. */
  readonly mnemonic: string;
  /** Without spaces or colons; empty for none. */
  readonly unit: string;
  /** May hold dots, colons and spaces inside. */
  readonly value: string;
  /** Without colons. */
  readonly description: string;
}

/** The first column. Its numbers are whole ones of its last decimal: with 3 decimals and unit M, millimetres. */
export interface LasIndex {
  readonly mnemonic: 'DEPT' | 'DEPTH' | 'TIME';
  /** M, F or FT for a depth; for a time any unit in which it is one number. */
  readonly unit: string;
  readonly description: string;
  readonly decimals: number;
  /** The index of the first and of the last row. */
  readonly start: number;
  readonly stop: number;
  /** The difference between any two neighbouring rows, with its sign; 0 when it is not always the same. */
  readonly step: number;
}

/** A further column. */
export interface LasCurve {
  readonly mnemonic: string;
  readonly unit: string;
  /** An API code, or empty. */
  readonly code: string;
  readonly description: string;
  /** How many binary digits its numbers have, so that they are written with enough decimal ones, and with no more. */
  readonly numbers: 'double' | 'single';
}

/** What ~W must name (CWLS LAS 2.0, 5.4); a value may be empty. */
export interface LasWell {
  readonly company: string;
  readonly well: string;
  readonly field: string;
  readonly location: string;
  readonly region: { readonly province: string } | { readonly county: string; readonly state: string; readonly country: string };
  readonly serviceCompany: string;
  /** The standard prefers yyyy mm dd. */
  readonly date: string;
  readonly id: { readonly uwi: string } | { readonly api: string };
}

export interface LasLog {
  readonly well: LasWell;
  /** Further lines of ~W. */
  readonly moreOfWell: readonly LasItem[];
  readonly index: LasIndex;
  readonly curves: readonly LasCurve[];
  readonly parameters: readonly LasItem[];
  /** Lines of ~O; none begins with ~ or #. */
  readonly other: readonly string[];
  /** Plain decimal text that stands for no value. */
  readonly nullValue: string;
  /** The longest line with its CR LF; null for no limit, as the standard has it since 2009. Its first text had 256 (5.3). */
  readonly mostLineCharacters: number | null;
}

/** A number, a plain decimal that is written with the digits it has, or null for no value. */
export type LasValue = number | string | null;

export interface LasRow {
  /** A whole number, as in `LasIndex`. */
  readonly index: number;
  /** One for each curve, in their order. */
  readonly values: readonly LasValue[];
}
