import { describe, expect, jest, test } from '@jest/globals';
import { bitsOf, BLOCK_SAMPLES, decodeBlock, encodeBlock, NO_VALUE_BITS, STATUS_NAMES, type Samples } from '#libs/signals';
import { blocksOf, emptySamples, KINDS, randomFrom, type Random } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';

jest.setTimeout(300_000);

const VALUES = 10_000_000;
const AWKWARD = [NO_VALUE_BITS, 0x7fc00001, 0x7f800001, 0xffbfffff, 0xffffffff, 0x80000000, 0, 1, 0x80000001, 0x007fffff, 0x807fffff, 0x7f800000, 0xff800000, 0x7f7fffff, 0x00800000];

/** Whether two arrays hold the same bytes. */
const sameBytes = (a: ArrayBufferView, b: ArrayBufferView): boolean =>
  Buffer.compare(Buffer.from(a.buffer, a.byteOffset, a.byteLength), Buffer.from(b.buffer, b.byteOffset, b.byteLength)) === 0;

/** Bits of every pattern; one in eight awkward, one in eight near the one before; statuses in runs, with or without values where missing. */
function awkward(random: Random, count: number): Samples {
  const samples = emptySamples(count);
  const bits = bitsOf(samples.values);
  const changes = random() < 0.3 ? 0.5 : 0.01;
  const leavesOut = random() < 0.5;
  let [status, position, last] = [0, 0, 0];
  for (let index = 0; index < count; index += 1) {
    if (random() < changes) status = (random() * STATUS_NAMES.length) | 0;
    const kind = (random() * 8) | 0;
    last = kind === 0 ? AWKWARD[(random() * AWKWARD.length) | 0] ?? 0 : kind === 1 ? last + 1 : random() * 2 ** 32;
    bits[index] = leavesOut && status === 1 ? NO_VALUE_BITS : last;
    samples.statuses[index] = status;
    position += random() < 0.9 ? 1 : ((random() * 2_000) | 0) - 500;
    samples.positions[index] = position;
  }
  return samples;
}

function* blocks(random: Random): Generator<Samples> {
  for (let turn = 0; ; turn += 1) {
    yield awkward(random, turn % 10 === 0 ? 1 + ((random() * BLOCK_SAMPLES) | 0) : BLOCK_SAMPLES);
    const kind = KINDS[turn % KINDS.length];
    if (kind === undefined) continue;
    const [likely] = blocksOf(kind, turn, 1);
    if (likely === undefined) continue;
    yield likely;
    // An instrument's readings with awkward ones among them.
    for (let spot = 0; spot < 40; spot += 1) bitsOf(likely.values)[(random() * BLOCK_SAMPLES) | 0] = AWKWARD[spot % AWKWARD.length] ?? 0;
    yield likely;
  }
}

describe('ten million random and awkward values', () => {
  test('come back bit for bit, with their statuses and positions', () => {
    let [values, awkwardOnes] = [0, 0];
    for (const given of blocks(randomFrom(seedFromEnvironment().seed ?? 11))) {
      const back = decodeBlock(encodeBlock(given));
      if (!sameBytes(back.values, given.values) || !sameBytes(back.statuses, given.statuses) || !sameBytes(back.positions, given.positions)) {
        expect(back).toEqual(given);
        throw new Error(`block after ${values} values differs in bits that toEqual does not see`);
      }
      values += given.values.length;
      awkwardOnes += given.values.reduce((sum, value) => sum + (value - value !== 0 || (value === 0 && 1 / value < 0) ? 1 : 0), 0);
      if (values >= VALUES) break;
    }
    expect(values).toBeGreaterThanOrEqual(VALUES);
    expect(awkwardOnes).toBeGreaterThan(VALUES / 50);
  });
});
