import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { PaperLine, PrintedValue } from '#libs/strip';
import { seedFromEnvironment } from '../../../../test/setup/seed.js';
import { packedLines, unpackedLines } from './packed-lines.js';

const orNull = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(arbitrary, { nil: null });
const value: fc.Arbitrary<PrintedValue> = fc.record({
  characteristic: fc.constantFrom('C', 'Mn', 'ReH', 'KV2'), analysis: fc.constantFrom('heat', 'product', null), printed: fc.string({ maxLength: 8 }).filter((text) => !text.includes('\t')),
  unit: fc.constantFrom('%', 'ppm', 'MPa'), multiplier: fc.constantFrom('1', '100'), expandedU: orNull(fc.constantFrom('0.01', '8')),
  temperatureC: orNull(fc.constantFrom('-20', '0')), baseMm: orNull(fc.constantFrom('2000')),
  location: orNull(fc.constantFrom('head', '|', '"', ',null')), direction: orNull(fc.constantFrom('L', '|T')),
});
const lines: fc.Arbitrary<PaperLine[]> = fc.array(fc.record({ coilNumber: orNull(fc.string()), heatNumber: orNull(fc.string()), values: fc.array(value) }));

describe('packed lines', () => {
  test('are the lines again when unpacked, also after they were JSON', () => {
    fc.assert(
      fc.property(lines, (given) => {
        expect(unpackedLines(JSON.parse(JSON.stringify(packedLines(given))) as ReturnType<typeof packedLines>)).toEqual(given);
      }),
      seedFromEnvironment(),
    );
  });

  test('say once what a column has in common', () => {
    const carbon: PrintedValue = {
      characteristic: 'C', analysis: 'heat', printed: '0.085', unit: '%', multiplier: '1', expandedU: null, temperatureC: null, baseMm: null, location: null, direction: null,
    };
    const paper = ['LM-01', 'LM-02'].map((coilNumber) => ({ coilNumber, heatNumber: 'H1', values: [carbon] }));
    expect(packedLines(paper)).toMatchObject({ heads: [{ characteristic: 'C' }], shapes: [[0]], lines: [['LM-01', 'H1', 0, '0.085'], ['LM-02', 'H1', 0, '0.085']] });
  });

  test('refuse digits with a tab, which would part them', () => {
    const value = { characteristic: 'C', analysis: 'heat', printed: '0.0\t85', unit: '%', multiplier: '1', expandedU: null, temperatureC: null, baseMm: null, location: null, direction: null } as const;
    expect(() => packedLines([{ coilNumber: 'LM-01', heatNumber: 'H1', values: [value] }])).toThrow(new RangeError('printed digits hold a tab'));
  });
});
