import { describe, expect, test } from '@jest/globals';
import { interval } from '#libs/intervals';
import { spliceHandOn } from '#libs/length';
import { seamJunctions, spliceGeometry } from '#libs/welding';

describe('spliceGeometry', () => {
  test('a square weld is as long as the strip is wide, and takes no pipe at all', () => {
    expect(spliceGeometry(300, 90)).toEqual({ weldLengthMm: 300, pipeLengthMm: 0 });
  });

  test('worked by hand: a 3-4-5 triangle', () => {
    const angleDeg = (Math.atan2(3, 4) * 180) / Math.PI;
    const { weldLengthMm, pipeLengthMm } = spliceGeometry(300, angleDeg);
    expect(weldLengthMm).toBeCloseTo(500, 9);
    expect(pipeLengthMm).toBeCloseTo(400, 9);
  });

  test.each([0, -1, Number.NaN, Infinity])('%p is no width', (width) => {
    expect(() => spliceGeometry(width, 45)).toThrow(new RangeError(`strip width must be over 0 mm: ${width}`));
  });

  test.each([0, -45, 90.1, Number.NaN])('%p is no angle', (angle) => {
    expect(() => spliceGeometry(300, angle)).toThrow(new RangeError(`splice angle must be over 0° and at most 90°: ${angle}`));
  });
});

describe('seamJunctions', () => {
  const span = interval(1_204_310, 1_204_610);

  test('one at either end, on opposite edges; the right end of a right-hand splice lies downstream', () => {
    expect(seamJunctions(span, 'right')).toEqual([{ footageMm: 1_204_310, edge: 'right' }, { footageMm: 1_204_610, edge: 'left' }]);
    expect(seamJunctions(span, 'left')).toEqual([{ footageMm: 1_204_310, edge: 'left' }, { footageMm: 1_204_610, edge: 'right' }]);
  });

  test('those of a square splice face each other', () => {
    expect(seamJunctions(interval(500, 501), 'square')).toEqual([{ footageMm: 500, edge: 'left' }, { footageMm: 500, edge: 'right' }]);
  });

  /**
   * The hand by its axes, not by words: the outside seen with downstream up, x to the right and y downstream, so that footage
   * falls as y rises. Along a right-hand screw x and y rise together.
   */
  test('the hand is that of a screw', () => {
    for (const hand of ['right', 'left'] as const) {
      const [x, y] = [0, 1].map((axis) => {
        const ends = seamJunctions(span, hand).map(({ footageMm, edge }) => [edge === 'right' ? 1 : -1, -footageMm]);
        return ends[0]![axis]! - ends[1]![axis]!;
      });
      expect(Math.sign(x! * y!)).toBe(hand === 'right' ? 1 : -1);
    }
  });

  test('turned inside out, the other edge lies downstream', () => {
    expect(seamJunctions(span, spliceHandOn('outer', 'right'))[0].edge).toBe('left');
  });
});
