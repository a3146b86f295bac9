import { decimal, decimalText, over, rounded, toNumber } from '#libs/exact';
import { barlowInternalYield, NOMINAL_WALL_FACTOR } from './internal-yield.js';
import { collapse, type Collapse } from './collapse.js';

/** Tables print pressures to 10 psi and take D/t to two decimals first. Ties go to the even ten, as two printed ties show. */
const PRESSURE_DECIMALS = -1;
const RATIO_DECIMALS = 2;
/** Doubles are taken to this many decimals first, so that their last bits decide no tie. */
const NOISE_DECIMALS = 6;
const MOST_PSI = 1e9;

/** A pressure as the tables of API Bull. 5C2 print it: whole psi, to 10. Throws RangeError unless it is from 0 to 10⁹ psi. */
export function tableText(pressurePsi: number): string {
  if (!(pressurePsi >= 0 && pressurePsi <= MOST_PSI)) throw new RangeError(`pressure must be from 0 to ${MOST_PSI} psi: ${pressurePsi}`);
  return decimalText(decimal(pressurePsi.toFixed(NOISE_DECIMALS)), PRESSURE_DECIMALS, 'half-even');
}

/** A row of a table of published ratings, in the units of the table: inches and psi. */
export interface TableRow {
  readonly dOverT: number;
  readonly collapse: Collapse;
  readonly collapsePsi: string;
  readonly internalYieldPsi: string;
}

/**
 * The ratings of a pipe as tables after API Bull. 5C3 (1985) print them: collapse from D/t rounded to two decimals, internal
 * yield from the sizes as they are, both to 10 psi. For holding this library against print; ratings of pipe as built are not
 * rounded on the way. Decimal text. Throws as `collapse` and `barlowInternalYield` do.
 */
export function tableRow(diameterIn: string, wallIn: string, yieldPsi: string): TableRow {
  const exact = over(decimal(diameterIn), decimal(wallIn));
  const dOverT = toNumber(rounded(exact, RATIO_DECIMALS, 'half-even'));
  const found = collapse(Number(yieldPsi), dOverT);
  const internalYield = barlowInternalYield(Number(yieldPsi), toNumber(exact), NOMINAL_WALL_FACTOR);
  return { dOverT, collapse: found, collapsePsi: tableText(found.pressurePsi), internalYieldPsi: tableText(internalYield) };
}
