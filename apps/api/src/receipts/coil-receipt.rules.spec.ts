import { describe, expect, test } from '@jest/globals';
import { decimal } from '#libs/exact';
import type { CoilReceiptInput } from './coil-receipt.dto.js';
import { isFarFromRecorded, receiptFindings, refuseContradiction, type ReceiptFigures } from './coil-receipt.rules.js';

const input = (changes: Partial<CoilReceiptInput> = {}): CoilReceiptInput =>
  ({ id: 'receipt', observedAt: '2026-02-18T09:00:00Z', coilId: 'coil', occasion: 'delivery', tagNumber: 'LM-02', condition: 'sound', place: 'Bay 2', ...changes });
const refused = (changes: Partial<CoilReceiptInput>): string | null => refuseContradiction(input(changes))?.field ?? null;

describe('a receipt that contradicts itself', () => {
  test.each<[string, Partial<CoilReceiptInput>, string | null]>([
    ['a delivery', {}, null],
    ['a delivery with a rest', { restLengthMm: 0 }, 'restLengthMm'],
    ['back from the line with what is left', { occasion: 'back-from-line', restLengthMm: 110_500 }, null],
    ['back from the line with nothing left', { occasion: 'back-from-line', restLengthMm: 0 }, null],
    ['back from the line without a length', { occasion: 'back-from-line', restLengthMm: null }, 'restLengthMm'],
    ['damaged, and how', { condition: 'damaged', damage: 'Edge dented.' }, null],
    ['damaged, without how', { condition: 'damaged' }, 'damage'],
    ['bore and outer diameter', { boreMm: '508', outerDiameterMm: '508.1' }, null],
    ['a bore alone', { boreMm: '508' }, 'outerDiameterMm'],
    ['an outer diameter alone', { outerDiameterMm: '1200' }, 'boreMm'],
    ['nothing between bore and outer diameter', { boreMm: '508', outerDiameterMm: '508.0' }, 'outerDiameterMm'],
    ['a bore wider than the coil, though not by its first digits', { boreMm: '1200', outerDiameterMm: '508' }, 'outerDiameterMm'],
  ])('%s', (_, changes, field) => {
    expect(refused(changes)).toBe(field);
  });

  test('says what would be taken', () => {
    expect(refuseContradiction(input({ condition: 'wet' }))).toEqual({ field: 'damage', value: null, limit: 'what is wrong, for a coil that is wet' });
    expect(refuseContradiction(input({ boreMm: '508', outerDiameterMm: '500' }))).toEqual({ field: 'outerDiameterMm', value: '500', limit: 'more than the 508 mm of the bore' });
  });
});

describe('a tag', () => {
  const findings = (changes: Partial<ReceiptFigures>): string[] => receiptFindings(
    { occasion: 'delivery', tagNumber: 'LM-02', tagHeatNumber: 'H40711', weighedMassKg: null, ...changes }, { number: 'LM-02', heatNumber: 'H40711', massKg: '3200' },
  ).map(({ tier, field, value, limit }) => `${tier} ${field} ${value}: ${limit}`);

  test('that names coil and heat, or no heat, is usual', () => {
    expect(findings({})).toEqual([]);
    expect(findings({ tagHeatNumber: null })).toEqual([]);
  });

  test.each([
    ['LM-O2', 'nearly the same (letters and digits that look alike)'], ['LM-2', 'nearly the same (written differently)'], ['LM-03', 'nearly the same (one digit different)'],
    ['D-71', 'this tag names another coil'],
  ])('%s is asked about: %s', (tagNumber, how) => {
    expect(findings({ tagNumber })).toEqual([`implausible tagNumber ${tagNumber}: usually LM-02, the number of the coil: ${how}`]);
  });

  test('of another heat is asked about', () => {
    expect(findings({ tagHeatNumber: 'H50118' })).toEqual(['implausible tagHeatNumber H50118: usually H40711, the number of the heat: this tag names another heat']);
  });

  test('with a mass within 1 % of the one on record is usual, ends included', () => {
    for (const weighedMassKg of ['3200', '3168', '3232']) expect(findings({ weighedMassKg })).toEqual([]);
    expect(findings({ weighedMassKg: '3167.9' })).toEqual(['implausible weighedMassKg 3167.9: usually within 1 % of the 3200 kg on record']);
    expect(findings({ weighedMassKg: '3232.1' })).toHaveLength(1);
  });

  test('with a slip in its mass names it', () => {
    expect(findings({ weighedMassKg: '320' })).toEqual([expect.stringContaining('it looks like decimal point one place too far left')]);
    expect(findings({ weighedMassKg: '9800' })).toEqual([expect.not.stringContaining('looks like')]);
  });

  test('of a rest is not weighed against the whole', () => {
    expect(findings({ occasion: 'back-from-line', weighedMassKg: '900' })).toEqual([]);
  });
});

describe('the mass of a coil', () => {
  test('is compared exactly, also where binary fractions would miss the end', () => {
    expect(isFarFromRecorded(decimal('5062.423'), decimal('5012.3'))).toBe(false);
    expect(isFarFromRecorded(decimal('5062.4231'), decimal('5012.3'))).toBe(true);
    expect(isFarFromRecorded(decimal('4962.177'), decimal('5012.3'))).toBe(false);
    expect(isFarFromRecorded(decimal('4962.1769'), decimal('5012.3'))).toBe(true);
  });
});
