import { expect, test } from '@jest/globals';
import { inspectionProofQuestionOf } from './inspection-proof-question.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60';

function fields(query: Record<string, unknown>): unknown {
  try {
    return inspectionProofQuestionOf(query);
  } catch (error) {
    return (error as { errors: { field: string }[] }).errors.map(({ field }) => field);
  }
}

test('a question says a channel, footage and an instant, or none of them', () => {
  expect(fields({})).toEqual({ channelId: null, fromMm: null, toMm: null, asKnownAt: null });
  expect(fields({ channelId: ID, fromMm: '0', toMm: '1', asKnownAt: '2026-03-13T12:00:00Z' })).toEqual({ channelId: ID, fromMm: 0, toMm: 1, asKnownAt: '2026-03-13T12:00:00Z' });
  expect(fields({ fromMm: '99999999' })).toMatchObject({ fromMm: 99_999_999, toMm: null });
});

test('all that is wrong with it is told at once', () => {
  expect(fields({ channelId: 'ET', fromMm: '1.5', toMm: '-1', asKnownAt: 'noon', knownAt: 'noon' })).toEqual(['knownAt', 'channelId', 'fromMm', 'toMm', 'asKnownAt']);
  expect(fields({ fromMm: '5', toMm: '5' })).toEqual(['toMm']);
  expect(fields({ toMm: '0' })).toEqual(['toMm']);
  expect(fields({ fromMm: '100000000' })).toEqual(['fromMm']);
  expect(fields({ toMm: '100000001' })).toEqual(['toMm']);
  expect(fields({ fromMm: ['1', '2'] })).toEqual(['fromMm']);
});
