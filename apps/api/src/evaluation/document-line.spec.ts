import { describe, expect, test } from '@jest/globals';
import type { EvaluationLine, InspectionDocumentType, PaperLine } from '#libs/strip';
import { certificateRow, coilPaper, keying, paperLine } from './coil-knowledge.factory.js';
import { documentLine } from './document-line.js';

const papers = (...types: InspectionDocumentType[]): ReturnType<typeof coilPaper>[] => types.map((documentType, index) => coilPaper([paperLine()], { certificate: certificateRow({ id: `certificate ${index}`, number: `TS-${index}`, documentType }) }));

describe('the inspection document', () => {
  test.each<[InspectionDocumentType, InspectionDocumentType, string]>([
    ['3.1', '3.1', 'conforms'], ['3.1', '3.2', 'conforms'], ['3.1', '2.2', 'does-not-conform'], ['2.1', '2.1', 'conforms'], ['3.2', '3.1', 'does-not-conform'], ['2.2', '2.1', 'does-not-conform'],
  ])('asked for is type %s, there is type %s: %s', (documentType, type, verdict) => {
    expect(documentLine({ documentType }, papers(type), 'H40711')).toMatchObject({ requirement: null, verdict, printed: `type ${type}`, limits: `at least type ${documentType} of EN 10204` });
  });

  test('the best one counts, the first of equals, with its record', () => {
    expect(documentLine({ documentType: '3.1' }, papers('2.2', '3.1', '3.1'), 'H40711')).toMatchObject({
      verdict: 'conforms', reason: null, source: { label: 'certificate TS-1', record: { kind: 'certificate', id: 'certificate 1', version: 1 } },
    });
  });

  test('below what is asked for says so; none at all is not reported', () => {
    expect(documentLine({ documentType: '3.1' }, papers('2.2'), 'H40711')).toMatchObject({ reason: 'type 3.1 or better is asked for', rule: 'type 2.2 is not at least 3.1 (EN 10204:2004)' });
    expect(documentLine({ documentType: '2.1' }, [], 'H40711')).toMatchObject({ verdict: 'not-reported', printed: null, source: null, reason: 'the coil has no certificate' });
  });

  test('counts only where it names the coil, or its heat as a whole, in every keying', () => {
    const other = [paperLine({ coilNumber: 'LM-20' })];
    const line = (lines: PaperLine[][]): EvaluationLine => documentLine({ documentType: '3.1' }, [coilPaper([], { keyings: lines.map((one, index) => keying(one, { keying: index + 1 })) })], 'H40711');
    expect(line([[paperLine()], [paperLine()]])).toMatchObject({ verdict: 'conforms' });
    expect(line([[paperLine({ coilNumber: null })]])).toMatchObject({ verdict: 'conforms' });
    for (const lines of [[other], [[paperLine()], other]]) {
      expect(line(lines)).toMatchObject({ verdict: 'not-comparable', printed: 'type 3.1', reason: 'certificate TS-1 names neither the coil, as LM-02, nor its heat H40711 as a whole' });
    }
    expect(line([])).toMatchObject({ verdict: 'not-comparable', reason: 'certificate TS-1 was not keyed: whether it names the coil is not known' });
  });

  test('a lower one that names the coil counts before a better one that does not', () => {
    const silent = coilPaper([paperLine({ coilNumber: 'LM-20' })], { certificate: certificateRow({ documentType: '3.2' }) });
    expect(documentLine({ documentType: '3.1' }, [silent, ...papers('2.2')], 'H40711')).toMatchObject({ verdict: 'does-not-conform', printed: 'type 2.2' });
  });
});
