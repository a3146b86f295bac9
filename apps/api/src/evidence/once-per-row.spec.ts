import { expect, test } from '@jest/globals';
import type { EvidenceGround } from './evidence-ground.js';
import { oncePerRow } from './once-per-row.js';

const ground = (lasting: object | null): EvidenceGround => ({ now: lasting === null ? null : { lasting, stamps: {} } }) as EvidenceGround;

test('of a row on the same pipe of now each thing is made once; on other pipe, of another row and of an earlier instant it is made anew', () => {
  let made = 0;
  const make = oncePerRow(() => (made += 1));
  const [row, pipe, before] = [{}, {}, ground(null)];
  expect([make(row, ground(pipe), 0), make(row, ground(pipe), 0), make(row, ground(pipe), 1), make({}, ground(pipe), 0), make(row, ground({}), 0)]).toEqual([1, 1, 2, 3, 4]);
  expect([make(row, before, 0), make(row, before, 0), make(row, ground(pipe), 0)]).toEqual([5, 6, 1]);
});
