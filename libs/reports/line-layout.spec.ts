import { describe, expect, test } from '@jest/globals';
import { FontShelf } from './font-shelf.js';
import { layoutText, type TextLine, type TypeCase } from './line-layout.js';

const STYLE = { sizePt: 10, isBold: false };
const shelf = new FontShelf();

/** Every UTF-16 unit ten points wide, so that expected breaks can be counted by hand. */
const typeCase: TypeCase = {
  fontFor: (grapheme, isBold) => shelf.fontFor(grapheme, isBold),
  measurePt: (text) => 10 * text.length,
};

const lay = (text: string, widthPt: number) => layoutText(text, widthPt, STYLE, typeCase);
const visual = (line: TextLine | undefined) => line?.pieces.map((piece) => piece.text) ?? [];

describe('lines of text', () => {
  test('words go on a line while they fit to the point', () => {
    expect(lay('aaa bbb ccc', 70).map(visual)).toEqual([['aaa bbb'], ['ccc']]);
    expect(lay('aaa bbb ccc', 69).map(visual)).toEqual([['aaa'], ['bbb'], ['ccc']]);
  });

  test('a word longer than the line is split, and what follows goes on behind it', () => {
    expect(lay('xxxxxxx y', 30).map(visual)).toEqual([['xxx'], ['xxx'], ['x y']]);
  });

  test('empty paragraphs keep their line, an empty text has none', () => {
    expect(lay('a\n\nb', 100).map(visual)).toEqual([['a'], [], ['b']]);
    expect(lay('', 100)).toEqual([]);
  });

  test('Japanese breaks between characters but not before a full stop', () => {
    expect(lay('硬さです。', 40).map((line) => visual(line).join(''))).toEqual(['硬さで', 'す。']);
  });

  // Unicode Standard Annex 9, rule N0: brackets round right-to-left letters, after such letters, go right to left.
  test('right-to-left words in Latin text stay in their place, their brackets turned', () => {
    expect(visual(lay('see שלום (א) end', 1000)[0])).toEqual(['see ', 'שלום )א(', ' end']);
  });

  test('a right-to-left paragraph puts its first word last on the line and keeps numbers upright', () => {
    const [line] = lay('אב 12 גד', 1000);
    expect(line?.isRightToLeft).toBe(true);
    expect(visual(line)).toEqual([' גד', '12', 'אב ']);
  });

  test('digits of a right-to-left script go one at a time in reading order', () => {
    expect(visual(lay('اب ۱۲', 1000)[0])).toEqual(['۱', '۲', 'اب ']);
  });

  test('signs without direction in right-to-left text are turned round here', () => {
    const [line] = lay('א 漢 ( ג', 1000);
    const text = visual(line).join('');
    expect(text.indexOf('ג')).toBeLessThan(text.indexOf('漢'));
    expect(text).toContain(')');
  });

  test('each script gets a font that has it', () => {
    const fonts = (text: string) => lay(text, 1000)[0]?.pieces.map((piece) => piece.fontId.replace(/-\d+-400/, '')) ?? [];
    expect(fonts('Ωж')).toEqual(['dejavu-sans-latin-400-normal']);
    expect(fonts('अ')).toEqual(['hind-devanagari-400-normal']);
    expect(fonts('硬')).toEqual(['sawarabi-gothic-normal']);
    expect(fonts('한')).toEqual(['do-hyeon-normal']);
  });

  test('what no font has is drawn as its code', () => {
    expect(visual(lay('ก', 1000)[0])).toEqual(['[U+0E01]']);
  });
});
