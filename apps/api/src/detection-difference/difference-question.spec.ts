import { expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { differenceQuestionOf } from './difference-question.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b71';
const OTHER = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b72';

const wrong = (query: Record<string, string>): string[] => {
  try {
    differenceQuestionOf(query);
  } catch (error) {
    if (error instanceof Refused) return error.errors.map(({ field }) => field);
    throw error;
  }
  return [];
};

test('either a trial of levels, over an interval or all, or two detections', () => {
  expect(differenceQuestionOf({ ruleId: ID, threshold: '40', fromM: '1.5' })).toEqual({
    of: { trial: { ruleId: ID, channelId: null, threshold: '40', release: null } }, within: { fromMm: 1_500, toMm: 100_000_000 }, asKnownAt: null, limit: 200,
  });
  expect(differenceQuestionOf({ before: ID, after: OTHER, limit: '5', asKnownAt: '2026-03-02T08:00:00Z' })).toEqual({
    of: { before: ID, after: OTHER }, within: null, asKnownAt: '2026-03-02T08:00:00Z', limit: 5,
  });
});

test('all that is wrong with it is told at once', () => {
  expect(wrong({})).toEqual(['before', 'after']);
  expect(wrong({ before: ID, after: 'x', threshold: '5', fromM: '1' })).toEqual(['threshold', 'fromM', 'after']);
  expect(wrong({ ruleId: ID })).toEqual(['threshold']);
  expect(wrong({ ruleId: 'x', channelId: 'y', threshold: '1e3', release: ' ', toM: '0', limit: '1001', asKnownAt: 'now' })).toEqual([
    'threshold', 'release', 'ruleId', 'channelId', 'toM', 'asKnownAt', 'limit',
  ]);
});
