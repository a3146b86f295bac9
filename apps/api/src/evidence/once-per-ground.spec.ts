import { describe, expect, test } from '@jest/globals';
import { INSPECTIONS, WELDS } from '../recall/record-kinds.js';
import type { EvidenceGround, GroundNow } from './evidence-ground.js';
import { oncePerCount } from './once-per-ground.js';

const now = (lasting: object, inspections: number, welds = 0): GroundNow =>
  ({ lasting, stamps: { [INSPECTIONS.kind]: String(inspections), [WELDS.kind]: String(welds) } });
const ground = (of: GroundNow | null): EvidenceGround => ({ stringId: 'string', now: of }) as EvidenceGround;

/** Reads 1, then 2, and so on; those named fail. */
function counting(...failing: readonly number[]): (of: EvidenceGround) => Promise<number> {
  let reads = 0;
  return oncePerCount([INSPECTIONS], async () => {
    reads += 1;
    if (failing.includes(reads)) throw new Error(`reading ${reads} failed`);
    return Promise.resolve(reads);
  });
}

describe('what is read from some kinds of record alone', () => {
  test('is read once for all grounds of the same pipe with as many versions of them, however many of others there are', async () => {
    const [read, lasting] = [counting(), {}];
    expect([await read(ground(now(lasting, 5))), await read(ground(now(lasting, 5, 9)))]).toEqual([1, 1]);
  });

  test('is read again with one more version of them, and on other pipe', async () => {
    const [read, lasting] = [counting(), {}];
    expect([await read(ground(now(lasting, 5))), await read(ground(now(lasting, 6))), await read(ground(now({}, 6)))]).toEqual([1, 2, 3]);
  });

  test('is not the same for who counted before and after a version came', async () => {
    const [read, lasting] = [counting(), {}];
    const [early, late] = [ground(now(lasting, 5)), ground(now(lasting, 6))];
    expect([await read(late), await read(early), await read(late), await read(ground(now(lasting, 6)))]).toEqual([1, 2, 1, 3]);
  });

  test('is read of each ground of an earlier instant, once, and never taken from now', async () => {
    const [read, before] = [counting(), ground(null)];
    expect([await read(ground(now({}, 5))), await read(before), await read(before), await read(ground(null))]).toEqual([1, 2, 2, 3]);
  });

  test('is read again after it could not be', async () => {
    const [read, lasting] = [counting(1), {}];
    await expect(read(ground(now(lasting, 5)))).rejects.toThrow('reading 1 failed');
    expect(await read(ground(now(lasting, 5)))).toBe(2);
  });

  test('is not kept where nobody counted', async () => {
    await expect(counting()(ground({ lasting: {}, stamps: {} }))).rejects.toThrow(`nobody counted ${INSPECTIONS.kind}`);
  });
});
