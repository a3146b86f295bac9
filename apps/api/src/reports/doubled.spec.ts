import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { seedFromEnvironment } from '../../../../test/setup/seed.js';
import { doubled } from './doubled.js';

describe('twice a decimal', () => {
  test.each([['0.025', '0.050'], ['3', '6'], ['0', '0'], ['0.7', '1.4'], ['99.99', '199.98'], ['0.0005', '0.0010']])('%s is %s', (decimal, twice) => {
    expect(doubled(decimal)).toBe(twice);
  });

  test('keeps the number of decimals and is the sum of both', () => {
    const decimals = fc.tuple(fc.integer({ min: 0, max: 999_999_999 }), fc.integer({ min: 1, max: 9 }));
    fc.assert(
      fc.property(decimals, ([digits, places]) => {
        const text = String(digits).padStart(places + 1, '0');
        const twice = doubled(`${text.slice(0, -places)}.${text.slice(-places)}`);
        expect(twice.split('.')[1]).toHaveLength(places);
        expect(Number(twice.replace('.', ''))).toBe(2 * digits);
      }),
      seedFromEnvironment(),
    );
  });
});
