import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { frameOf } from './chart-frame.js';
import { roomyRuler } from './ruler.js';
import type { AreaShape, LineShape, Shape } from './shapes.js';
import { drawColumnsOf, drawThreshold, edgeX, plotPlace, valueY } from './signal-plot.js';
import { emptyColumn, oneColumn, oneTrack } from './strip-chart.factory.js';

const frame = frameOf({ fromMm: 0, toMm: 1_000 }, 800, 7, roomyRuler);
const aColumn = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 0, max: 1e5, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom('exact', 'shared', 'coarse'))
    .map(([least, above, share, sharpness]) => oneColumn(least, least + above, Math.fround(least) + share * (Math.fround(least + above) - Math.fround(least)), sharpness as 'exact')) },
  { weight: 2, arbitrary: fc.constantFrom(emptyColumn(), emptyColumn({ missing: 2 })) },
  { weight: 1, arbitrary: fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((bound) => oneColumn(bound, bound, 0, 'exact', { read: 0, saturatedHigh: 3 })) },
);

/** Bands are the filled outlines that are no box of a gap and no notch. */
const bandsOf = (shapes: readonly Shape[]) => shapes.filter((shape): shape is AreaShape => shape.kind === 'area' && shape.pen !== null && !(shape.fill === 'white' && shape.pen.widthPt === 0.4));
const meansOf = (shapes: readonly Shape[]) => shapes.filter((shape): shape is LineShape => shape.kind === 'line');

describe('whatever the columns', () => {
  test('every column with a value is drawn from its least to its greatest value within its edges, and nothing over a gap or out of the plot', () => {
    let [columnsSeen, gapsSeen] = [0, 0];
    fc.assert(fc.property(fc.array(aColumn, { minLength: 1, maxLength: 40, size: 'max' }), (columns) => {
      const place = plotPlace(oneTrack({ columns }), 10, 70, frame);
      const shapes = drawColumnsOf(place, frame);
      const { xPt, yPt, widthPt, heightPt } = place.area;
      const points = [...bandsOf(shapes), ...meansOf(shapes)].flatMap((shape) => shape.points);
      expect(points.filter(([x, y]) => x < xPt - 1e-9 || x > xPt + widthPt + 1e-9 || y < yPt - 0.4 - 1e-9 || y > yPt + heightPt + 0.4 + 1e-9)).toEqual([]);
      columns.forEach(({ summary }, at) => {
        const [left, right] = [edgeX(place, at), edgeX(place, at + 1)];
        const middle = (left + right) / 2;
        const over = bandsOf(shapes).filter(({ points }) => Math.min(...points.map(([x]) => x)) < middle && Math.max(...points.map(([x]) => x)) > middle);
        const meansOver = meansOf(shapes).filter(({ points }) => (points[0]?.[0] ?? 0) < middle && (points.at(-1)?.[0] ?? 0) > middle);
        if (summary?.least == null || summary.greatest === null) {
          gapsSeen += 1;
          expect([over, meansOver]).toEqual([[], []]);
          return;
        }
        columnsSeen += 1;
        expect(over).toHaveLength(1);
        // The outline goes along the tops and back along the feet, two points a column each way.
        const outline = over[0]!.points;
        const index = 2 * (at - Math.round((outline[0]![0] - xPt) / (right - left)));
        const corners = [
          [outline[index], left, summary.greatest.value], [outline[index + 1], right, summary.greatest.value],
          [outline.at(-2 - index), right, summary.least.value], [outline.at(-1 - index), left, summary.least.value],
        ] as const;
        expect(corners.filter(([corner, x, value]) => !(Math.abs(corner![0] - x) < 1e-6 && Math.abs(corner![1] - valueY(place, value)) <= 0.4 + 1e-9))).toEqual([]);
        expect(meansOver).toHaveLength(summary.n > 0 ? 1 : 0);
        if (summary.n > 0) expect(meansOver[0]!.points.some(([x, y]) => Math.abs(x - middle) < 1e-6 && Math.abs(y - valueY(place, summary.mean)) < 1e-9)).toBe(true);
      });
    }), { numRuns: 150, seed: 20_310_402 });
    expect(columnsSeen).toBeGreaterThan(1_000);
    expect(gapsSeen).toBeGreaterThan(300);
  });

  test('the threshold stands at its value within the plot, however far it is from the signal', () => {
    for (const level of ['40', '-1000000', '0.001', '12345678']) {
      const track = oneTrack({ threshold: { level, sense: 'below' } });
      const place = plotPlace(track, 10, 70, frame);
      const [line] = drawThreshold(track, place, frame);
      const y = line?.kind === 'strokes' ? (line.segments[0]?.[1] ?? NaN) : NaN;
      expect(y).toBeCloseTo(valueY(place, Number(level)), 9);
      expect(y).toBeGreaterThanOrEqual(10);
      expect(y).toBeLessThanOrEqual(80);
    }
  });
});
