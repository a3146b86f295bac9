import { describe, expect, test } from '@jest/globals';
import { IntervalSet, interval } from '#libs/intervals';
import { mm, stretch, word } from './evidence.factory.js';
import { evidenceLine, withinInterval } from './evidence-line.js';

const words = [word('confirmed', 0, 1_000)];

describe('the line of a demand', () => {
  test('has its key, its testimonies and all of the pipe, in order of footage', () => {
    expect(evidenceLine('item 1', mm(0, 100), mm(40, 60), words)).toEqual({
      key: 'item 1', testimonies: words, stretches: [stretch(0, 40, 'not-required'), stretch(40, 60, 'confirmed', { by: [0] }), stretch(60, 100, 'not-required')],
    });
  });

  test('requires nothing of pipe that is not demanded, whatever is said of it', () => {
    expect(evidenceLine('item 1', mm(0, 100), IntervalSet.empty, [word('failed', 0, 100, 100)]).stretches).toEqual([stretch(0, 100, 'not-required')]);
  });

  test('leaves out what is demanded beyond the pipe, and where pipe was cut out', () => {
    const pipe = IntervalSet.of(interval(0, 40), interval(60, 100));
    expect(evidenceLine('item 1', pipe, mm(30, 500), words).stretches).toEqual([
      stretch(0, 30, 'not-required'), stretch(30, 40, 'confirmed', { by: [0] }), stretch(60, 100, 'confirmed', { by: [0] }),
    ]);
  });

  test('has nothing where there is no pipe', () => {
    expect(evidenceLine('item 1', IntervalSet.empty, mm(0, 100), words).stretches).toEqual([]);
  });
});

describe('a line within an interval', () => {
  const stretches = [stretch(0, 40, 'confirmed', { by: [0] }), stretch(40, 60, 'conceded', { late: true, otherwise: 'missing', by: [1, 2] }), stretch(70, 90, 'missing')];

  test('keeps what its stretches say, cut at both ends', () => {
    expect(withinInterval(stretches, { fromMm: 30, toMm: 80 })).toEqual([
      stretch(30, 40, 'confirmed', { by: [0] }), stretch(40, 60, 'conceded', { late: true, otherwise: 'missing', by: [1, 2] }), stretch(70, 80, 'missing'),
    ]);
  });

  test('has those that lie in it as they are', () => {
    const [cut, whole, untouched] = withinInterval(stretches, { fromMm: 30, toMm: 90 });
    expect([cut === stretches[0], whole === stretches[1], untouched === stretches[2]]).toEqual([false, true, true]);
    expect(stretches[0]).toMatchObject({ fromMm: 0, toMm: 40 });
  });

  test('leaves out what only touches it', () => {
    expect(withinInterval(stretches, { fromMm: 40, toMm: 60 })).toEqual([stretches[1]]);
    expect(withinInterval(stretches, { fromMm: 60, toMm: 70 })).toEqual([]);
  });
});
