import { expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { recallQuestionOf } from './recall-question.js';

const id = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05';

function refused(query: Record<string, string>): unknown {
  try {
    return recallQuestionOf(query);
  } catch (error) {
    return error instanceof Refused ? error.errors.map(({ field }) => field) : error;
  }
}

test('exactly one record', () => {
  expect(recallQuestionOf({ spliceId: id, at: '2026-03-02T08:15:00Z' })).toEqual({ by: 'splice', id, at: '2026-03-02T08:15:00Z', asKnownAt: null });
  expect(refused({})).toEqual(['heatId']);
  expect(refused({ heatId: id, personId: id })).toEqual(['personId']);
});

test('everything wrong is told at once', () => {
  expect(refused({ counterPeriodId: 'W-2', asKnownAt: 'then', depth: '3' })).toEqual(['depth', 'counterPeriodId', 'asKnownAt']);
});
