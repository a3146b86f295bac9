import { describe, expect, test } from '@jest/globals';
import type { PaperLine } from '#libs/strip';
import { paperLine, printed, requirement, specificationRow } from '../evaluation/coil-knowledge.factory.js';
import type { ReadCertificate } from './certificate-csv.js';
import { PaperVerdicts, type Basis } from './paper-verdicts.js';

const strength = printed({ characteristic: 'ReH', analysis: null, printed: '446', unit: 'MPa' });
const carbonAndStrength = [requirement(), requirement({ characteristic: 'ReH', analysis: null, min: '420', max: null, unit: 'MPa' })];
const basis = (changes: Partial<Basis['specification']> = {}, ordered: Basis['ordered'] = null): Basis => ({ specification: specificationRow({ requirements: [requirement()], ...changes }), ordered });

/** A certificate whose lines stand on the lines 2, 3, … of its file. */
function certificate(lines: readonly PaperLine[], documentType = '3.1'): ReadCertificate {
  const source = { label: 'the file', record: null };
  const read = lines.map((line) => ({ ...line, values: line.values.map((value) => ({ ...value, source, doubt: null })) }));
  const paper = { number: 'TS-1', issuer: 'Tarnwick Steelworks', documentType, issuedOn: '2026-01-22', orderNumber: null, specification: null, lines: read };
  return { paper, firstLine: 2, lastLine: lines.length + 1, lineNumbers: lines.map((_, index) => index + 2), questions: [], questionsLeftOut: 0 };
}

const carbon = (digits: string): PaperLine => paperLine({ coilNumber: `coil of ${digits}`, values: [printed({ printed: digits })] });

function judged(lines: readonly PaperLine[], held: Basis | null = basis(), documentType = '3.1'): PaperVerdicts {
  const verdicts = new PaperVerdicts();
  verdicts.add(certificate(lines, documentType), held);
  return verdicts;
}

describe('the lines of a file', () => {
  test('are counted by the verdict of their worst value, and what does not conform is listed with its line', () => {
    const { counts, notConforming, notConformingCount } = judged([carbon('0.085'), carbon('0.13'), carbon('0,085'), paperLine({ coilNumber: 'LM-05', values: [] })]);
    expect(counts).toEqual({ conforms: 1, 'inside-guard-band': 0, 'not-comparable': 1, 'not-reported': 1, 'does-not-conform': 1, 'not-evaluated': 0 });
    expect(notConforming.map(({ line, certificate: of, coil, name, printed: digits, verdict }) => [line, of, coil, name, digits, verdict])).toEqual([
      [3, 'TS-1', 'coil of 0.13', 'C, heat analysis', '0.13 %', 'does-not-conform'], [4, 'TS-1', 'coil of 0,085', 'C, heat analysis', '0,085 %', 'not-comparable'], [5, 'TS-1', 'LM-05', 'C, heat analysis', null, 'not-reported'],
    ]);
    expect(notConformingCount).toBe(3);
  });

  test('inside the guard band are counted so', () => {
    expect(judged([carbon('0.118')], basis({ decision: 'guarded-acceptance', requirements: [requirement({ expandedU: '0.005', toDecimals: 3 })] })).counts).toMatchObject({ 'inside-guard-band': 1 });
  });

  test('without a specification are not evaluated', () => {
    const { counts, notConformingCount } = judged([carbon('0.13'), carbon('0.085')], null);
    expect(counts).toMatchObject({ conforms: 0, 'does-not-conform': 0, 'not-evaluated': 2 });
    expect(notConformingCount).toBe(0);
  });

  test('of a document of too low a type do not conform, which is told once', () => {
    const { counts, notConforming } = judged([carbon('0.085'), carbon('0.085')], basis(), '2.2');
    expect(counts).toMatchObject({ conforms: 0, 'does-not-conform': 2 });
    expect(notConforming).toEqual([{
      line: 2, certificate: 'TS-1', coil: null, name: 'inspection document', limits: 'at least type 3.1 of EN 10204', printed: 'type 2.2', verdict: 'does-not-conform', reason: 'type 3.1 or better is asked for',
    }]);
    expect(judged([carbon('0.085')], basis(), '3.2').counts).toMatchObject({ conforms: 1 });
  });

  test('are listed to two hundred, and counted beyond', () => {
    const verdicts = judged(Array.from({ length: 250 }, () => carbon('0.13')));
    expect([verdicts.notConforming.length, verdicts.notConformingCount, verdicts.counts['does-not-conform']]).toEqual([200, 250, 250]);
  });
});

describe('a coil whose heat has a line of its own', () => {
  const ofHeat = (heatNumber: string, digits = '0.085'): PaperLine => paperLine({ coilNumber: null, heatNumber, values: [printed({ printed: digits })] });
  const ofCoil = paperLine({ values: [strength] });
  const counts = (...lines: PaperLine[]): PaperVerdicts['counts'] => judged(lines, basis({ requirements: carbonAndStrength })).counts;

  test('has the analysis of its heat, and not that of another', () => {
    expect(counts(ofCoil)).toMatchObject({ conforms: 0, 'not-reported': 1 });
    expect(counts(ofHeat('h40711'), ofCoil)).toMatchObject({ conforms: 1, 'not-reported': 1 });
    expect(counts(ofCoil, ofHeat('H40712'))).toMatchObject({ conforms: 0, 'not-reported': 2 });
    expect(counts(ofCoil, ofHeat('H40711', '0.13'))).toMatchObject({ 'does-not-conform': 2 });
  });
});

describe('papers held against several bases', () => {
  test('are held each against its own, by revision, version and ordered size', () => {
    const verdicts = new PaperVerdicts();
    const thickness = requirement({ characteristic: 'thickness', analysis: null, min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation' });
    const line = paperLine({ values: [printed({ characteristic: 'thickness', analysis: null, printed: '5.02', unit: 'mm' })] });
    const held = (thicknessMm: string, changes: Partial<Basis['specification']> = {}): void => { verdicts.add(certificate([line]), basis({ requirements: [thickness], ...changes }, { thicknessMm, widthMm: '383.0' })); };
    held('5.00');
    held('6.00');
    held('5.00');
    expect(verdicts.counts).toMatchObject({ conforms: 2, 'does-not-conform': 1 });
    held('5.00', { version: 2, requirements: [{ ...thickness, max: '0.01' }] });
    expect(verdicts.counts).toMatchObject({ conforms: 2, 'does-not-conform': 2 });
  });
});
