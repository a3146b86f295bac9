const { fround } = Math;

const PLAIN_DECIMAL = /^-?\d+(?:\.\d+)?$/;
const [FEWEST_DIGITS, MOST_DIGITS] = [6, 9];

export const isPlainDecimal = (text: string): boolean => PLAIN_DECIMAL.test(text);

/** A whole number of the last of `decimals` decimals, as decimal text with all of them. */
export function scaledText(whole: number, decimals: number): string {
  if (decimals === 0) return String(whole);
  const digits = String(Math.abs(whole)).padStart(decimals + 1, '0');
  return `${whole < 0 ? '-' : ''}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

/** The shortest decimal that reads back as this double, without an exponent, which LAS does not know (3.0). Minus zero is 0. */
export function doubleText(value: number): string {
  const [mantissa = '', exponent] = String(value).split('e');
  if (exponent === undefined) return mantissa;
  const [whole = '', fraction = ''] = mantissa.replace('-', '').split('.');
  const digits = whole + fraction;
  const point = whole.length + Number(exponent);
  const sign = value < 0 ? '-' : '';
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return sign + digits.padEnd(point, '0');
}

/** The shortest decimal whose nearest float32 is this one: nine digits are always enough (IEEE 754-2019, 5.12.2). */
export function singleText(value: number): string {
  for (let digits = FEWEST_DIGITS; digits < MOST_DIGITS; digits += 1) {
    const shorter = Number(value.toPrecision(digits));
    if (fround(shorter) === value) return doubleText(shorter);
  }
  return doubleText(Number(value.toPrecision(MOST_DIGITS)));
}
