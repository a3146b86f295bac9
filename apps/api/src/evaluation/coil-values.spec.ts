import { describe, expect, test } from '@jest/globals';
import type { PaperLine, PrintedValue, SourcedValue } from '#libs/strip';
import { certificateRow, checkRow, coilKnowledge, coilPaper, keying, paperLine, printed } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { coilValues, linesAbout, sameNumber } from './coil-values.js';

const of = (changes: Partial<CoilKnowledge>): SourcedValue[] => coilValues(coilKnowledge(changes));
/** The values of a paper keyed with each of these lines. */
const keyed = (...keyings: PaperLine[][]): SourcedValue[] => of({ papers: [coilPaper([], { keyings: keyings.map((lines, index) => keying(lines, { id: `keying ${index + 1}`, keying: index + 1 })) })] });
const said = (values: readonly SourcedValue[]): unknown[] => values.map(({ characteristic, printed: digits, doubt }) => [characteristic, digits, doubt]);
const manganese = printed({ characteristic: 'Mn', printed: '1.21' });

describe('numbers', () => {
  test('are the same in another case and with blanks about them, and in no other way', () => {
    expect(sameNumber(' lm-02 ', 'LM-02')).toBe(true);
    for (const near of ['LM-O2', 'LM02', 'LM-2', 'LM 02', 'LM-02A', '']) expect(sameNumber(near, 'LM-02')).toBe(false);
  });

  test('choose the lines about the coil and its heat as a whole', () => {
    const lines = [
      paperLine({ coilNumber: 'LM-01' }), paperLine({ coilNumber: 'lm-02' }), paperLine({ coilNumber: null }), paperLine({ coilNumber: null, heatNumber: 'H40712' }),
      paperLine({ coilNumber: 'LM-O2' }), paperLine({ coilNumber: 'LM-02', heatNumber: null }), { coilNumber: null, heatNumber: null, values: [] },
    ];
    expect(linesAbout(lines, 'LM-02', 'H40711').map(({ index }) => index)).toEqual([1, 2, 5]);
  });
});

describe('values', () => {
  test('come from papers in their order, then from the checks of this coil, each with its source', () => {
    const values = of({
      papers: [coilPaper([paperLine({ coilNumber: 'LM-01' }), paperLine()]), coilPaper([paperLine({ coilNumber: 'M-5117', values: [manganese] })], { role: 'mill', namedAs: 'M-5117', certificate: certificateRow({ number: 'TS-9', documentType: '3.2' }) })],
      checks: [checkRow({ readings: [{ printed: '5.02', along: 'head', across: 'far-edge', fromEdgeMm: '25' }, { printed: '4.99', along: 'tail', across: null, fromEdgeMm: null }] }), checkRow({ coilId: 'other' })],
    });
    expect(values.map(({ printed: digits, source }) => [digits, source.label, source.record?.kind])).toEqual([
      ['0.085', 'certificate TS-1 (3.1), line 2', 'certificate-transcription'], ['1.21', 'certificate TS-9 (3.2), line 1', 'certificate-transcription'],
      ['5.02', 'incoming check, head, far edge, 25 mm from the edge, MI-07', 'incoming-check'], ['4.99', 'incoming check, tail, MI-07', 'incoming-check'],
    ]);
  });

  test('of its heat as a whole belong to it, of another coil or a near number they do not', () => {
    const lines = [paperLine({ coilNumber: null, values: [manganese] }), paperLine({ coilNumber: 'LM-O2' }), paperLine({ coilNumber: null, heatNumber: 'H4O711' })];
    expect(said(keyed(lines))).toEqual([['Mn', '1.21', null]]);
  });

  test('said again on another line are kept each', () => {
    const lines = [paperLine(), paperLine({ values: [printed({ printed: '0.091' })] })];
    expect(said(keyed(lines, lines))).toEqual([['C', '0.085', null], ['C', '0.091', null]]);
  });

  test('of a line that gives the coil another heat are in doubt, in any keying', () => {
    const [right, wrong] = [paperLine(), paperLine({ heatNumber: 'H40117' })];
    const doubt = 'its line gives heat H40117; on record is H40711';
    for (const keyings of [[[wrong]], [[right], [wrong]], [[wrong], [right]], [[wrong], [wrong]]]) expect(said(keyed(...keyings))).toEqual([['C', '0.085', doubt]]);
  });

  test('of a paper that was not keyed are none', () => {
    expect(keyed()).toEqual([]);
  });
});

describe('a paper keyed twice', () => {
  test('that agrees in all but one value leaves the others without doubt', () => {
    expect(said(keyed([paperLine({ values: [printed(), manganese] })], [paperLine({ values: [printed({ printed: '0.058' }), manganese] })])))
      .toEqual([['C', '0.085', 'the two keyings differ: 0.085 % against 0.058 %'], ['Mn', '1.21', null]]);
  });

  test.each<[string, Partial<PrintedValue>, string | null]>([
    ['0.10 and 0.1', { printed: '0.0850' }, 'the two keyings differ: 0.085 % against 0.0850 %'],
    ['another unit', { unit: 'ppm' }, 'the two keyings differ: 0.085 % against 0.085 ppm'],
    ['another multiplier', { multiplier: '100' }, 'the two keyings differ: 0.085 % against 0.085 % (printed ×100)'],
    ['another uncertainty', { expandedU: '0.005' }, 'the two keyings differ: 0.085 % against 0.085 %, U 0.005'],
    ['the same multiplier, written with its decimals', { multiplier: '1.0' }, null],
  ])('%s', (_, second, doubt) => {
    expect(keyed([paperLine()], [paperLine({ values: [printed(second)] })]).map((value) => value.doubt)).toEqual([doubt]);
  });

  test('by one of whom a value was left out, whichever it was', () => {
    const more = [paperLine({ values: [printed(), manganese] })];
    const expected = [['C', '0.085', null], ['Mn', '1.21', 'only one of the two keyings has this value']];
    expect(said(keyed(more, [paperLine()]))).toEqual(expected);
    expect(said(keyed([paperLine()], more))).toEqual(expected);
  });

  test('by one of whom the coil was named differently has no value without doubt', () => {
    expect(said(keyed([paperLine()], [paperLine({ coilNumber: 'LM-O2' })]))).toEqual([['C', '0.085', 'only one of the two keyings has this value']]);
  });

  test('in another order of lines and values says the same', () => {
    const first = [paperLine({ coilNumber: 'LM-01' }), paperLine({ values: [printed(), manganese] })];
    expect(said(keyed(first, [paperLine({ values: [manganese, printed()] }), paperLine({ coilNumber: 'LM-01' })]))).toEqual([['C', '0.085', null], ['Mn', '1.21', null]]);
  });

  test('a value of the heat as a whole and one of the coil are different values', () => {
    const [ofHeat, ofCoil] = [paperLine({ coilNumber: null }), paperLine()];
    expect(keyed([ofHeat], [ofCoil]).map(({ doubt }) => doubt)).toEqual(Array(2).fill('only one of the two keyings has this value'));
  });

  test('of which the first was withdrawn is the second, without doubt: nobody checked it', () => {
    const papers = [coilPaper([], { keyings: [keying([paperLine()], { id: 'second', keying: 2, version: 3 })] })];
    expect(of({ papers })).toMatchObject([{ printed: '0.085', doubt: null, source: { record: { id: 'second', version: 3 } } }]);
  });

  test('with a thousand lines about one coil pairs them all', () => {
    const lines = Array.from({ length: 1000 }, (_, index) => paperLine({ values: [printed({ printed: `0.0${index}` })] }));
    const values = keyed(lines, lines);
    expect(values).toHaveLength(1000);
    expect(values.every(({ doubt }) => doubt === null)).toBe(true);
    expect(values.at(-1)).toMatchObject({ printed: '0.0999', source: { label: 'certificate TS-1 (3.1), line 1000' } });
  });
});
