import { describe, expect, test } from '@jest/globals';
import { reportQuestionOf } from './report-question.js';

describe('the question for a report', () => {
  test('is A4 and now unless it says otherwise', () => {
    expect(reportQuestionOf({})).toEqual({ paper: 'A4', asKnownAt: null });
    expect(reportQuestionOf({ paper: 'Letter', asKnownAt: '2026-03-05T12:00:00Z' })).toEqual({ paper: 'Letter', asKnownAt: '2026-03-05T12:00:00Z' });
  });

  test.each([['paper', 'a4'], ['paper', 'A3'], ['asKnownAt', 'now'], ['asKnownAt', '2026-02-31T00:00:00Z'], ['size', 'A4']])('with %s %s is refused', (field, value) => {
    expect(() => reportQuestionOf({ [field]: value })).toThrow(
      expect.objectContaining({ status: 400, errors: [expect.objectContaining({ field, value })] }),
    );
  });
});
