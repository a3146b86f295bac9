/**
 * Twice a decimal, digit by digit: the expanded uncertainty (k = 2) of a standard uncertainty given as text.
 * @example doubled('0.025') // '0.050'
 */
export function doubled(decimal: string): string {
  const [whole = '0', fraction = ''] = decimal.split('.');
  const digits = String(BigInt(whole + fraction) * 2n).padStart(fraction.length + 1, '0');
  if (fraction === '') return digits;
  return `${digits.slice(0, -fraction.length)}.${digits.slice(-fraction.length)}`;
}
