/** LAS holds ASCII 32 to 126 alone (CWLS LAS 2.0, update January 2014, 3.0). */
export const isLasText = (text: string): boolean => /^[\x20-\x7e]*$/.test(text);

/** Signs that do not come apart into a letter and its mark. */
const REPLACEMENTS: Readonly<Record<string, string>> = {
  'ß': 'ss', 'ø': 'o', 'Ø': 'O', 'æ': 'ae', 'Æ': 'AE', 'œ': 'oe', 'Œ': 'OE', 'ł': 'l', 'Ł': 'L', 'đ': 'd', 'Đ': 'D', 'ı': 'i', 'þ': 'th', 'Þ': 'Th',
  '°': 'deg', 'μ': 'u', 'Ω': 'Ohm', '×': 'x', '·': '*', '±': '+/-', '–': '-', '—': '-', '−': '-', '‘': '\'', '’': '\'', '“': '"', '”': '"', 'κ': 'kappa', 'λ': 'lambda',
};

/**
 * The text in ASCII, for people's names and words that a LAS file could not hold: letters lose their marks, breaks become
 * spaces, and what is left becomes `?`. What it changed is not told; the record itself keeps the true text.
 */
export function asciiText(text: string): string {
  const apart = text.normalize('NFKD').replace(/\p{M}/gu, '').replace(/\s+/g, ' ');
  return Array.from(apart, (sign) => (isLasText(sign) ? sign : REPLACEMENTS[sign] ?? '?')).join('').trim();
}

/** The same for a description, in which a colon would count as the delimiter: it becomes a semicolon. */
export function asciiDescription(text: string): string {
  return asciiText(text).replaceAll(':', ';');
}
