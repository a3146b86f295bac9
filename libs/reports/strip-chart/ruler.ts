import { codeOf, replaceHidden } from '../visible-text.js';

/** How wide a text is, in points. */
export type Ruler = (text: string, sizePt: number, isBold: boolean) => number;

/**
 * Widths in shares of the type size, at least those of wide sans-serif fonts: a reader's program chooses the font of an SVG, and
 * what is left room for must fit whichever it is.
 */
const NARROW = /[ !'(),./:;I[\]fijlrt|·‘’]/u;
const WIDE = /[MW@%mw—→←…‰±≥≤<>=+×÷−–~^#]/u;
const WIDEST = /[ÆæŒœĦŴŵŉωΜЖШЩЮФМЫЪжшщюфмыъ]/u;
const LARGE = /[\p{Lu}&_дħπψЭэ]/u;
const FULL = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\u3000-\u303f\uff00-\uffef]/u;
const LATIN_GREEK_CYRILLIC = /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Nd}\p{P}]/u;
const BOLD = 1.15;

const known = new Map<string, number>();

function shareOf(character: string): number {
  if (NARROW.test(character)) return 0.44;
  if (WIDEST.test(character)) return 1.16;
  if (WIDE.test(character)) return 1.02;
  if (FULL.test(character)) return 1.05;
  if (LARGE.test(character)) return 0.82;
  if (/[0-9]/.test(character)) return 0.64;
  return LATIN_GREEK_CYRILLIC.test(character) ? 0.68 : 1.1;
}

/** A ruler for text in an unknown sans-serif font, on the safe side. */
export const roomyRuler: Ruler = (text, sizePt, isBold) => {
  let shares = 0;
  for (const character of text) {
    let share = known.get(character);
    if (share === undefined) {
      share = shareOf(character);
      if (known.size < 4_096) known.set(character, share);
    }
    shares += share;
  }
  return shares * sizePt * (isBold ? BOLD : 1);
};

/** As much of the start of a text as fits, with an ellipsis where it was cut. */
export function cutToFit(text: string, widthPt: number, sizePt: number, isBold: boolean, ruler: Ruler): string {
  if (ruler(text, sizePt, isBold) <= widthPt) return text;
  const characters = Array.from(text);
  let [low, high] = [0, characters.length];
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if (ruler(`${characters.slice(0, middle).join('')}…`, sizePt, isBold) <= widthPt) low = middle;
    else high = middle - 1;
  }
  return `${characters.slice(0, low).join('').trimEnd()}…`;
}

/** A text as one line of which every character leaves a mark; XML can hold each of them. */
export const oneLine = (text: string): string =>
  replaceHidden(text.replace(/[\n\r\t\u2028\u2029\u0085]+/g, ' ')).replace(/[\ufffe\uffff]/g, codeOf);
