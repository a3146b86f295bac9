/** Begins like a formula to a spreadsheet that opens the file, or an export of the record, later. */
const FORMULA_START = '=+-@\t';

/**
 * What is wrong with a cell of text, as a sentence with the limit, or null. Refused are blanks around it, a start that a
 * spreadsheet takes for a formula, control characters and marks that turn the direction of writing, and over-long texts.
 */
export function textFault(text: string, longest: number): string | null {
  if (text.length > longest) return `${text.length} characters; at most ${longest} are taken.`;
  const first = text[0];
  if (first !== undefined && FORMULA_START.includes(first)) {
    const shown = first === '\t' ? 'a TAB' : `“${first}”`;
    return `Begins with ${shown}, which a spreadsheet takes for a formula. A text begins with a letter, a digit or another sign.`;
  }
  const hidden = hiddenCharacterFault(text);
  if (hidden !== null) return hidden;
  return text.trim() === text ? null : 'A blank before or after the text. Leave it out.';
}

/** Names the first control character, line separator or direction mark of a text, or null. */
export function hiddenCharacterFault(text: string): string | null {
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code >= 0x20 && code < 0x7f) continue;
    const kind = kindOfHidden(code);
    if (kind !== null) return `Holds ${kind} U+${code.toString(16).toUpperCase().padStart(4, '0')}. Only characters that can be seen are taken.`;
  }
  return null;
}

function kindOfHidden(code: number): string | null {
  if (code < 0x20 || (code >= 0x7f && code < 0xa0)) return 'the control character';
  if (code === 0x61c || code === 0x200e || code === 0x200f) return 'the direction mark';
  if ((code >= 0x202a && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069)) return 'the direction mark';
  return code === 0x2028 || code === 0x2029 ? 'the line separator' : null;
}

const DAY = /^(\d{4})-(\d{2})-(\d{2})$/;
const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;

/** What is wrong with a day, as a sentence with the limit, or null: YYYY-MM-DD, in the calendar, 1900 to 2199. */
export function dayFault(text: string): string | null {
  const [whole, year, month, day] = DAY.exec(text) ?? [];
  if (whole === undefined) return 'No day such as 2026-01-22: year, month, day, with hyphens and zeros.';
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  if (date.toISOString().slice(0, 10) !== whole) return `There is no such day in the calendar. Write year, month, day: 2026-01-22.`;
  const inRange = Number(year) >= FIRST_YEAR && Number(year) <= LAST_YEAR;
  return inRange ? null : `The year is taken from ${FIRST_YEAR} to ${LAST_YEAR}.`;
}
