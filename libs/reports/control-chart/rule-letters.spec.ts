import { describe, expect, test } from '@jest/globals';
import { RUN_RULES } from '#libs/spc';
import { letterWords, numbersInWords, RULE_LETTERS, SIGNAL_RULES, signalName } from './rule-letters.js';

describe('letters of rules', () => {
  test('every rule has one of its own', () => {
    expect([...SIGNAL_RULES].sort()).toEqual([...Object.keys(RUN_RULES), 'beyondLimit'].sort());
    const letters = Object.values(RULE_LETTERS);
    expect(new Set(letters).size).toBe(letters.length);
    for (const letter of letters) expect(letter).toMatch(/^[A-Z]$/);
  });

  test('are told with what they mean, each once', () => {
    const signals = (['beyondLimit', 'eightOnOneSide', 'beyondLimit'] as const).map((rule, index) => ({ number: index + 1, rule, text: 'x' }));
    expect(letterWords(signals)).toBe('E: 8 points in a row on one side of the centre line. M: a point beyond a control limit.');
    expect(letterWords([])).toBe('');
    expect(signals.map(signalName)).toEqual(['M1', 'E2', 'M3']);
  });

  test('numbers in a row of one letter are drawn together', () => {
    expect(numbersInWords([1, 2, 3, 4, 7, 9], (number) => (number === 4 ? 'E' : 'A'))).toBe('A1–3, E4, A7, A9');
    expect(numbersInWords([], () => 'A')).toBe('');
  });
});
