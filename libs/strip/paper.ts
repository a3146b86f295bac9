import type { StripUnit } from './characteristic.js';

/** Which analysis a chemical value comes from: of the melt, or of the product. */
export type Analysis = 'heat' | 'product';

/** A value exactly as a paper prints it or a gauge shows it. */
export interface PrintedValue {
  /** Code of a characteristic. */
  readonly characteristic: string;
  /** For chemistry and carbon equivalents; null for everything else. */
  readonly analysis: Analysis | null;
  /** The digits as printed, decimal point, with a sign of censoring before them where there is one: `0.085`, `<0.001`, `≥100`. */
  readonly printed: string;
  readonly unit: StripUnit;
  /** What the printed digits were multiplied by: `100` where a column headed "C ×100" prints 8.5 for 0.085. */
  readonly multiplier: string;
  /** Expanded uncertainty, k = 2, in the same unit, unmultiplied; null when not stated. */
  readonly expandedU: string | null;
  /** Test temperature of an impact test. */
  readonly temperatureC: string | null;
  /** Length over which a camber was measured: part of the value. */
  readonly baseMm: string | null;
  /** Where the sample or reading was taken, and in which direction, as printed. */
  readonly location: string | null;
  readonly direction: string | null;
}

/** What a certificate says of one coil, or of one heat when it names no coil. */
export interface PaperLine<V extends PrintedValue = PrintedValue> {
  /** As printed; null where the line speaks of a heat as a whole. */
  readonly coilNumber: string | null;
  readonly heatNumber: string | null;
  readonly values: readonly V[];
}

/** A mill certificate as it was keyed. */
export interface Paper<V extends PrintedValue = PrintedValue> {
  readonly number: string;
  readonly issuer: string;
  /** Type of EN 10204. */
  readonly documentType: string;
  /** Day printed on it. */
  readonly issuedOn: string;
  readonly orderNumber: string | null;
  /** The specification with its revision, as printed. */
  readonly specification: string | null;
  readonly lines: readonly PaperLine<V>[];
}
