/**
 * Flattening a ring between plates until they are H apart:
 *   H = (1 + e) t / (e + t/D)   and turned round   e = t (D − H) / (D (H − t))
 * with D the outside diameter and t the wall. Source of the first: Indian Boiler Regulations 49B and 59. The deformation
 * constant e is the strain of the outer fibre at the two folds: with the middle of the wall kept at its length and folds that
 * are half circles of outer diameter H, the outer fibre grows from D/(D − t) to H/(H − t) of the middle, and
 * e = (H/(H − t)) / (D/(D − t)) − 1 (derived here).
 */
import { compare, decimalText, minus, over, plus, ratio, times, toNumber, type Ratio } from '#libs/exact';
import { namedCheck, type NamedCheck } from './named-check.js';
import { BOILER_49B, BOILER_59 } from './sources.js';
import { exactTube, positive, type ExactTube, type Tube } from './tube.js';

const ONE = ratio(1n);
const TWO = ratio(2n);
const FORMULA = `H = (1 + e) t / (e + t/D) (${BOILER_49B}, and 59)`;

/** A deformation constant with the steel it is printed for; decimal text. */
export interface DeformationConstant {
  readonly steel: string;
  readonly constant: string;
  readonly source: string;
}

/** The constants that carry a source, all of boiler tube. For line pipe the project's specification states its own. */
export const DEFORMATION_CONSTANTS: readonly DeformationConstant[] = [
  { steel: 'ferritic alloy, seamless', constant: '0.08', source: BOILER_49B },
  { steel: 'austenitic, seamless', constant: '0.09', source: BOILER_49B },
  { steel: 'WC1, welded', constant: '0.10', source: BOILER_59 },
  { steel: 'WC2, welded', constant: '0.07', source: BOILER_59 },
  { steel: 'WC3, welded', constant: '0.07', source: BOILER_59 },
];

export interface PlateDistance {
  readonly heightMm: number;
  /** The insides touch at 2 t, before the plates are so near: the ring cannot be flattened as far as e demands. */
  readonly wallsMeetFirst: boolean;
  readonly rule: string;
}

/** H for a constant e (decimal text). Throws SyntaxError or RangeError as `Tube` demands, and RangeError unless e is over 0. */
export function plateDistance(tube: Tube, constant: string): PlateDistance {
  const exact = exactTube(tube);
  const height = heightFor(exact, positive('deformation constant', constant, ''));
  const words = `D ${tube.outsideDiameterMm} mm, t ${tube.wallThicknessMm} mm, e ${constant}`;
  return {
    heightMm: toNumber(height),
    wallsMeetFirst: compare(height, times(exact.wall, TWO)) < 0,
    rule: `${FORMULA}; ${words}: H = ${heightText(height)} mm`,
  };
}

export interface Flattening {
  /** The constant e that the ring was brought to: the strain of the outer fibre at the folds, per length before. */
  readonly outerFibreStrain: number;
  /** ln(1 + e), to be held beside other true strains. */
  readonly outerFibreLogStrain: number;
  readonly rule: string;
}

/**
 * What a ring was strained by when the plates were `heightMm` apart (decimal text, under load).
 * Throws SyntaxError or RangeError as `Tube` demands, and RangeError unless the distance is over t and not over D.
 */
export function flatteningReached(tube: Tube, heightMm: string): Flattening {
  const strain = strainAt(exactTube(tube), measuredHeight(tube, heightMm));
  return {
    outerFibreStrain: toNumber(strain),
    outerFibreLogStrain: Math.log1p(toNumber(strain)),
    rule: `e = t (D − H) / (D (H − t)), from ${FORMULA}: plates ${heightMm} mm apart give e = ${decimalText(strain, 4, 'half-even')}`,
  };
}

/** Whether the plates came as near as the constant demands, or nearer; compared exactly. Throws as the two functions above do. */
export function checkPlateDistance(tube: Tube, heightMm: string, constant: DeformationConstant): NamedCheck {
  const demanded = heightFor(exactTube(tube), positive('deformation constant', constant.constant, ''));
  const found = measuredHeight(tube, heightMm);
  const words = `at most ${heightText(demanded)} mm, from e = ${constant.constant} (${constant.steel})`;
  const finding = { what: 'distance between the plates', found: heightMm, unit: 'mm', demanded: words };
  return namedCheck('plate distance', finding, compare(found, demanded) <= 0, constant.source);
}

function heightText(height: Ratio): string {
  return decimalText(height, 4, 'half-even');
}

function heightFor({ diameter, wall }: ExactTube, constant: Ratio): Ratio {
  return over(times(plus(ONE, constant), wall), plus(constant, over(wall, diameter)));
}

function strainAt({ diameter, wall }: ExactTube, height: Ratio): Ratio {
  return over(times(wall, minus(diameter, height)), times(diameter, minus(height, wall)));
}

function measuredHeight(tube: Tube, heightMm: string): Ratio {
  const { diameter, wall } = exactTube(tube);
  const height = positive('distance between the plates', heightMm, 'mm');
  if (compare(height, wall) <= 0 || compare(height, diameter) > 0) {
    const range = `${tube.wallThicknessMm} to ${tube.outsideDiameterMm} mm`;
    throw new RangeError(`distance between the plates is not over t and up to D (${range}): ${heightMm}`);
  }
  return height;
}
