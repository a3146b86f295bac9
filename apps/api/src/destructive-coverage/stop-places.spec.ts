import { describe, expect, test } from '@jest/globals';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { stopOf, stopPlaces } from './stop-places.js';

const event = (atMm: number, uMm: string, kind = 'stop', id = ''): SeamEvent => ({ id, event: kind, span: { fromMm: atMm, toMm: atMm + 1 }, fromUMm: uMm }) as SeamEvent;
const sample = (stopFootageMm: number | null, seamEventId: string | null = null, observedAt = '2026-03-02T08:15:00.000000Z'): TestSample => ({ stopFootageMm, seamEventId, observedAt }) as TestSample;
const shown = (events: SeamEvent[], samples: TestSample[]): unknown[] =>
  stopPlaces(events, samples).map(({ name, atMm, plusMinusMm, events: { length } }) => [name, atMm, plusMinusMm, length]);

describe('stops of the seam weld', () => {
  test('are those on record, one for each footage however often the line stopped there; starts and restarts are none', () => {
    const events = [event(900, '2'), event(500, '0'), event(500, '1.1'), event(500, '9', 'restart'), event(700, '9', 'start'), event(800, '9', 'set-up-change')];
    expect(shown(events, [])).toEqual([['at 500 mm', 500, 3, 2], ['at 900 mm', 900, 4, 1]]);
  });

  test('take in the samples whose footage lies within twice the uncertainty; others name a stop of their own', () => {
    const samples = [sample(504), sample(505), sample(505), sample(null), sample(1_000)];
    expect(shown([event(500, '2')], samples)).toEqual([['at 500 mm', 500, 4, 1], ['at 505 mm', 505, null, 0], ['at 1000 mm', 1_000, null, 0]]);
  });

  test('that samples alone name are named since the first of these was taken', () => {
    const [early, late] = ['2026-03-02T08:15:00.000000Z', '2026-03-02T09:15:00.000000Z'];
    const named = stopPlaces([event(500, '0')], [sample(500, null, early), sample(700, null, late), sample(700, null, early), sample(900, null, late)]);
    expect(named.map(({ atMm, namedAt }) => [atMm, namedAt])).toEqual([[500, null], [700, early], [900, late]]);
  });

  test('take in the samples that name their record, wherever it stands by now; one that names a record that is gone goes by its footage', () => {
    const stops = [event(500, '0', 'stop', 'first'), event(500, '0', 'stop', 'second'), event(600, '0', 'stop', 'third')];
    expect(shown(stops, [sample(900, 'second'), sample(500, 'third')])).toEqual([['at 500 mm', 500, 0, 2], ['at 600 mm', 600, 0, 1]]);
    expect(stopOf(sample(900, 'second'), stopPlaces(stops, []))).toMatchObject({ atMm: 500 });
    expect(shown(stops, [sample(900, 'gone')])).toContainEqual(['at 900 mm', 900, null, 0]);
  });

  test('a footage means the nearest stop that takes it in, of two as near the lower', () => {
    const stops = stopPlaces([event(500, '10'), event(510, '10'), event(540, '1')], [sample(600)]);
    const meant = (footageMm: number): number | null => stopOf(sample(footageMm), stops)?.atMm ?? null;
    expect([480, 504, 505, 506, 530, 531, 539, 542, 543, 600, 601].map(meant)).toEqual([500, 500, 500, 510, 510, null, 540, 540, null, 600, null]);
  });
});
