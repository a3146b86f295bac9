import { describe, expect, test } from '@jest/globals';
import { formatInstant, formatInterval, formatMetres, formatMetresShort, formatUncertainty } from './instants-and-lengths.js';

describe('lengths in writing', () => {
  test.each([
    [0, '0.000', '0'],
    [1, '0.001', '0.001'],
    [1_204_310, '1,204.310', '1,204.31'],
    [1_000_000_000, '1,000,000.000', '1,000,000'],
    [-1_500, '−1.500', '−1.5'],
    [100_000, '100.000', '100'],
  ])('%d mm', (lengthMm, full, short) => {
    expect(formatMetres(lengthMm)).toBe(full);
    expect(formatMetresShort(lengthMm)).toBe(short);
  });

  test('an interval writes both ends, an uncertainty its coverage factor', () => {
    expect(formatInterval({ fromMm: 1_204_310, toMm: 1_204_870 })).toBe('1,204.310 to 1,204.870 m');
    expect(formatUncertainty(12_000)).toBe('± 12.000 m (k = 2)');
    expect(formatUncertainty(null)).toBe('± not stated');
  });

  test('an instant keeps every digit, but no fraction of zero', () => {
    expect(formatInstant('2031-04-02T10:11:10.000000Z')).toBe('2031-04-02 10:11:10 UTC');
    expect(formatInstant('2031-04-02T10:11:12.123456Z')).toBe('2031-04-02 10:11:12.123456 UTC');
  });
});
