import { describe, expect, test } from '@jest/globals';
import { asciiDescription, asciiText } from '#libs/las';

describe('text for a format of ASCII alone', () => {
  test.each([
    ['Wall, 5.98 mm', 'Wall, 5.98 mm'], ['Łódź Größe Ærø', 'Lodz Grosse AEro'], ['45° ± 2 µm', '45deg +/- 2 um'], ['a\r\n b\tc', 'a b c'], ['κ × λ', 'kappa x lambda'],
    ['测量', '??'], ['x²', 'x2'], ['', ''], ['~A # :', '~A # :'],
  ])('%j becomes %j', (text, expected) => {
    expect(asciiText(text)).toBe(expected);
  });

  test('a description loses its colons, which would end the value', () => {
    expect(asciiDescription('UT: A-scan, 12:30')).toBe('UT; A-scan, 12;30');
  });
});
