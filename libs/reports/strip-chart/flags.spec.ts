import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { frameOf } from './chart-frame.js';
import { countWithout, drawFlags, type Flag, placeFlags } from './flags.js';
import { roomyRuler } from './ruler.js';

const frame = frameOf({ fromMm: 0, toMm: 1_000 }, 600, 7, roomyRuler);
const { leftPt, widthPt } = frame.plot;
const KINDS = ['one', 'two', 'three'] as const;
const flagOf = (share: number, rank: number, text: string): Flag => ({ text, atPt: leftPt + share * widthPt, rank, counted: [KINDS[rank] ?? '', `${KINDS[rank] ?? ''}s`], isBold: rank === 0 });
const someFlags = fc.array(fc.tuple(fc.noBias(fc.integer({ min: 0, max: 1_000 })).map((share) => share / 1_000), fc.integer({ min: 0, max: 2 }), fc.string({ minLength: 1, maxLength: 20 })), { maxLength: 60, size: 'max' })
  .map((all) => all.map(([share, rank, text]) => flagOf(share, rank, text)));

describe('flags', () => {
  test('each is placed or left out; no text touches another, leaves the plot or stands in the way of a pole', () => {
    let [placedSeen, leftSeen] = [0, 0];
    fc.assert(fc.property(someFlags, fc.integer({ min: 1, max: 4 }), (flags, rowsMax) => {
      const { placed, without } = placeFlags(flags, rowsMax, frame);
      [placedSeen, leftSeen] = [placedSeen + placed.length, leftSeen + without.length];
      const key = ({ text, atPt, rank }: Flag): string => `${rank} ${atPt} ${text}`;
      expect([...placed.map(({ flag }) => key(flag)), ...without.map(key)].sort()).toEqual(flags.map(key).sort());
      expect(placed.filter((one) => one.row >= rowsMax || one.leftPt < leftPt || one.leftPt + one.widthPt > leftPt + widthPt + 1e-9)).toEqual([]);
      const faults = placed.flatMap((one) => placed.filter((other) => {
        if (one === other || one.row < other.row) return false;
        const isBeside = one.leftPt + one.widthPt + 4 <= other.leftPt || other.leftPt + other.widthPt + 4 <= one.leftPt;
        return one.row === other.row ? !isBeside : one.flag.atPt > other.leftPt - 1.8 && one.flag.atPt < other.leftPt + other.widthPt + 1.8;
      }));
      expect(faults).toEqual([]);
    }), { numRuns: 300, seed: 20_310_402 });
    expect(placedSeen).toBeGreaterThan(1_000);
    expect(leftSeen).toBeGreaterThan(1_000);
  });

  test('what is more important is placed first, and of one rank what was given first', () => {
    const flags = [flagOf(0.5, 2, 'least'), flagOf(0.5, 1, 'first of two'), flagOf(0.5, 1, 'second of two'), flagOf(0.5, 0, 'most')];
    expect(placeFlags(flags, 2, frame).placed.map(({ flag, row }) => [flag.text, row])).toEqual([['most', 0], ['first of two', 1]]);
    expect(countWithout(placeFlags(flags, 2, frame))).toEqual(['+2 more', '1 two', '1 three']);
    expect(countWithout(placeFlags(flags, 4, frame))).toEqual([]);
  });

  test('poles close together, which only fit from right to left, all carry their flags', () => {
    const flags = [0.5, 0.52, 0.54].map((share) => flagOf(share, 1, 'a long label of its own'));
    expect(placeFlags(flags, 3, frame).placed.map(({ row }) => row)).toEqual([0, 1, 2]);
  });

  test('a flag at the very end stands over or left of its pole', () => {
    for (const share of [0.97, 1]) {
      const [one] = placeFlags([flagOf(share, 0, 'a label')], 1, frame).placed;
      expect(one!.leftPt + one!.widthPt).toBeLessThanOrEqual(leftPt + widthPt + 1e-9);
      expect(one!.leftPt).toBeLessThan(one!.flag.atPt);
    }
  });

  test('a pole ends at the row that its text is in, under a text that stands over it', () => {
    const end = (share: number): number => {
      const [pole] = drawFlags(placeFlags([flagOf(share, 0, 'a label')], 1, frame), 100, frame);
      return pole?.kind === 'strokes' ? (pole.segments[0]?.[1] ?? NaN) : NaN;
    };
    expect(end(0.2)).toBeLessThan(93);
    expect(end(0.97)).toBeGreaterThan(98);
  });
});
