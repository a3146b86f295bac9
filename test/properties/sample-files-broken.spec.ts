import { describe, expect, jest, test } from '@jest/globals';
import { decodePart, PartError } from '#libs/sample-files';
import { bitsOf } from '#libs/signals';
import { brokenParts, type BrokenPart } from '../setup/sample-files.campaign.js';
import { seedFromEnvironment } from '../setup/seed.js';

jest.setTimeout(120_000);

const SEED = seedFromEnvironment().seed ?? 11;

/** What came of a broken part, in a word: its code, "the same", or what must not be. */
function outcomeOf({ bytes, shape, orAs }: BrokenPart): string {
  try {
    const part = decodePart(bytes(), shape);
    return orAs !== null && isSame(part, decodePart(orAs(), shape)) ? 'the same' : 'taken as something else';
  } catch (error) {
    return error instanceof PartError ? error.code : `threw ${String(error)}`;
  }
}

type Decoded = ReturnType<typeof decodePart>;
const isSame = (a: Decoded, b: Decoded): boolean =>
  Buffer.compare(bytesOf(a), bytesOf(b)) === 0;
const bytesOf = ({ positions, columns }: Decoded): Buffer => Buffer.concat(
  [positions, ...columns.flatMap(({ values, statuses }) => [bitsOf(values), statuses])].map(({ buffer, byteOffset, byteLength }) => Buffer.from(buffer, byteOffset, byteLength)));

describe('broken parts', () => {
  test('are refused by a PartError with the right code, each of them', async () => {
    const parts = await brokenParts(SEED);
    const outcomes = parts.map((part) => ({ part, outcome: outcomeOf(part) }));
    const wrong = outcomes.filter(({ part, outcome }) => !(part.codes as readonly string[]).includes(outcome) && !(outcome === 'the same' && part.orAs !== null));
    expect(wrong.map(({ part, outcome }) => `${part.name} → ${outcome}`)).toEqual([]);
    const refusals = outcomes.filter(({ outcome }) => outcome !== 'the same').length;
    expect(refusals).toBeGreaterThanOrEqual(500);
  });
});
