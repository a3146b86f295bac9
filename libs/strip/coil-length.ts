import { COVERAGE_FACTOR, coilLengthMm, rootSumOfSquares, STEEL_DENSITY_KG_PER_M3 } from '#libs/length';

/**
 * Length of a coil's strip from its mass and from its diameters, with the standard uncertainty that its inputs give it by
 * the law of propagation of uncertainty (GUM, JCGM 100:2008, 5.1.2, independent inputs):
 *   from mass       L = m / (ρ w t)
 *   from diameters  L = f π (D² − d²) / (4 t), f the share of the section that is steel: 1 for tight wraps, less in a real coil
 * Sources: formula pages that agree.
 */
export interface Measured {
  readonly value: number;
  /** Standard uncertainty (k = 1), in the unit of the value. */
  readonly standardU: number;
}

/** `length`: the length itself, where it was measured and follows from nothing else. */
export type LengthInput = 'mass' | 'width' | 'thickness' | 'density' | 'outer diameter' | 'bore' | 'fill' | 'length';

export interface CoilLength {
  readonly lengthMm: number;
  /** Standard uncertainty (k = 1). */
  readonly standardUMm: number;
  /** What one standard uncertainty of each input does to the length, mm, with its sign. */
  readonly contributionsMm: ReadonlyMap<LengthInput, number>;
}

export interface CoilByMass {
  readonly massKg: Measured;
  readonly widthMm: Measured;
  readonly thicknessMm: Measured;
  /** 7850 kg/m³ without uncertainty when absent. */
  readonly densityKgPerM3?: Measured;
}

export interface CoilByDiameters {
  readonly outerDiameterMm: Measured;
  readonly boreMm: Measured;
  readonly thicknessMm: Measured;
  /** Share of the section that is steel; 1 without uncertainty when absent, which makes the length a greatest one. */
  readonly fill?: Measured;
}

const exactly = (value: number): Measured => ({ value, standardU: 0 });

/** Throws RangeError unless every value is over 0 and every uncertainty finite and not below 0. */
export function coilLengthFromMass(coil: CoilByMass): CoilLength {
  const { massKg, widthMm, thicknessMm, densityKgPerM3 = exactly(STEEL_DENSITY_KG_PER_M3) } = coil;
  check({ mass: massKg, width: widthMm, thickness: thicknessMm, density: densityKgPerM3 });
  const lengthMm = coilLengthMm(massKg.value, widthMm.value, thicknessMm.value, densityKgPerM3.value);
  return withContributions(lengthMm, [
    ['mass', lengthMm * relative(massKg)],
    ['width', -lengthMm * relative(widthMm)],
    ['thickness', -lengthMm * relative(thicknessMm)],
    ['density', -lengthMm * relative(densityKgPerM3)],
  ]);
}

/** Throws RangeError as `coilLengthFromMass` does, and unless the outer diameter is over the bore and the fill at most 1. */
export function coilLengthFromDiameters(coil: CoilByDiameters): CoilLength {
  const { outerDiameterMm: outer, boreMm: bore, thicknessMm, fill = exactly(1) } = coil;
  check({ 'outer diameter': outer, bore, thickness: thicknessMm, fill });
  if (outer.value <= bore.value) throw new RangeError(`outer diameter must be over the bore: ${outer.value} mm, ${bore.value} mm`);
  if (fill.value > 1) throw new RangeError(`fill must be at most 1: ${fill.value}`);
  const perSquareMm = (fill.value * Math.PI) / (4 * thicknessMm.value);
  const lengthMm = perSquareMm * (outer.value ** 2 - bore.value ** 2);
  return withContributions(lengthMm, [
    ['outer diameter', perSquareMm * 2 * outer.value * outer.standardU],
    ['bore', -perSquareMm * 2 * bore.value * bore.standardU],
    ['thickness', -lengthMm * relative(thicknessMm)],
    ['fill', lengthMm * relative(fill)],
  ]);
}

export interface Agreement {
  /** `a` less `b`. */
  readonly differenceMm: number;
  /** Standard uncertainty of the difference (k = 1). */
  readonly uDifferenceMm: number;
  /** Whether the difference lies within its expanded uncertainty, k = 2. */
  readonly agrees: boolean;
}

/**
 * Whether two lengths of one coil agree. Inputs that both took from the same reading, such as one thickness, are named as
 * `shared`: they move both lengths together, and their contributions are subtracted before squaring (GUM 5.2.2).
 */
export function agreement(a: CoilLength, b: CoilLength, shared: readonly LengthInput[] = []): Agreement {
  const differenceMm = a.lengthMm - b.lengthMm;
  const own = (length: CoilLength): number[] => [...length.contributionsMm].filter(([input]) => !shared.includes(input)).map(([, mm]) => mm);
  const common = shared.map((input) => (a.contributionsMm.get(input) ?? 0) - (b.contributionsMm.get(input) ?? 0));
  const uDifferenceMm = rootSumOfSquares(...own(a), ...own(b), ...common);
  return { differenceMm, uDifferenceMm, agrees: Math.abs(differenceMm) <= COVERAGE_FACTOR * uDifferenceMm };
}

/** Mass of a plate, kg: length (m) × width (m) × thickness (mm) × density / 1000. @throws RangeError unless all are over 0 */
export function plateMassKg(lengthM: number, widthM: number, thicknessMm: number, densityKgPerM3 = STEEL_DENSITY_KG_PER_M3): number {
  check({ length: exactly(lengthM), width: exactly(widthM), thickness: exactly(thicknessMm), density: exactly(densityKgPerM3) });
  return (lengthM * widthM * thicknessMm * densityKgPerM3) / 1000;
}

function withContributions(lengthMm: number, contributions: readonly (readonly [LengthInput, number])[]): CoilLength {
  const standardUMm = rootSumOfSquares(...contributions.map(([, mm]) => mm));
  return { lengthMm, standardUMm, contributionsMm: new Map(contributions) };
}

function relative({ value, standardU }: Measured): number {
  return standardU / value;
}

function check(inputs: Readonly<Record<string, Measured>>): void {
  for (const [name, { value, standardU }] of Object.entries(inputs)) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} must be over 0: ${value}`);
    if (!(standardU >= 0 && Number.isFinite(standardU))) throw new RangeError(`uncertainty of the ${name} must not be below 0: ${standardU}`);
  }
}
