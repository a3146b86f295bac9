import { compare, decimal, decimalText, minus, over, ratio, times, toNumber, type Ratio } from '#libs/exact';
import { namedCheck, type NamedCheck } from './named-check.js';
import { BOILER_59B, VENDOR_PAGE } from './sources.js';
import { exactTube, positive, textOf, type Tube } from './tube.js';

/** A flared end; decimal text, mm. */
export interface Flare {
  readonly outsideDiameterMm: string;
  /** The largest outside diameter at the mouth, after the cone is out. */
  readonly flaredDiameterMm: string;
}

/** An expansion that is demanded, in % as decimal text, with the cell of its table and its source. */
export interface RequiredExpansion {
  readonly percent: string;
  readonly cell: string;
  readonly source: string;
}

/** No cell with a source: nothing is guessed. */
export interface MissingExpansion {
  readonly missing: string;
}

/** What a vendor's page asks of small welded tube. A starting value at best: the project's specification decides. */
export const VENDOR_EXPANSION: RequiredExpansion = { percent: '20', cell: 'small welded tube', source: VENDOR_PAGE };

/** Welded boiler tube; for other grades no cell was found in print. */
const GRADES: ReadonlySet<string> = new Set(['WC1', 'WC2']);

/**
 * Expansion of the outside diameter in %, (D_flared − D)/D × 100 (as ISO 8493 states it, from memory).
 * Throws SyntaxError unless both are plain decimals, RangeError unless D is over 0 and the flare not below it.
 */
export function flareExpansionPercent(flare: Flare): number {
  return toNumber(exactExpansionPercent(flare));
}

/**
 * The expansion that a flaring test must reach on a tube of this grade (letter for letter), by d/D of inside to outside
 * diameter, d = D − 2 t. Throws SyntaxError or RangeError as `Tube` demands.
 */
export function requiredExpansion(tube: Tube, grade: string): RequiredExpansion | MissingExpansion {
  const { diameter, wall } = exactTube(tube);
  if (!GRADES.has(grade)) return { missing: `no required expansion with a source for grade ${grade}; known are ${[...GRADES].join(', ')}` };
  const bore = over(minus(diameter, times(wall, ratio(2n))), diameter);
  const { percent, cell } = cellOf(bore);
  return { percent, cell: `${grade}, ${cell} (d/D = ${textOf(bore, 4)})`, source: BOILER_59B };
}

/**
 * Whether a flare was widened by what is demanded, or more; compared exactly. Says nothing of cracks.
 * Throws as `flareExpansionPercent` does, and unless what is required is a plain decimal over 0.
 */
export function checkExpansion(flare: Flare, { percent, cell, source }: RequiredExpansion): NamedCheck {
  const expansion = exactExpansionPercent(flare);
  const found = decimalText(expansion, 2, 'half-even');
  const isMet = compare(expansion, positive('required expansion', percent, '%')) >= 0;
  const demanded = `at least ${percent} %, ${cell}`;
  return namedCheck('expansion of the outside diameter', { what: 'expansion', found, unit: '%', demanded }, isMet, source);
}

/** How a flaring test was set up; decimal text; null where nobody recorded it. */
export interface FlaringSetUp {
  readonly tube: Tube;
  readonly pieceLengthMm: string | null;
  /** Angle between opposite sides of the cone. */
  readonly coneAngleDeg: string | null;
}

/**
 * What Regulation 59(b) demands of a flaring test: a cone of 45° or 60°, and a piece 1.5 D long and at least 50 mm, which
 * is read here as a least length. Throws SyntaxError or RangeError as `Tube` demands, and unless what is given is over 0.
 */
export function flaringSetUpChecks({ tube, pieceLengthMm, coneAngleDeg }: FlaringSetUp): readonly NamedCheck[] {
  const byDiameter = times(exactTube(tube).diameter, decimal('1.5'));
  const least = compare(byDiameter, decimal('50')) > 0 ? byDiameter : decimal('50');
  const longEnough = pieceLengthMm !== null && compare(positive('piece length', pieceLengthMm, 'mm'), least) >= 0;
  const angle = coneAngleDeg === null ? null : positive('cone angle', coneAngleDeg, '°');
  const isKnownCone = angle !== null && ['45', '60'].some((known) => compare(angle, decimal(known)) === 0);
  const length = { what: 'piece length', found: pieceLengthMm, unit: 'mm', demanded: `at least 1.5 D and 50 mm = ${textOf(least, 3)} mm` };
  const cone = { what: 'cone angle', found: coneAngleDeg, unit: '°', demanded: '45° or 60° between opposite sides' };
  return [namedCheck('piece length', length, longEnough, BOILER_59B), namedCheck('cone angle', cone, isKnownCone, BOILER_59B)];
}

function cellOf(bore: Ratio): Pick<RequiredExpansion, 'percent' | 'cell'> {
  if (compare(bore, decimal('0.6')) <= 0) return { percent: '12', cell: 'd/D up to 0.6' };
  if (compare(bore, decimal('0.8')) <= 0) return { percent: '15', cell: 'd/D over 0.6 to 0.8' };
  return { percent: '19', cell: 'd/D over 0.8' };
}

function exactExpansionPercent({ outsideDiameterMm, flaredDiameterMm }: Flare): Ratio {
  const before = positive('outside diameter', outsideDiameterMm, 'mm');
  const after = positive('flared diameter', flaredDiameterMm, 'mm');
  if (compare(after, before) < 0) throw new RangeError(`a flare is not narrower than its tube of ${outsideDiameterMm} mm: ${flaredDiameterMm}`);
  return times(over(minus(after, before), before), ratio(100n));
}
