import { hiddenCharacterFault } from './text-cell.js';

/** A number as a paper prints it, with its sign of censoring, if any, apart. */
export interface PrintedNumber {
  /** As it is kept: sign of censoring without a blank after it, and the digits. */
  readonly printed: string;
  readonly number: number;
}

const NUMBER = /^(?:(<=|>=|[<>≤≥]) ?)?(-?\d{1,12}(?:\.\d{1,9})?)$/;
const SIGNS: Readonly<Record<string, string>> = { '<=': '≤', '>=': '≥' };

/** Reads `0.085`, `-3`, `<0.001` or `>=100`; answers any other text with a sentence on what is wrong and what would do. */
export function readNumber(text: string): PrintedNumber | string {
  const match = NUMBER.exec(text);
  if (match === null) return numberFault(text);
  const [, sign = '', digits = ''] = match;
  return { printed: `${SIGNS[sign] ?? sign}${digits}`, number: Number(digits) };
}

interface Slip {
  readonly pattern: RegExp;
  readonly says: (text: string, sign: string) => string;
}

const COMMON = 'A number is written with a decimal point, such as 0.085, <0.001 or >=100; an empty cell means not reported.';
/** Longer than any number a paper prints. */
const LONGEST = 40;
const CENSORED = '(?<sign>(?:(?:<=|>=|[<>≤≥]) ?)?)';
const slip = (pattern: string, says: Slip['says']): Slip => ({ pattern: new RegExp(`^${CENSORED}${pattern}$`, 'iu'), says });
const without = (text: string, marks: RegExp): string => text.replace(marks, '');

/** In order: the first that fits names the slip. */
const SLIPS: readonly Slip[] = [
  slip('[-+]?[\\d.,]+e[-+]?\\d+', () => 'exponent notation: write the digits out, as the paper prints them.'),
  slip('-?[1-9]\\d{0,2},\\d{3}', (text) => `a comma, for decimals or for thousands: write ${text.replace(',', '.')} or ${without(text, /,/)}, whichever the paper means.`),
  slip('-?\\d+,\\d+', (text) => `decimal comma: write ${text.replace(',', '.')}.`),
  slip('-?\\d{1,3}(,\\d{3})+(\\.\\d+)?', (text) => `thousands separators: write ${without(text, /,/g)}.`),
  slip('-?\\d{1,3}(\\.\\d{3})+,\\d+', (text) => `thousands separators and a decimal comma: write ${without(text, /\./g).replace(',', '.')}.`),
  slip('-?\\d{1,3}(\\.\\d{3}){2,}', (text) => `thousands separators: write ${without(text, /\./g)}.`),
  slip("-?\\d{1,3}(['’\\s_]\\d{3})+([.,]\\d+)?", (text, sign) => `thousands separators: write ${sign.trim()}${without(text.slice(sign.length), /['’\s_]/g).replace(',', '.')}.`),
  slip('[−–—]\\d+(\\.\\d+)?', (text) => `a minus sign or dash that is no hyphen: write ${text.replace(/[−–—]/, '-')}.`),
  slip('\\+\\d+(\\.\\d+)?', (text) => `a plus sign: write ${text.replace('+', '')}.`),
  slip('-?\\.\\d+', (text) => `no digit before the decimal point: write ${text.replace('.', '0.')}.`),
  slip('-?\\d+\\.', (text) => `no digit after the decimal point: write ${text.replace('.', '')}, or the digits that the paper prints.`),
  slip('[-−–—.]+', () => 'a dash where a number belongs: leave the cell empty for what is not reported.'),
  slip('[=@+].*', () => 'a formula where a number belongs: write the digits that the paper prints.'),
  slip('-?\\d+(\\.\\d+)?\\s*[-–/;…]\\s*\\d+(\\.\\d+)?', () => 'two numbers in one cell: a cell holds one value.'),
  slip('-?\\d+(\\.\\d+)?\\s*(%|\\p{L}.*)', () => 'a number and more: the unit stands in the header, and the cell holds the digits alone.'),
  slip('(\\p{L}|#).*', () => 'a word where a number belongs: leave the cell empty for what is not reported, or write the limit of detection, such as <0.001.'),
  slip('-?\\d+(\\.\\d+)?', () => 'too many digits: at most 12 before the decimal point and 9 after it are taken.'),
];

function numberFault(text: string): string {
  if (text.length > LONGEST) return `No number: ${text.length} characters. ${COMMON}`;
  const hidden = hiddenCharacterFault(text);
  if (hidden !== null) return hidden;
  if (text.trim() !== text) return 'A blank before or after the number. Leave it out.';
  for (const { pattern, says } of SLIPS) {
    const match = pattern.exec(text);
    if (match !== null) return says(text, match.groups?.['sign'] ?? '');
  }
  return `No number. ${COMMON}`;
}
