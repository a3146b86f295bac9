import { describe, expect, test } from '@jest/globals';
import { certificateRow, coilKnowledge, coilPaper, coilRow, documentRow, heatRow, keying, paperLine, printed } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import type { CrossCheck } from './cross-check.js';
import { keyingChecks, namingChecks, nearNumberChecks, usedTwiceChecks } from './paper-checks.js';

const detailsOf = (checks: readonly CrossCheck[]): string[] => checks.map(({ detail }) => detail);

describe('keyings', () => {
  const other = keying([paperLine({ values: [printed({ printed: '0.058' })] })], { id: 'second', keying: 2 });
  const details = (keyings: ReturnType<typeof keying>[]): string[] => detailsOf(keyingChecks({ papers: [coilPaper([], { keyings })] }));

  test('two that say the same are the one thing that is not told', () => {
    expect(keyingChecks({ papers: [coilPaper()] })).toEqual([]);
  });

  test('none, one, and two that differ', () => {
    expect(details([])).toEqual(['certificate TS-1 was not keyed']);
    expect(details([keying([paperLine()])])).toEqual(['certificate TS-1 was keyed once: nobody checked it']);
    expect(details([keying([paperLine()]), other])).toEqual(['the keyings of certificate TS-1 differ in one place: coil LM-02: C, heat analysis']);
    expect(details([keying([paperLine()], { orderNumber: 'PO-1' }), other])).toEqual(['the keyings of certificate TS-1 differ in 2 places, first: order number']);
  });

  test('a second keying of which the first was withdrawn is one', () => {
    expect(details([other])).toEqual(['certificate TS-1 was keyed once: nobody checked it']);
  });
});

describe('a paper', () => {
  const named = (lines: Parameters<typeof coilPaper>[0], changes: Partial<CoilKnowledge> = {}): string[] => detailsOf(namingChecks(coilKnowledge({ papers: [coilPaper(lines)], ...changes })));

  test('that names the coil with its heat, in whatever case, says nothing', () => {
    expect(named([paperLine()])).toEqual([]);
    expect(named([paperLine({ coilNumber: ' lm-02', heatNumber: 'h40711 ' }), paperLine({ coilNumber: 'LM-03', heatNumber: 'H40712' })])).toEqual([]);
    expect(named([paperLine({ heatNumber: null })])).toEqual([]);
  });

  test('that does not name it says what it names', () => {
    expect(named([paperLine({ coilNumber: 'D-71' }), paperLine({ coilNumber: 'D-72' })])).toEqual(['certificate TS-1 does not name coil LM-02: it names D-71, D-72']);
    expect(named(Array.from({ length: 8 }, (_, index) => paperLine({ coilNumber: `D-${index}` })))).toEqual(['certificate TS-1 does not name coil LM-02: it names D-0, D-1, D-2, D-3, D-4, D-5 and more']);
    expect(named([paperLine({ coilNumber: null, heatNumber: 'H50118' })])).toEqual(['certificate TS-1 does not name coil LM-02: it names no coil']);
    expect(named([paperLine({ coilNumber: null }), paperLine({ coilNumber: 'D-71' })])).toEqual(['certificate TS-1 does not name coil LM-02: it names D-71']);
  });

  test('of its heat as a whole, which names no coil, is a note', () => {
    expect(namingChecks(coilKnowledge({ papers: [coilPaper([paperLine({ coilNumber: null }), paperLine({ coilNumber: null, heatNumber: 'H50118' })])] })))
      .toMatchObject([{ severity: 'note', check: 'names the coil', detail: 'certificate TS-1 names heat H40711 as a whole, and no coil' }]);
  });

  test.each([
    ['LM-02', 'LM-O2', 'letters and digits that look alike'], ['LM-01', 'LM-0I', 'letters and digits that look alike'], ['LM-15', 'LM-1S', 'letters and digits that look alike'],
    ['LM-18', 'LM-1B', 'letters and digits that look alike'], ['LM-02', 'LM-0Z', 'letters and digits that look alike'], ['LM-1002', 'LM-102', 'a zero lost'],
    ['LM-02', 'LM2', 'written differently'], ['12-034', '12034', 'a hyphen, space or slash lost'], ['LM-12', 'LM-21', 'two neighbouring digits swapped'], ['LM-12', 'LM-13', 'one digit different'],
  ])('that names %s as %s is told as near, and is not taken', (number, read, because) => {
    const knowledge = { coil: coilRow({ number }), papers: [coilPaper([paperLine({ coilNumber: read })], { namedAs: number })], delivered: [coilRow({ number })] };
    expect(detailsOf(namingChecks(coilKnowledge(knowledge)))).toEqual([`certificate TS-1 does not name coil ${number}: it names ${read}, nearly the same (${because})`]);
  });

  test('that names neighbours on record is not near: they are those coils', () => {
    const lines = [paperLine({ coilNumber: 'LM-01' }), paperLine({ coilNumber: 'LM-03' })];
    const delivered = [coilRow(), coilRow({ id: 'a', number: 'LM-01' }), coilRow({ id: 'b', number: 'lm-03' })];
    expect(named(lines, { delivered })).toEqual(['certificate TS-1 does not name coil LM-02: it names LM-01, LM-03']);
  });

  test('with several near numbers tells the one that is read for it, not the next in sequence', () => {
    expect(named([paperLine({ coilNumber: 'LM-03' }), paperLine({ coilNumber: 'LM-O2' })])).toEqual(['certificate TS-1 does not name coil LM-02: it names LM-O2, nearly the same (letters and digits that look alike)']);
  });

  test('names it as its link says', () => {
    const mill = coilPaper([paperLine({ coilNumber: 'M-5117' })], { role: 'mill', namedAs: 'M-5117' });
    expect(detailsOf(namingChecks(coilKnowledge({ papers: [mill] })))).toEqual([]);
    const other = coilPaper([paperLine()], { role: 'mill', namedAs: 'M-5117' });
    expect(detailsOf(namingChecks(coilKnowledge({ papers: [other] })))).toEqual(['certificate TS-1 does not name coil LM-02 as M-5117: it names LM-02']);
  });

  test.each([
    ['H4O711', 'nearly the same (letters and digits that look alike)'], ['H4071', 'another heat'], ['H-40711', 'nearly the same (written differently)'], ['H50118', 'another heat'],
  ])('that gives it heat %s says %s', (heatNumber, how) => {
    expect(named([paperLine({ heatNumber })])).toEqual([`certificate TS-1, line 1, gives LM-02 heat ${heatNumber}; on record is H40711: ${how}`]);
  });

  test('that was not keyed names nothing that could be told', () => {
    expect(detailsOf(namingChecks(coilKnowledge({ papers: [coilPaper([], { keyings: [] })] })))).toEqual([]);
  });
});

describe('near numbers', () => {
  const near = (likeCoils: string[], likeHeats: string[] = []): string[] => detailsOf(nearNumberChecks({ coil: coilRow({ number: 'LM-102' }), heat: heatRow({ number: 'H50118' }), likeCoils, likeHeats }));

  test.each([
    ['LM-1O2', 'letters and digits that look alike'], ['LM-I02', 'letters and digits that look alike'], ['LM-10Z', 'letters and digits that look alike'],
    ['LM-12', 'a zero lost'], ['LM-1002', 'a zero lost'], ['LM102', 'written differently'],
  ])('coil %s is told: %s', (number, because) => {
    expect(near([number])).toEqual([`there is a coil ${number} too, easily taken for LM-102 (${because})`]);
  });

  test.each([['HS0118', 'letters and digits that look alike'], ['H5011B', 'letters and digits that look alike'], ['H5118', 'a zero lost']])('heat %s is told: %s', (number, because) => {
    expect(near([], [number])).toEqual([`there is a heat ${number} too, easily taken for H50118 (${because})`]);
  });

  test('numbers in sequence and other numbers are not', () => {
    expect(near(['LM-012', 'LM-021', 'LM-103', 'LM-112', 'LM-202', 'LM-120', 'LM-102', 'XX-7'], ['H50119', 'H50181', 'H60118'])).toEqual([]);
  });

  test('of a sequence that fills up with zeros are not, unless they are written without them', () => {
    const of = (number: string, likeCoils: string[]): string[] => detailsOf(nearNumberChecks({ coil: coilRow({ number }), heat: heatRow(), likeCoils, likeHeats: [] }));
    expect(of('LM-02', ['LM-20', 'LM-12', 'LM-01'])).toEqual([]);
    expect(of('LM-02', ['LM-2', 'LM-0O2', 'LM-200'])).toHaveLength(2);
  });

  test('they are notes', () => {
    expect(nearNumberChecks(coilKnowledge({ likeCoils: ['LM-O2'] }))).toMatchObject([{ severity: 'note', check: 'near number' }]);
  });
});

describe('used twice', () => {
  const elsewhere = (coilNumber: string | null): CoilKnowledge['namingCoil'] => [{ certificate: certificateRow({ id: 'other', number: 'TS-9' }), keying: keying([paperLine({ coilNumber })]) }];

  test('one file for two certificates is told with its document', () => {
    expect(usedTwiceChecks(coilKnowledge({ sameFiles: [documentRow()] }))).toEqual([
      { severity: 'warning', check: 'used twice', detail: 'the file TS-1.pdf is attached to another certificate too', records: [{ kind: 'document', id: 'document', version: 1 }] },
    ]);
  });

  test('a certificate that is not linked names the coil, told once however many keyings do', () => {
    const [paper] = elsewhere('lm-02');
    expect(detailsOf(usedTwiceChecks(coilKnowledge({ namingCoil: [paper!, { ...paper!, keying: keying([paperLine()], { keying: 2 }) }] })))).toEqual(['certificate TS-9 names coil LM-02 too, and is not linked to it']);
  });

  test('its own certificate naming it is no other', () => {
    expect(usedTwiceChecks(coilKnowledge({ namingCoil: [{ certificate: certificateRow(), keying: keying([paperLine()]) }] }))).toEqual([]);
  });

  test('a number of the same normal form is told as it is printed, and not taken for the coil', () => {
    expect(usedTwiceChecks(coilKnowledge({ namingCoil: elsewhere('LM2') }))).toMatchObject([
      { severity: 'note', check: 'near number', detail: 'certificate TS-9, which is not linked to coil LM-02, names LM2: the same number or another one, written differently' },
    ]);
    expect(usedTwiceChecks(coilKnowledge({ coil: coilRow({ number: '12-03' }), namingCoil: elsewhere('123') }))).toMatchObject([{ severity: 'note' }]);
  });
});
