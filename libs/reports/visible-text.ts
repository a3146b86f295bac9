/**
 * Turns a user's text into text of which every character leaves a mark on paper. What has no glyph, steers the
 * direction of its neighbours or is invisible by design is written as its code, [U+202E]; nothing is dropped.
 */

const HIDDEN = /^[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]$/u;
// Signs of category Cf that do have a shape, such as the Arabic number sign.
const SHAPED_FORMAT_SIGN = /^[\u0600-\u0605\u06dd\u070f\u08e2]$/u;
const VARIATION_SELECTOR = /^[\ufe00-\ufe0f]$/u;
const JOINER = /^[\u200c\u200d]$/u;
const JOINING_SCRIPT = /^[\p{Script=Arabic}\p{Script=Syriac}\p{Script=Devanagari}\p{Mn}\p{Mc}]$/u;
const MARK = /^\p{M}$/u;
// More marks than this on one letter climb out of their line; no writing system needs them.
const MARKS_PER_LETTER_MAX = 4;

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** Splits a text into the units a reader takes for one character. */
export function splitGraphemes(text: string): string[] {
  return Array.from(graphemes.segment(text), (part) => part.segment);
}

/** @example codeOf('\u202e') // '[U+202E]' */
export function codeOf(character: string): string {
  return `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`;
}

function isShown(character: string, before: string): boolean {
  if (!HIDDEN.test(character)) return true;
  if (JOINER.test(character)) return JOINING_SCRIPT.test(before);
  return SHAPED_FORMAT_SIGN.test(character) || (VARIATION_SELECTOR.test(character) && before !== '');
}

/** The text with everything that is invisible or steers its neighbours as its code. */
export function replaceHidden(text: string): string {
  const shown: string[] = [];
  let before = '';
  let marksInARow = 0;
  for (const character of text) {
    marksInARow = MARK.test(character) ? marksInARow + 1 : 0;
    const isKept = character === '\n' || (isShown(character, before) && marksInARow <= MARKS_PER_LETTER_MAX);
    shown.push(isKept ? character : codeOf(character));
    before = isKept ? character : '';
  }
  return shown.join('');
}

/**
 * The text as it will be drawn. Line ends of any kind become \n, a tab becomes a space.
 * `hasGlyphs` says whether one font can draw the whole grapheme.
 */
export function toVisibleText(text: string, hasGlyphs: (grapheme: string) => boolean): string {
  const plain = replaceHidden(text.replace(/\r\n?|\u2028|\u2029|\u0085/g, '\n').replace(/\t/g, ' '));
  return splitGraphemes(plain)
    .map((grapheme) => {
      if (grapheme === '\n' || hasGlyphs(grapheme)) return grapheme;
      return Array.from(grapheme, (character) => (hasGlyphs(character) ? character : codeOf(character))).join('');
    })
    .join('');
}
