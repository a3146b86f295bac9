import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import { over, times, toNumber, type Ratio } from '#libs/exact';
import { convert, type UnitName } from '#libs/units';
import { exactSpeed, exactValue, type NotComputable, type Quantity } from './quantity.js';

/** Each is the code of a weld variable too. */
export const HEAT_INPUT_METHODS = ['arc-energy', 'heat-input-en', 'heat-input-asme', 'linear-energy'] as const;
export type HeatInputMethod = (typeof HEAT_INPUT_METHODS)[number];

export interface HeatInputFigure {
  readonly method: HeatInputMethod;
  /** Exact, in kJ/mm; limits are held against this one. */
  readonly exact: Ratio;
  /** The same, to the accuracy of a double. */
  readonly kjPerMm: number;
  readonly explanation: ExplanationStep;
}

export interface NoHeatInput extends NotComputable {
  readonly method: HeatInputMethod;
}

export type HeatInput = HeatInputFigure | NoHeatInput;

/** A quantity with its symbol in the formula, and the unit in which the formula takes it. */
export interface Factor {
  readonly symbol: string;
  readonly name: string;
  readonly quantity: Quantity | null;
  readonly unit: UnitName;
}

/** How a method works: constant × the product of the factors / speed, in kJ/mm. */
export interface Recipe extends Pick<ExplanationStep, 'what' | 'formula' | 'source'> {
  readonly method: HeatInputMethod;
  readonly constant: Ratio;
  readonly factors: readonly Factor[];
  readonly speed: Factor;
  /** What the formula takes besides what was read. */
  readonly given: readonly ExplainedValue[];
}

/**
 * The figure of a recipe, or the first reason why there is none. Throws RangeError when a unit is of another dimension than
 * its quantity.
 */
export function energyPerLength(recipe: Recipe): HeatInput {
  const { method, constant, factors, speed } = recipe;
  let product = constant;
  for (const { name, quantity, unit } of factors) {
    const value = exactValue(name, quantity, unit);
    if ('notComputable' in value) return { method, ...value };
    product = times(product, value);
  }
  const perTime = exactSpeed(speed.name, speed.quantity, speed.unit);
  if ('notComputable' in perTime) return { method, ...perTime };
  const exact = over(product, perTime);
  const kjPerMm = toNumber(exact);
  return { method, exact, kjPerMm, explanation: explanationOf(recipe, kjPerMm) };
}

function explanationOf({ what, formula, source, factors, speed, given }: Recipe, kjPerMm: number): ExplanationStep {
  const inputs = [...given, ...[...factors, speed].flatMap(explained)];
  return { what, formula, source, inputs, result: { name: what, value: kjPerMm, unit: 'kJ/mm' } };
}

/** As read, and, where that differs, in the unit that the formula takes it in. */
function explained({ symbol, name, quantity, unit }: Factor): ExplainedValue[] {
  if (quantity === null) return [];
  const read: ExplainedValue = { name: `${symbol}, ${name}`, value: quantity.printed, unit: quantity.unit };
  if (quantity.unit === unit) return [read];
  return [read, { name: symbol, value: convert(Number(quantity.printed), quantity.unit, unit), unit }];
}
