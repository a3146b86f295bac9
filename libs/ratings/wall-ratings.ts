import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import type { WallName } from '#libs/length';
import { convert } from '#libs/units';
import { cautionsFor } from './cautions.js';
import { collapse, COLLAPSE_FORMULA_WORDS, type Collapse } from './collapse.js';
import { COLLAPSE_YIELD_PSI } from './collapse-constants.js';
import { inputsMissing, notComputable, type ComputedCollapse, type ComputedPressure, type NotComputable } from './computed.js';
import { barlowInternalYield, MEASURED_WALL_FACTOR, NOMINAL_WALL_FACTOR, triaxialInternalYield } from './internal-yield.js';
import { inputsOf, numberOf, type PipeInputs, type WhyNotKnown } from './pipe-inputs.js';
import { API_5C2_ROUNDING, API_5C3_BARLOW, API_5C3_COLLAPSE, ISO_10400_TRIAXIAL } from './sources.js';
import { tableText } from './table-rounding.js';
import { explained, wallSizes, type KnownInputs, type WallSizes } from './wall-sizes.js';

/** The pressures that a wall is rated for; advisory, and never to be shown without their cautions. */
export interface WallRatings {
  readonly wall: WallName;
  /** By Barlow, the historic API rating. */
  readonly internalYield: ComputedPressure | NotComputable;
  /** By Lamé and von Mises at the bore, without axial force. */
  readonly triaxialInternalYield: ComputedPressure | NotComputable;
  readonly collapse: ComputedCollapse | NotComputable;
  readonly cautions: readonly string[];
}

/** The kinds of rating, in the order in which they are told. */
export const RATING_NAMES = ['internalYield', 'triaxialInternalYield', 'collapse'] as const;
export type RatingName = (typeof RATING_NAMES)[number];

/** The wall of a pipe and what its formulas take, unrounded. */
interface RatedWall {
  readonly wall: WallName;
  readonly inputs: KnownInputs;
  readonly sizes: WallSizes;
  readonly wallFactor: number;
  readonly dOverT: number;
  readonly yieldMpa: number;
}

/**
 * Internal yield and collapse of one wall of the pipe, from what is known of it. Internal yield takes 0.875 of a nominal wall
 * and all of a measured minimum. Collapse takes either wall as it is: API's constants allow for the undertolerance of a nominal
 * wall, so that a measured minimum errs to the safe side. Nothing is rounded on the way.
 * What cannot be computed says so, with the reasons given in `why` for inputs that are not known. Throws SyntaxError that names the input unless it is a plain decimal.
 */
export function wallRatings(wall: WallName, inputs: PipeInputs, why: WhyNotKnown = {}): WallRatings {
  const cautions = cautionsFor({
    wall, isLambdaMeasured: inputs.lambda?.basis === 'between ties', isYieldTested: inputs.yieldMpa?.basis === 'tested',
    isWallMeasured: inputs.wallThicknessMm?.basis === 'measured minimum',
  });
  const rated = ratedWall(wall, inputs, why);
  if ('kind' in rated) return { wall, internalYield: rated, triaxialInternalYield: rated, collapse: rated, cautions };
  return { wall, internalYield: barlow(rated), triaxialInternalYield: triaxial(rated), collapse: collapseOf(rated), cautions };
}

function ratedWall(wall: WallName, inputs: PipeInputs, why: WhyNotKnown): RatedWall | NotComputable {
  const missing = inputsOf(wall).filter((name) => inputs[name] === null);
  const { outsideDiameterMm, wallThicknessMm, yieldMpa } = inputs;
  if (missing.length > 0 || outsideDiameterMm === null || wallThicknessMm === null || yieldMpa === null) return inputsMissing(wall, missing, why);
  const known: KnownInputs = { ...inputs, outsideDiameterMm, wallThicknessMm, yieldMpa };
  const sizes = wallSizes(wall, known);
  if ('kind' in sizes) return sizes;
  return {
    wall, inputs: known, sizes, wallFactor: wallThicknessMm.basis === 'nominal' ? NOMINAL_WALL_FACTOR : MEASURED_WALL_FACTOR,
    dOverT: sizes.outsideDiameterMm / sizes.wallThicknessMm, yieldMpa: numberOf('yieldMpa', yieldMpa),
  };
}

function barlow(rated: RatedWall): ComputedPressure {
  const pressureMpa = barlowInternalYield(rated.yieldMpa, rated.dOverT, rated.wallFactor);
  return computed(rated, pressureMpa, {
    what: 'internal yield pressure of the pipe body', formula: 'p = k · 2 Y t / D', source: API_5C3_BARLOW,
    inputs: [...sizesOf(rated), factorOf(rated), yieldOf(rated)], result: { name: 'internal yield pressure', value: pressureMpa, unit: 'MPa' },
  });
}

function triaxial(rated: RatedWall): ComputedPressure {
  const pressureMpa = triaxialInternalYield(rated.yieldMpa, rated.dOverT, rated.wallFactor);
  return computed(rated, pressureMpa, {
    what: 'internal pressure at which the bore begins to yield', formula: 'p = Y (D² − d²) / √(3 D⁴ + d⁴), d = D − 2 k t', source: ISO_10400_TRIAXIAL,
    inputs: [...sizesOf(rated), factorOf(rated), yieldOf(rated)], result: { name: 'internal yield pressure', value: pressureMpa, unit: 'MPa' },
  });
}

function collapseOf(rated: RatedWall): ComputedCollapse | NotComputable {
  const yieldPsi = convert(rated.yieldMpa, 'MPa', 'psi');
  const { from, to } = COLLAPSE_YIELD_PSI;
  if (yieldPsi < from || yieldPsi > to) {
    const range = `${convert(from, 'psi', 'MPa').toFixed(1)} to ${convert(to, 'psi', 'MPa').toFixed(1)} MPa (${from} to ${to} psi)`;
    return notComputable(rated.wall, ['yieldMpa'], `a yield strength of ${rated.inputs.yieldMpa.value} MPa is outside ${range}, for which the collapse constants are checked`);
  }
  const found = collapse(yieldPsi, rated.dOverT);
  const pressureMpa = convert(found.pressurePsi, 'psi', 'MPa');
  const { kind, tablePsi, steps } = computed(rated, pressureMpa, ...collapseSteps(rated, found, pressureMpa));
  return { kind, pressureMpa, tablePsi, steps, dOverT: rated.dOverT, regime: found.regime, limits: found.limits };
}

function collapseSteps(rated: RatedWall, { constants, limits, regime, pressurePsi }: Collapse, pressureMpa: number): ExplanationStep[] {
  const { a, b, cPsi, f, g } = constants;
  const numbers: ExplainedValue[] = [{ name: 'A', value: a }, { name: 'B', value: b }, { name: 'C', value: cPsi, unit: 'psi' }, { name: 'F', value: f }, { name: 'G', value: g }];
  const bounds: ExplainedValue[] = [
    { name: 'D/t, yield to plastic', value: limits.yieldToPlastic }, { name: 'D/t, plastic to transition', value: limits.plasticToTransition },
    { name: 'D/t, transition to elastic', value: limits.transitionToElastic },
  ];
  const dOverT = { name: 'D/t', value: rated.dOverT };
  return [
    { what: 'slenderness', formula: 'x = D / t', source: API_5C3_COLLAPSE, inputs: sizesOf(rated), result: dOverT },
    { what: 'regime of collapse', formula: 'by the limits of D/t for this yield strength', source: API_5C3_COLLAPSE, inputs: [dOverT, yieldOf(rated), ...bounds], result: { name: 'regime', value: regime } },
    {
      what: 'collapse pressure, Y and p in psi', formula: COLLAPSE_FORMULA_WORDS[regime], source: API_5C3_COLLAPSE, inputs: [dOverT, yieldOf(rated), ...numbers],
      result: { name: 'collapse pressure', value: pressurePsi, unit: 'psi' },
    },
    {
      what: 'collapse pressure', formula: '1 psi = 4.4482216152605 N / (25.4 mm)²', source: 'exact by definition',
      inputs: [{ name: 'collapse pressure', value: pressurePsi, unit: 'psi' }], result: { name: 'collapse pressure', value: pressureMpa, unit: 'MPa' },
    },
  ];
}

function computed({ sizes }: RatedWall, pressureMpa: number, ...steps: ExplanationStep[]): ComputedPressure {
  const tablePsi = tableText(convert(pressureMpa, 'MPa', 'psi'));
  const rounding: ExplanationStep = {
    what: 'as a table of ratings would print it', formula: 'to 10 psi, ties to the even ten', source: API_5C2_ROUNDING,
    inputs: [{ name: 'pressure', value: pressureMpa, unit: 'MPa' }], result: { name: 'pressure', value: tablePsi, unit: 'psi' },
  };
  return { kind: 'computed', pressureMpa, tablePsi, steps: [...sizes.steps, ...steps, rounding] };
}

function sizesOf({ inputs, sizes }: RatedWall): ExplainedValue[] {
  if (sizes.steps.length === 0) return [explained('outsideDiameterMm', inputs.outsideDiameterMm), explained('wallThicknessMm', inputs.wallThicknessMm, `${inputs.wallThicknessMm.basis} wall thickness`)];
  return [
    { name: 'outside diameter of the outer wall', value: sizes.outsideDiameterMm, unit: 'mm' },
    { name: 'wall thickness of the outer wall', value: sizes.wallThicknessMm, unit: 'mm' },
  ];
}

function yieldOf({ inputs: { yieldMpa } }: RatedWall): ExplainedValue {
  return explained('yieldMpa', yieldMpa, `${yieldMpa.basis} yield strength`);
}

function factorOf({ inputs: { wallThicknessMm }, wallFactor }: RatedWall): ExplainedValue {
  return { name: `k, share of the ${wallThicknessMm.basis} wall that counts`, value: wallFactor };
}
