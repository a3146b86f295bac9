import { describe, expect, test } from '@jest/globals';
import type { PrintedValue } from '#libs/strip';
import { certificateRow, heatRow, keying, paperLine, printed } from './coil-knowledge.factory.js';
import type { NamingPaper } from './coil-knowledge.js';
import { heatAnalysisChecks } from './heat-analysis-checks.js';

/** A certificate about one coil of the heat with these values. */
function paper(number: string, values: Partial<PrintedValue>[], heatNumber = 'H40711'): NamingPaper {
  return { certificate: certificateRow({ number }), keying: keying([paperLine({ coilNumber: `coil of ${number}`, heatNumber, values: values.map(printed) })], { id: number }) };
}

const details = (...namingHeat: NamingPaper[]): string[] => heatAnalysisChecks({ heat: heatRow(), namingHeat }).map(({ detail }) => detail);
const agree = (one: Partial<PrintedValue>, other: Partial<PrintedValue>): boolean => {
  const there = details(paper('TS-1', [one]), paper('TS-2', [other]));
  expect(details(paper('TS-1', [other]), paper('TS-2', [one]))).toHaveLength(there.length);
  return there.length === 0;
};

describe('one heat, one analysis', () => {
  test.each<[string, string, boolean]>([
    ['0.085', '0.085', true], ['0.085', '0.0850', true],
    // To two decimals 0.085 is a tie: mills round it either way.
    ['0.085', '0.09', true], ['0.085', '0.08', true],
    ['0.0851', '0.09', true], ['0.0851', '0.08', false], ['0.0849', '0.08', true], ['0.0849', '0.09', false],
    ['0.085', '0.091', false], ['0.085', '0.086', false], ['0.085', '0.07', false], ['0.085', '0.1', true], ['0.085', '0.0', false], ['0.04', '0.0', true],
  ])('%s and %s agree to the digits of the coarser one: %s', (one, other, agrees) => {
    expect(agree({ printed: one }, { printed: other })).toBe(agrees);
  });

  test.each<[string, Partial<PrintedValue>, Partial<PrintedValue>, boolean]>([
    ['ppm and %', { printed: '45', unit: 'ppm' }, { printed: '0.0045' }, true],
    ['ppm and coarser %', { printed: '45', unit: 'ppm' }, { printed: '0.004' }, true],
    ['ppm and another %', { printed: '45', unit: 'ppm' }, { printed: '0.0046' }, false],
    ['a multiplier', { printed: '8.5', multiplier: '100' }, { printed: '0.085' }, true],
    ['a multiplier and other digits', { printed: '8.5', multiplier: '100' }, { printed: '0.086' }, false],
    // 9 × 0.01 has two decimals, so that 0.085 may have been rounded to it.
    ['a coarser one under a multiplier', { printed: '9', multiplier: '100' }, { printed: '0.085' }, true],
    ['a finer one under a multiplier', { printed: '9.0', multiplier: '100' }, { printed: '0.085' }, false],
  ])('%s', (_, one, other, agrees) => {
    expect(agree(one, other)).toBe(agrees);
  });

  test('two are told with both papers and both keyings', () => {
    const [check, ...others] = heatAnalysisChecks({ heat: heatRow(), namingHeat: [paper('TS-1', [{ printed: '0.085' }, { characteristic: 'Mn', printed: '1.21' }]), paper('TS-2', [{ printed: '9.1', multiplier: '100' }, { characteristic: 'Mn', printed: '1.2' }])] });
    expect(others).toEqual([]);
    expect(check).toEqual({
      severity: 'warning', check: 'heat analysis', detail: 'heat H40711 has two heat analyses: C 0.085 % on certificate TS-1, 9.1 % (printed ×100) on certificate TS-2',
      records: [{ kind: 'certificate-transcription', id: 'TS-1', version: 1 }, { kind: 'certificate-transcription', id: 'TS-2', version: 1 }],
    });
  });

  test('a coarse value that agrees with two others does not hide that these differ', () => {
    expect(details(paper('TS-1', [{ printed: '0.09' }]), paper('TS-2', [{ printed: '0.086' }]), paper('TS-3', [{ printed: '0.094' }])))
      .toEqual(['heat H40711 has two heat analyses: C 0.086 % on certificate TS-2, 0.094 % on certificate TS-3']);
  });

  test('two on one paper are told of that paper once', () => {
    const both = keying([paperLine(), paperLine({ coilNumber: 'LM-03', values: [printed({ printed: '0.091' })] })]);
    const [check] = heatAnalysisChecks({ heat: heatRow(), namingHeat: [{ certificate: certificateRow(), keying: both }] });
    expect(check?.records).toEqual([{ kind: 'certificate-transcription', id: 'keying', version: 1 }]);
  });

  test('product analyses, other heats, near heat numbers, bounds and what cannot be read are no other analysis', () => {
    expect(details(
      paper('TS-1', [{ printed: '0.085' }]), paper('TS-2', [{ printed: '0.099', analysis: 'product' }]), paper('TS-3', [{ printed: '0.099' }], 'H40712'),
      paper('TS-4', [{ printed: '0.099' }], 'H4O711'), paper('TS-5', [{ printed: '<0.05' }]), paper('TS-6', [{ printed: '0,099' }]),
      paper('TS-7', [{ characteristic: 'ReH', analysis: null, printed: '446', unit: 'MPa' }]), paper('TS-8', [{ printed: '0.0850' }], ' h40711'),
    )).toEqual([]);
  });

  test('a thousand lines that say the same, and one that does not', () => {
    const lines = Array.from({ length: 1000 }, (_, index) => paperLine({ coilNumber: `LM-${index}`, values: [printed({ printed: index === 999 ? '0.058' : '0.085' })] }));
    expect(details({ certificate: certificateRow(), keying: keying(lines) })).toHaveLength(1);
  });
});
