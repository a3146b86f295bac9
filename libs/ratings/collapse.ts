import { collapseConstants, ELASTIC_PSI, type CollapseConstants } from './collapse-constants.js';

/** By rising D/t. */
export const COLLAPSE_REGIMES = ['yield', 'plastic', 'transition', 'elastic'] as const;
export type CollapseRegime = (typeof COLLAPSE_REGIMES)[number];

/** The D/t up to which yield, plastic and transition collapse govern, ends included; beyond the last it is elastic. */
export interface CollapseLimits {
  readonly yieldToPlastic: number;
  readonly plasticToTransition: number;
  readonly transitionToElastic: number;
}

export interface Collapse {
  readonly regime: CollapseRegime;
  readonly pressurePsi: number;
  readonly limits: CollapseLimits;
  readonly constants: CollapseConstants;
}

/** A collapse formula: psi, from the yield strength in psi and x = D/t. */
type CollapseFormula = (yieldPsi: number, x: number, constants: CollapseConstants) => number;

/** The four formulas of API Bull. 5C3 (2.1.1 to 2.1.4, clauses from memory) for round pipe without axial load, each for its own range of D/t. */
export const COLLAPSE_FORMULAS: Readonly<Record<CollapseRegime, CollapseFormula>> = {
  yield: (yieldPsi, x) => (2 * yieldPsi * (x - 1)) / x ** 2,
  plastic: (yieldPsi, x, { a, b, cPsi }) => yieldPsi * (a / x - b) - cPsi,
  transition: (yieldPsi, x, { f, g }) => yieldPsi * (f / x - g),
  elastic: (_yieldPsi, x) => ELASTIC_PSI / (x * (x - 1) ** 2),
};

/** The same formulas for a reader, Y the yield strength and x = D/t. */
export const COLLAPSE_FORMULA_WORDS: Readonly<Record<CollapseRegime, string>> = {
  yield: 'p = 2 Y (x − 1) / x²',
  plastic: 'p = Y (A/x − B) − C',
  transition: 'p = Y (F/x − G)',
  elastic: 'p = 46.95·10⁶ psi / (x (x − 1)²)',
};

/**
 * Where neighbouring formulas meet (API Bull. 5C3): the first two are intersections, at the third transition touches elastic.
 * Of a set of constants, so that tables of an older set can be followed.
 */
export function collapseLimits(yieldPsi: number, { a, b, cPsi, f, g }: CollapseConstants): CollapseLimits {
  const perYield = b + cPsi / yieldPsi;
  return {
    yieldToPlastic: (Math.sqrt((a - 2) ** 2 + 8 * perYield) + (a - 2)) / (2 * perYield),
    plasticToTransition: (yieldPsi * (a - f)) / (cPsi + yieldPsi * (b - g)),
    transitionToElastic: (2 + b / a) / ((3 * b) / a),
  };
}

/**
 * Collapse pressure of a round pipe without axial load or internal pressure, psi, from its yield strength in psi and its D/t
 * (outside diameter by wall), API Bull. 5C3. Nothing is rounded. Throws RangeError as `collapseConstants` does, and unless
 * D/t is over 2, where a bore begins.
 */
export function collapse(yieldPsi: number, dOverT: number, constants: CollapseConstants = collapseConstants(yieldPsi)): Collapse {
  if (!(dOverT > 2 && Number.isFinite(dOverT))) throw new RangeError(`D/t must be over 2: ${dOverT}`);
  const limits = collapseLimits(yieldPsi, constants);
  const regime = regimeAt(dOverT, limits);
  return { regime, pressurePsi: COLLAPSE_FORMULAS[regime](yieldPsi, dOverT, constants), limits, constants };
}

function regimeAt(x: number, { yieldToPlastic, plasticToTransition, transitionToElastic }: CollapseLimits): CollapseRegime {
  if (x <= yieldToPlastic) return 'yield';
  if (x <= plasticToTransition) return 'plastic';
  return x <= transitionToElastic ? 'transition' : 'elastic';
}
