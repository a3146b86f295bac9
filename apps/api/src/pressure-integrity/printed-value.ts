import { decimal, decimalText, exactText, over, times, type Ratio } from '#libs/exact';
import { exactConversion, isUnitName, UNITS } from '#libs/units';

const PLAIN = /^\d+(?:\.\d+)?$/;
/** Enough for any gauge and any paper, where a conversion does not end. */
const MOST_DECIMALS = 9;
const DIMENSIONS = { mm: 'length', MPa: 'pressure' } as const;

/**
 * What was printed or read, in mm or MPa, as plain decimal text over 0; null for a bound such as "≥ 100", for zero, and for a unit of
 * something else. A value in its own unit keeps its digits. @param multiplier what the printed digits were multiplied by
 */
export function inUnit(printed: string, unit: string, to: keyof typeof DIMENSIONS, multiplier = '1'): string | null {
  const name = unit.trim().replace('²', '2');
  if (!PLAIN.test(printed.trim()) || !PLAIN.test(multiplier) || !isUnitName(name) || UNITS[name].dimension !== DIMENSIONS[to]) return null;
  const value = over(decimal(printed.trim()), decimal(multiplier));
  if (value.numerator <= 0n) return null;
  const { factor } = exactConversion(name, to);
  return isOne(factor) && multiplier === '1' ? printed.trim() : textOf(times(value, factor));
}

const isOne = ({ numerator, denominator }: Ratio): boolean => numerator === denominator;

const textOf = (value: Ratio): string => exactText(value) ?? decimalText(value, MOST_DECIMALS, 'half-even');

/** The shortest plain decimal whose nearest float32 this is: nine digits are always enough (IEEE 754-2019, 5.12.2). */
export function sampleText(value: number): string {
  for (let digits = 1; digits < MOST_DECIMALS; digits += 1) {
    const text = value.toPrecision(digits);
    if (Math.fround(Number(text)) === value && !text.includes('e')) return text;
  }
  return value.toFixed(MOST_DECIMALS);
}
