import { describe, expect, test } from '@jest/globals';
import { likeNumber, normalNumber } from '#libs/strip';

describe('normalNumber', () => {
  test.each([
    ['h-00123', 'H123'],
    ['H 123', 'H123'],
    ['H/123', 'H123'],
    ['H\u2013123', 'H123'],
    ['H\u2212123', 'H123'],
    ['\u00a0H_123 ', 'H123'],
    ['\uff28\uff11\uff12\uff13', 'H123'],
    ['12345-001', '123451'],
    ['10-00', '100'],
    ['100', '100'],
    ['000', '0'],
    ['0A0', '0A0'],
    ['H-0-123', 'H123'],
    ['', ''],
  ])('%j is %j', (text, normal) => {
    expect(normalNumber(text)).toBe(normal);
  });
});

describe('likeNumber', () => {
  test.each([
    ['H-123', 'h123', 'written differently'],
    ['H 00123', 'H123', 'written differently'],
    ['4O7', '407', 'letters and digits that look alike'],
    ['A1B', 'AlB', 'letters and digits that look alike'],
    ['S8Z1', '5B2I', 'letters and digits that look alike'],
    ['O12', '012', 'letters and digits that look alike'],
    ['120-034', '120034', 'a hyphen, space or slash lost'],
    ['H1002', 'H102', 'a zero lost'],
    ['4100', '410', 'a zero lost'],
    ['H-0123', 'H-0-123', 'written differently'],
    ['H1243', 'H1234', 'two neighbouring digits swapped'],
    ['H-4711', 'H4771', 'one digit different'],
    ['H-0123', 'H124', 'one digit different'],
  ])('%j and %j: %s', (a, b, because) => {
    expect(likeNumber(a, b)).toEqual({ alike: true, because });
    expect(likeNumber(b, a)).toEqual({ alike: true, because });
  });

  test.each([
    ['H123', 'H123'],
    ['H123', 'H145'],
    ['H123', 'K123'],
    ['H123', 'H1234'],
    ['H1002', 'H12'],
    ['AB12', 'BA12'],
    ['H123', 'H321'],
    ['H1A2', 'H2A1'],
    ['', 'H123'],
    ['-', '/'],
    ['', ''],
  ])('%j and %j are not', (a, b) => {
    expect(likeNumber(a, b)).toEqual({ alike: false });
    expect(likeNumber(b, a)).toEqual({ alike: false });
  });
});
