import { describe, expect, test } from '@jest/globals';
import { parseReading, type Reading } from '#libs/conformity';
import { decimal } from '#libs/exact';

const reading = (printed: string, overrides: Partial<Reading> = {}): Reading => ({
  printed, unit: '%', multiplier: '1', expandedU: null, ...overrides,
});

describe('parseReading', () => {
  test('a plain value has the same low and high, and its digits', () => {
    const value = decimal('0.085');
    expect(parseReading(reading('0.0850'))).toEqual({ low: value, high: value, lowOpen: false, highOpen: false, decimals: 4 });
    expect(parseReading(reading('-3.2'))).toMatchObject({ low: decimal('-3.2'), decimals: 1 });
  });

  test.each([
    ['<0.001', null, '0.001', false, true],
    ['< 0.001', null, '0.001', false, true],
    ['<=0.001', null, '0.001', false, false],
    ['≤ 0.001', null, '0.001', false, false],
    ['>100', '100', null, true, false],
    ['>=100', '100', null, false, false],
    ['≥100', '100', null, false, false],
    ['< -0.5', null, '-0.5', false, true],
  ])('%j is everything on one side', (printed, low, high, lowOpen, highOpen) => {
    const end = (text: string | null) => text && decimal(text);
    expect(parseReading(reading(printed))).toMatchObject({ low: end(low), high: end(high), lowOpen, highOpen });
  });

  test('the multiplier of a column is taken out, and the place moves with it', () => {
    expect(parseReading(reading('8.5', { multiplier: '100' }))).toMatchObject({ low: decimal('0.085'), decimals: 3 });
    expect(parseReading(reading('<1', { multiplier: '1000' }))).toMatchObject({ low: null, high: decimal('0.001'), decimals: 3 });
    expect(parseReading(reading('485', { multiplier: '0.1' }))).toMatchObject({ low: decimal('4850'), decimals: -1 });
    expect(parseReading(reading('1.5', { multiplier: '2' }))).toMatchObject({ low: decimal('0.75'), decimals: 2 });
  });

  test.each([
    ['', 'nothing is printed'],
    ['  ', 'nothing is printed'],
    ['0,085', '"0,085" has a comma, which may part decimals or thousands: only a decimal point is read'],
    ['1,234.5', '"1,234.5" has a comma, which may part decimals or thousands: only a decimal point is read'],
    ['0.0 85', '"0.0 85" has a blank where none belongs'],
    [' 0.085', '" 0.085" has a blank where none belongs'],
    ['<  0.1', '"<  0.1" has a blank where none belongs'],
    ['traces', '"traces" is not a number'],
    ['.5', '".5" is not a number'],
    ['1e3', '"1e3" is not a number'],
    ['=<0.1', '"=<0.1" is not a number'],
    ['<', '"<" is not a number'],
    ['NaN', '"NaN" is not a number'],
    ['٠.٥', '"٠.٥" is not a number'],
    ['9'.repeat(41), `"${'9'.repeat(40)}…" is longer than 40 characters`],
  ])('%j is not guessed at', (printed, fault) => {
    expect(parseReading(reading(printed))).toEqual({ fault });
  });

  test('forty digits are still read', () => {
    const digits = '9'.repeat(40);
    expect(parseReading(reading(digits))).toMatchObject({ low: decimal(digits) });
  });

  test.each(['0', '-1', '', 'x100', '1,000'])('a multiplier of %j is a fault', (multiplier) => {
    expect(parseReading(reading('1', { multiplier }))).toEqual({ fault: `the multiplier "${multiplier}" is not a number above 0` });
  });

  test.each(['-0.01', '0,1', '', '5 %'])('an uncertainty of %j is a fault', (expandedU) => {
    expect(parseReading(reading('1', { expandedU }))).toEqual({ fault: `the uncertainty "${expandedU}" is not a number of 0 or more` });
  });
});
