import type { Analysis } from './paper.js';

/**
 * A certificate as an object with the field codes of EN 10168 for names. The standard says what a field means and not how
 * it is written: everything is text as printed, and what a code leaves open is stated beside the value.
 */
export interface En10168Document {
  /** Manufacturer's works. */
  readonly A01: string;
  /** Type of EN 10204:2004, with or without the name of the standard before it: `3.1`, `EN 10204 3.1`. */
  readonly A02: string;
  /** Document number. */
  readonly A03: string;
  /** Purchaser order number. */
  readonly A07?: string | null;
  /** Specification of the product, with its revision. */
  readonly B02?: string | null;
  /** Day of issue, `2026-03-31`. */
  readonly Z02: string;
  readonly products: readonly En10168Product[];
}

/** A coil; or a heat as a whole, when B07 is null. One of B07 and C00 must be there. */
export interface En10168Product {
  /** Identification of the product: the coil number. */
  readonly B07: string | null;
  /** Heat number. */
  readonly C00: string | null;
  /** Dimensions: each says which one it is. */
  readonly B09?: readonly En10168Dimension[];
  /** Length. */
  readonly B10?: En10168Quantity;
  /** Dimensions, or mass: the sources differ, so each says which one it is. */
  readonly B11?: readonly En10168Dimension[];
  /** Actual mass. */
  readonly B13?: En10168Quantity;
  readonly fields: readonly En10168Field[];
}

export interface En10168Quantity {
  /** As printed, with a decimal point. */
  readonly value: string;
  readonly unit: string | null;
}

export interface En10168Dimension extends En10168Quantity {
  /** Code of a characteristic: `thickness`, `width`, `length`, `mass`. */
  readonly characteristic: string;
}

/** One field of the inspection, C01 to C99, or of the other tests, D01 to D99. */
export interface En10168Field {
  readonly code: string;
  /** Code of a characteristic, where the field code does not say it: which yield, which gauge length, which hardness scale. */
  readonly characteristic?: string;
  /** Of C71 to C99: the element, the sum of elements or the carbon equivalent, by its code. */
  readonly symbol?: string;
  /** Of C71 to C99: of the heat or of the product. */
  readonly analysis?: Analysis;
  /** As printed, with a decimal point, and a sign of censoring before it where there is one; text for C01 to C03 and C30. */
  readonly value: string;
  /** Null or absent for what has no unit and is no value. */
  readonly unit?: string | null;
  /** What the printed digits were multiplied by; `1` when absent. */
  readonly multiplier?: string;
  /** Expanded uncertainty, k = 2, in the same unit, unmultiplied. */
  readonly expandedU?: string;
  readonly temperatureC?: string;
  /** Length over which a camber was measured. */
  readonly baseMm?: string;
  /** Of this test; otherwise those of C01, C02 and C03 of the same product hold for its mechanical tests. */
  readonly location?: string;
  readonly direction?: string;
}

/** Where in the document something is wrong, such as `products[0].fields[2].characteristic`, and what. */
export interface DocumentFault {
  readonly path: string;
  readonly fault: string;
}

/** A field that a paper has no place for: it stays in the document alone. */
export interface FieldLeftOut {
  readonly path: string;
  readonly code: string;
  readonly meaning: string;
  /** With its unit, as printed. */
  readonly value: string;
}
