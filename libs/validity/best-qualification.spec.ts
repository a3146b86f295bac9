import { describe, expect, test } from '@jest/globals';
import { bestQualification } from '#libs/validity';
import { qualification, weldOn } from './validity.factory.js';

const EVENT = weldOn('2026-03-01');
const VALID = qualification({ id: 'valid' });
const EXPIRED = qualification({ id: 'expired', startsOn: '2024-01-01', expiresOn: '2025-12-31' });
const OTHER_WORK = qualification({ id: 'other work', methods: ['141'] });

describe('the best of several qualifications', () => {
  test('none at all is an answer of its own', () => {
    expect(bestQualification([], EVENT)).toEqual({ found: 'none', because: 'the person has no qualification on record' });
  });

  test('any valid one suffices', () => {
    const best = bestQualification([OTHER_WORK, EXPIRED, VALID], EVENT);
    expect(best).toMatchObject({ found: 'covering', id: 'valid', answer: { state: 'valid' } });
    expect(best.because).toBe('qualification valid is valid on 2026-03-01, local day at UTC+00:00: runs from 2026-01-15 through 2028-01-14');
  });

  test('of several valid ones the one that stays valid longest, one without an end before all', () => {
    const longer = qualification({ id: 'longer', expiresOn: '2029-01-14' });
    const open = qualification({ id: 'open', expiresOn: null });
    expect(bestQualification([VALID, longer], EVENT)).toMatchObject({ id: 'longer' });
    expect(bestQualification([longer, open, VALID], EVENT)).toMatchObject({ id: 'open' });
  });

  test('without a valid one, the nearest with all its reasons', () => {
    const best = bestQualification([OTHER_WORK, EXPIRED], EVENT);
    expect(best).toMatchObject({ found: 'nearest', id: 'expired', answer: { state: 'expired', reasons: [{ state: 'expired' }] } });
    expect(best.because).toBe('none of 2 qualifications covers the event; the nearest is expired, not valid on 2026-03-01, local day at UTC+00:00: '
      + 'expired: valid through 2025-12-31');
    expect(bestQualification([OTHER_WORK], EVENT).because).toMatch(/^the only qualification is other work, not valid on 2026-03-01/);
  });

  test('of equally grave ones that with fewer reasons, then the one begun last, then by id', () => {
    const blind = { ...EXPIRED, id: 'a', vision: { everyMonths: 12, testedOn: [] } };
    const older = { ...EXPIRED, id: 'b', startsOn: '2023-01-01' };
    const twin = { ...EXPIRED, id: 'z' };
    expect(bestQualification([blind, older], EVENT)).toMatchObject({ id: 'b' });
    expect(bestQualification([older, EXPIRED], EVENT)).toMatchObject({ id: 'expired' });
    expect(bestQualification([twin, EXPIRED], EVENT)).toMatchObject({ id: 'expired' });
  });

  test('two with the same id are refused', () => {
    expect(() => bestQualification([VALID, VALID], EVENT)).toThrow(new RangeError('two qualifications have the same id'));
  });
});
