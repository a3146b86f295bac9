import { describe, expect, test } from '@jest/globals';
import { codeOf, toVisibleText } from './visible-text.js';

const everything = () => true;

describe('text that leaves a mark', () => {
  test.each([
    ['bell\u0007', 'bell[U+0007]'],
    ['\u202egnp.exe', '[U+202E]gnp.exe'],
    ['\u2066a\u2069', '[U+2066]a[U+2069]'],
    ['a\u200bb\ufeff', 'a[U+200B]b[U+FEFF]'],
    ['a\u00adb', 'a[U+00AD]b'],
    ['\ud800x', '[U+D800]x'],
    ['\ue000', '[U+E000]'],
    ['a\u200db', 'a[U+200D]b'],
    ['\u{e0041}', '[U+E0041]'],
  ])('%j', (text, visible) => {
    expect(toVisibleText(text, everything)).toBe(visible);
  });

  test('line ends of any kind are one, a tab is a space', () => {
    expect(toVisibleText('a\r\nb\rc\u2028d\u0085e\tf', everything)).toBe('a\nb\nc\nd\ne f');
  });

  test('joiners stay where they shape letters', () => {
    const devanagari = '\u0915\u094d\u200d\u0937';
    const persian = '\u0645\u06cc\u200c\u062e';
    expect(toVisibleText(devanagari, everything)).toBe(devanagari);
    expect(toVisibleText(persian, everything)).toBe(persian);
  });

  test('four marks on a letter stay, the fifth is written out', () => {
    const mark = '\u0301';
    expect(toVisibleText(`e${mark.repeat(4)}`, everything)).toBe(`e${mark.repeat(4)}`);
    expect(toVisibleText(`e${mark.repeat(5)}`, everything)).toBe(`e${mark.repeat(4)}[U+0301]`);
  });

  test('a character without a glyph is written as its code and its neighbours stay', () => {
    expect(toVisibleText('a\u{1f468}b', (grapheme) => grapheme !== '\u{1f468}')).toBe('a[U+1F468]b');
  });

  test('a code has at least four digits', () => {
    expect(codeOf('\u0007')).toBe('[U+0007]');
    expect(codeOf('\u{10fffd}')).toBe('[U+10FFFD]');
  });
});
