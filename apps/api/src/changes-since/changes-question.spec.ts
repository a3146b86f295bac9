import { describe, expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { changesQuestionOf, placeOfText, textOfPlace } from './changes-question.js';

const place = { knownFrom: '2026-03-02T08:15:00.000001Z', kind: 'counter-reading', id: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b01' };

const wrongIn = (query: Record<string, unknown>): unknown[] => {
  try {
    changesQuestionOf(query);
  } catch (error) {
    return (error as Refused).errors.map(({ field }) => field);
  }
  return [];
};

describe('a place between two pages', () => {
  test('comes back as it went', () => {
    expect(placeOfText(textOfPlace(place))).toEqual(place);
  });

  test.each([[undefined], [''], ['x'], [`${textOfPlace(place)},`], [textOfPlace({ ...place, id: 'x' })], [textOfPlace({ ...place, kind: "'" })], [textOfPlace({ ...place, knownFrom: 'now' })]])(
    'is refused as %s', (text) => {
      expect(placeOfText(text)).toBeNull();
    });
});

test('a question without a word asks for the first hundred since the own last shift', () => {
  expect(changesQuestionOf({})).toEqual({ since: null, after: null, limit: 100, withDerived: false, asKnownAt: null });
  expect(changesQuestionOf({ since: '2026-03-02T08:00:00Z', after: textOfPlace(place), limit: '500', derivedAgain: 'listed', asKnownAt: '2026-03-03T08:00:00Z' })).toEqual({
    since: '2026-03-02T08:00:00Z', after: place, limit: 500, withDerived: true, asKnownAt: '2026-03-03T08:00:00Z',
  });
});

test('all that is wrong is told at once', () => {
  expect(wrongIn({ since: 'x', after: 'x', limit: '501', derivedAgain: 'x', asKnownAt: 'x', station: 'x' })).toEqual(['station', 'since', 'after', 'limit', 'derivedAgain', 'asKnownAt']);
  expect(['0', '', '1.5', '-1', ['1']].map((limit) => wrongIn({ limit }))).toEqual(Array(5).fill(['limit']));
});
