import { describe, expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { importOrderOf, importQuestionOf } from './import-question.js';

const id = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b26';
const specificationId = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b27';
const observedAt = '2026-02-18T09:40:00Z';

function wrong(work: () => unknown): string[] {
  try {
    work();
  } catch (error) {
    if (error instanceof Refused) return error.errors.map(({ field, limit }) => `${field}: ${limit}`);
    throw error;
  }
  return [];
}

describe('how a file is to be read', () => {
  test('is as the first keying, by the orders printed, unless it is said', () => {
    expect(importQuestionOf({})).toEqual({ keying: 1, specificationId: null });
    expect(importQuestionOf({ keying: '2', specificationId })).toEqual({ keying: 2, specificationId });
  });

  test.each([
    [{ keying: '3' }, 'keying: one of 1, 2'], [{ keying: ['1', '2'] }, 'keying: one of 1, 2'], [{ specificationId: 'STS-12' }, 'specificationId: a UUID in lower case'],
    [{ specificationId: specificationId.toUpperCase() }, 'specificationId: a UUID in lower case'], [{ specificationId: [specificationId] }, 'specificationId: a UUID in lower case'],
    [{ id }, 'id: one of the parameters keying, specificationId'],
  ])('%j is refused', (query, limit) => {
    expect(wrong(() => importQuestionOf(query))).toEqual([limit]);
  });
});

describe('an import', () => {
  test('has an id and a time, and a code where the preview asked', () => {
    expect(importOrderOf({ id, observedAt })).toEqual({ id, observedAt, keying: 1, specificationId: null, confirm: null });
    expect(importOrderOf({ id, observedAt, keying: '2', specificationId, confirm: '0123456789abcdef' })).toEqual({ id, observedAt, keying: 2, specificationId, confirm: '0123456789abcdef' });
  });

  test('is refused with everything that is wrong at once', () => {
    const found = wrong(() => importOrderOf({ colour: 'red', keying: '0', specificationId: '', confirm: '' }));
    expect(found.map((one) => one.split(':')[0]).sort()).toEqual(['colour', 'confirm', 'id', 'keying', 'observedAt', 'specificationId']);
  });

  test.each([['2026-02-18', 1], ['18.02.2026', 1], [['2026-02-18T09:40:00Z'], 1]])('at %j is refused once', (time, count) => {
    expect(wrong(() => importOrderOf({ id, observedAt: time }))).toHaveLength(count);
  });

  test.each([['a'.repeat(64), 0], ['a'.repeat(65), 1], [['a'], 1], ['\u0007', 1]])('with the code %j has %i faults', (confirm, count) => {
    expect(wrong(() => importOrderOf({ id, observedAt, confirm }))).toHaveLength(count);
  });
});
