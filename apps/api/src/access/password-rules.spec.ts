import { describe, expect, test } from '@jest/globals';
import { passwordFault } from './password-rules.js';

const owner = { name: 'Ilka Brandt', signInName: 'ilka' };

describe('passwordFault', () => {
  test.each(['coil nine stayed dry', 'zwölf Körbe Blech!', 'x7#mQ2vL9pR4tW8', 'a'.repeat(64) + 'b'.repeat(64)])('takes %j', (password) => {
    expect(passwordFault(password, owner)).toBeNull();
  });

  test.each([
    ['short', '15 to 128 characters'],
    ['x7#mQ2vL9pR4tW', '15 to 128 characters'],
    ['ab'.repeat(60) + 'cdefghijk', '15 to 128 characters'],
    ['correct horse battery staple', 'not one of the passwords that are guessed first'],
    ['1234-5678-9012-345', 'not one of the passwords that are guessed first'],
    ['aaaaaaaaaaaaaaaaaaaa', 'not one of the passwords that are guessed first'],
    ['pipepipepipepipe', 'not one of the passwords that are guessed first'],
    ['the rose of Ilka Brandt', 'without the name of its owner'],
    ['my name is ILKA, truly', 'without the name of its owner'],
  ])('refuses %j: %s', (password, fault) => {
    expect(passwordFault(password, owner)).toBe(fault);
  });

  test('refuses what is no well-formed text', () => {
    expect(passwordFault(42, owner)).toBe('text');
    expect(passwordFault('fifteen and more \ud800', owner)).toBe('text');
  });

  test('counts characters, not UTF-16 units', () => {
    expect(passwordFault('🛢🔩🧲🪛📏🧪🔥', owner)).toBe('15 to 128 characters');
  });
});
