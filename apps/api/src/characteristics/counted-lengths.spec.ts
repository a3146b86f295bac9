import { expect, test } from '@jest/globals';
import type { ChartGround } from './chart-ground.js';
import { boundaryAt, groundOf, link } from './characteristics.factory.js';
import { countedOn, perLength } from './counted-lengths.js';
import { gapsOn } from './sources/between-indications.source.js';

const event = (fromMm: number) => ({ span: { fromMm, toMm: fromMm + 10 }, record: link(`e${fromMm}`, 'indication') });
const EXCLUDED = { fromMm: 40_000, toMm: 45_000, because: 'within 2.500 m of splice S-2', record: link('s2', 'splice') };

test('events count where they begin, over the pipe that is not left out', () => {
  const ground = groundOf({ interval: { fromMm: 0, toMm: 60_000 }, boundaries: [boundaryAt(25_000)], exclusions: [EXCLUDED] }) as ChartGround;
  const { readings, leftOut } = countedOn(ground, 20_000, [event(0), event(19_999), event(24_999), event(25_000), event(41_000)], perLength(1_000));
  expect(readings.map(({ place, values, of, records }) => [place?.fromMm, place?.toMm, values[0], of, records.map(({ id }) => id)])).toEqual([
    [0, 20_000, 2, 0.02, ['e0', 'e19999']], [20_000, 25_000, 1, 0.005, ['e24999']], [25_000, 45_000, 1, 0.015, ['e25000']], [45_000, 60_000, 0, 0.015, []],
  ]);
  expect(leftOut).toEqual([{ place: { fromMm: 41_000, toMm: 41_010 }, because: EXCLUDED.because, records: [link('e41000', 'indication')] }]);
});

test('pipe that is still to be made counts for nothing', () => {
  const counted = (fromMm: number, toMm: number, madeMm: number, events = [event(5_000)]): unknown[] => {
    const { readings, leftOut } = countedOn(groundOf({ interval: { fromMm, toMm }, madeMm }) as ChartGround, 20_000, events, perLength());
    return [readings.map(({ place, values, of }) => [place?.toMm, values[0], of]), leftOut.map(({ place, because }) => [place?.fromMm, place?.toMm, because])];
  };
  expect(counted(0, 60_000, 35_000)).toEqual([[[20_000, 1, 20], [35_000, 0, 15]], [[35_000, 60_000, 'pipe that is still to be made']]]);
  expect(counted(40_000, 60_000, 35_000)).toEqual([[], [[40_000, 60_000, 'pipe that is still to be made']]]);
  expect(counted(0, 30_000, 35_000)).toEqual([[[20_000, 1, 20], [30_000, 0, 10]], []]);
  // Something was found beyond the last reading of the counter: so far it was made.
  expect(counted(0, 60_000, 35_000, [event(41_999)])).toEqual([[[20_000, 0, 20], [40_000, 0, 20], [42_000, 1, 2]], [[42_000, 60_000, 'pipe that is still to be made']]]);
});

test('a gap is the pipe between two beginnings that is not left out, within one set-up', () => {
  const { readings, leftOut } = gapsOn(groundOf({ boundaries: [boundaryAt(50_000, 'set-up change')], exclusions: [EXCLUDED] }), [event(10_000), event(10_000), event(41_000), event(46_000), event(50_000), event(52_500)]);
  expect(readings.map(({ place, values, records }) => [place, values, records.map(({ id }) => id)])).toEqual([
    [{ fromMm: 10_000, toMm: 46_000 }, [31], ['e10000', 'e46000']], [{ fromMm: 50_000, toMm: 52_500 }, [2.5], ['e50000', 'e52500']],
  ]);
  expect(leftOut.map(({ place, because }) => `${place?.fromMm ?? ''} ${because}`)).toEqual(['41000 within 2.500 m of splice S-2', '10000 it begins where the one before it does: one event', '46000 over a boundary: set-up change']);
});
