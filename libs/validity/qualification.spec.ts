import { describe, expect, test } from '@jest/globals';
import { checkQualification, type ConfirmationDemand, type Qualification, qualificationAt } from '#libs/validity';
import { qualification, weldOn } from './validity.factory.js';

const SIX_MONTHLY: ConfirmationDemand = { everyMonths: 6, confirmedOn: [], lateConfirmation: 'revives' };

const stateOn = (given: Qualification, day: string) => qualificationAt(given, weldOn(day)).state;
const statesOn = (given: Qualification, ...days: string[]) => days.map((day) => stateOn(given, day));
const wordsOn = (given: Qualification, day: string) => qualificationAt(given, weldOn(day)).reasons.map(({ words }) => words);

describe('the days printed', () => {
  test('the first and the last count whole', () => {
    expect(statesOn(qualification(), '2026-01-14', '2026-01-15', '2028-01-14', '2028-01-15')).toEqual(['not-yet', 'valid', 'valid', 'expired']);
    expect(wordsOn(qualification(), '2026-01-14')).toEqual(['starts only on 2026-01-15']);
    expect(wordsOn(qualification(), '2028-01-15')).toEqual(['expired: valid through 2028-01-14']);
  });

  test('it is the day at the place that counts: late in the evening of the last day, UTC is a day on', () => {
    const evening = weldOn('2028-01-15', { instant: '2028-01-15T04:59:59.999999Z', offsetMinutes: -300 });
    expect(qualificationAt(qualification(), evening)).toMatchObject({ state: 'valid', localDay: '2028-01-14', validUntil: '2028-01-14' });
    expect(qualificationAt(qualification(), { ...evening, instant: '2028-01-15T05:00:00Z' })).toMatchObject({ state: 'expired', localDay: '2028-01-15' });
  });

  test('without a printed end it stays valid', () => {
    const answer = qualificationAt(qualification({ expiresOn: null }), weldOn('2050-01-01'));
    expect(answer).toMatchObject({ state: 'valid', reasons: [], validUntil: null });
    expect(answer.because).toBe('valid on 2050-01-01, local day at UTC+00:00: runs from 2026-01-15 without a printed end');
  });
});

describe('confirmations', () => {
  const confirmed = (...confirmedOn: string[]) => qualification({ confirmation: { ...SIX_MONTHLY, confirmedOn } });

  test('the first is due six months from the start, to the end of that day', () => {
    expect(statesOn(confirmed(), '2026-07-15', '2026-07-16')).toEqual(['valid', 'unconfirmed']);
    expect(qualificationAt(confirmed(), weldOn('2026-03-01')).validUntil).toBe('2026-07-15');
    expect(wordsOn(confirmed(), '2026-07-16')).toEqual(['confirmed through 2026-07-15, due every 6 months']);
  });

  test('one in time counts anew from its own day', () => {
    const given = confirmed('2026-07-15');
    expect(statesOn(given, '2027-01-15', '2027-01-16')).toEqual(['valid', 'unconfirmed']);
    expect(qualificationAt(given, weldOn('2026-03-01'))).toMatchObject({ validUntil: '2027-01-15', lapses: [] });
  });

  test('one missed and made late leaves the days between, and says so', () => {
    const given = confirmed('2026-09-01');
    expect(statesOn(given, '2026-07-15', '2026-07-16', '2026-08-31', '2026-09-01', '2027-03-01', '2027-03-02')).toEqual([
      'valid', 'unconfirmed', 'unconfirmed', 'valid', 'valid', 'unconfirmed',
    ]);
    expect(wordsOn(given, '2026-08-31')).toEqual(['confirmed through 2026-07-15, due every 6 months; confirmed again only on 2026-09-01']);
    const later = qualificationAt(given, weldOn('2026-09-01'));
    expect(later.lapses).toEqual([{ from: '2026-07-16', to: '2026-08-31' }]);
    expect(later.because).toBe('valid on 2026-09-01, local day at UTC+00:00: runs from 2026-01-15 through 2028-01-14; confirmed through 2027-03-01; '
      + 'it had lapsed, unconfirmed, from 2026-07-16 to 2026-08-31');
    expect(qualificationAt(given, weldOn('2026-07-01'))).toMatchObject({ validUntil: '2026-07-15', lapses: [] });
  });

  test('a day late loses no day where it revives, and ends it where it does not', () => {
    const given = confirmed('2026-07-16');
    expect(qualificationAt(given, weldOn('2026-07-16'))).toMatchObject({ state: 'valid', lapses: [] });
    const inTime = qualification({ confirmation: { ...SIX_MONTHLY, confirmedOn: ['2026-07-15'], lateConfirmation: 'ends' } });
    expect(stateOn(inTime, '2027-01-15')).toBe('valid');
    const ended = qualification({ confirmation: { ...SIX_MONTHLY, confirmedOn: ['2026-07-16', '2026-12-01'], lateConfirmation: 'ends' } });
    expect(statesOn(ended, '2026-07-15', '2026-07-16', '2026-12-02')).toEqual(['valid', 'unconfirmed', 'unconfirmed']);
    expect(wordsOn(ended, '2026-12-02')).toEqual(['confirmed through 2026-07-15, due every 6 months; the late confirmation on 2026-07-16 does not revive it']);
  });

  test('those before the start say nothing, and before the start none is missed', () => {
    expect(stateOn(confirmed('2025-12-31'), '2026-07-16')).toBe('unconfirmed');
    expect(wordsOn(confirmed(), '2026-01-01')).toEqual(['starts only on 2026-01-15']);
  });

  test('at the end of a month: six months from 31 August end with February', () => {
    const given = qualification({ startsOn: '2026-08-31', confirmation: SIX_MONTHLY });
    expect(statesOn(given, '2027-02-28', '2027-03-01')).toEqual(['valid', 'unconfirmed']);
  });
});

describe("the employer's authorisation", () => {
  test('is asked for only where it is demanded', () => {
    expect(stateOn(qualification({ authorisations: null }), '2026-03-01')).toBe('valid');
    expect(wordsOn(qualification({ authorisations: [] }), '2026-03-01')).toEqual(['not authorised by the employer by then']);
  });

  test('runs from its first day to the end of its last, and may be given anew', () => {
    const given = qualification({ authorisations: [{ from: '2026-06-01', until: null }, { from: '2026-02-01', until: '2026-03-31' }] });
    expect(statesOn(given, '2026-01-31', '2026-02-01', '2026-03-31', '2026-04-01', '2026-06-01')).toEqual([
      'not-authorised', 'valid', 'valid', 'not-authorised', 'valid',
    ]);
    expect(wordsOn(given, '2026-01-31')).toEqual(['not authorised by the employer by then; the next begins on 2026-02-01']);
    expect(wordsOn(given, '2026-04-01')).toEqual(["the employer's authorisation ended on 2026-03-31; the next begins on 2026-06-01"]);
    expect(qualificationAt(given, weldOn('2026-03-01')).validUntil).toBe('2026-03-31');
    expect(qualificationAt(given, weldOn('2026-06-01')).because).toContain('; authorised by the employer without an end');
  });
});

describe('vision', () => {
  const tested = (...testedOn: string[]) => qualification({ vision: { everyMonths: 12, testedOn } });

  test('a test holds from its day to the same day a year later, also one from before the start', () => {
    expect(statesOn(tested('2025-06-10'), '2026-06-10', '2026-06-11')).toEqual(['valid', 'vision-lapsed']);
    expect(wordsOn(tested('2025-06-10'), '2026-06-11')).toEqual(['the last vision test by then held through 2026-06-10, due every 12 months']);
    expect(qualificationAt(tested('2025-06-10'), weldOn('2026-06-10')).because).toContain('; vision tested, good through 2026-06-10');
  });

  test('without a test by then it is not shown, and a later one does not reach back', () => {
    expect(wordsOn(tested('2026-03-02'), '2026-03-01')).toEqual(['no vision test by then, due every 12 months; tested next on 2026-03-02']);
    expect(stateOn(tested('2026-03-02'), '2026-03-02')).toBe('valid');
    expect(stateOn(tested(), '2026-03-02')).toBe('vision-lapsed');
  });
});

describe('a withdrawal', () => {
  const withdrawn = qualification({ withdrawn: { on: '2026-05-04', reason: 'doubt of skill after two failed macros' } });

  test('ends it from that whole day on', () => {
    expect(statesOn(withdrawn, '2026-05-03', '2026-05-04')).toEqual(['valid', 'withdrawn']);
    expect(wordsOn(withdrawn, '2026-05-04')).toEqual(['withdrawn on 2026-05-04: doubt of skill after two failed macros']);
    expect(qualificationAt(withdrawn, weldOn('2026-03-01')).validUntil).toBe('2026-05-03');
  });
});

describe('scope', () => {
  test('method and level belong to it', () => {
    const given = qualification({ methods: ['UT', 'MT'], level: 2, scope: [] });
    const at = (method: string | null, level: number | null) => {
      return qualificationAt(given, weldOn('2026-03-01', { method, level })).reasons.map(({ words }) => words);
    };
    expect(at('MT', 2)).toEqual([]);
    expect(at('UT', 1)).toEqual([]);
    expect(at('UT', null)).toEqual([]);
    expect(at('UT', 3)).toEqual(['level 3 is asked for, and the qualification states level 2']);
    expect(at('RT', 2)).toEqual(['method RT is outside the scope: UT, MT']);
    expect(at(null, 2)).toEqual(['method is not stated, and the scope limits it to UT, MT']);
  });

  test('a level asked for of a kind that has none is not there', () => {
    const answer = qualificationAt(qualification(), weldOn('2026-03-01', { level: 1 }));
    expect(answer.reasons).toEqual([{
      state: 'out-of-scope', words: 'level 1 is asked for, and the qualification states none',
      scope: { name: 'level', finding: 'outside', words: 'level 1 is asked for, and the qualification states none' },
    }]);
    expect(() => qualificationAt(qualification(), weldOn('2026-03-01', { level: 0 }))).toThrow(new RangeError('level is not a whole number from 1: 0'));
  });

  test('each variable out of scope is a reason', () => {
    const answer = qualificationAt(qualification(), weldOn('2026-03-01', { method: '141', variables: [] }));
    expect(answer.state).toBe('out-of-scope');
    expect(answer.validUntil).toBeNull();
    expect(answer.reasons.map(({ scope }) => scope && [scope.name, scope.finding])).toEqual([['method', 'outside'], ['thickness', 'not-stated']]);
  });
});

test('every reason that applies is given, gravest first, each with its dates', () => {
  const given = qualification({
    confirmation: { ...SIX_MONTHLY, confirmedOn: ['2026-07-01'] },
    authorisations: [{ from: '2026-01-15', until: '2026-12-31' }],
    vision: { everyMonths: 12, testedOn: ['2026-01-10'] },
    withdrawn: { on: '2027-06-01', reason: 'left the firm' },
  });
  const answer = qualificationAt(given, weldOn('2028-02-01', { offsetMinutes: 345, method: '141' }));
  expect(answer.reasons.map(({ state }) => state)).toEqual(['out-of-scope', 'withdrawn', 'expired', 'unconfirmed', 'not-authorised', 'vision-lapsed']);
  expect(answer.because).toBe('not valid on 2028-02-01, local day at UTC+05:45: method 141 is outside the scope: 135; withdrawn on 2027-06-01: left the firm; '
    + 'expired: valid through 2028-01-14; confirmed through 2027-01-01, due every 6 months; the employer\'s authorisation ended on 2026-12-31; '
    + 'the last vision test by then held through 2027-01-10, due every 12 months');
});

describe('a qualification that contradicts itself is refused', () => {
  test.each<[string, Partial<Qualification>, string]>([
    ['no method', { methods: [] }, 'the qualification names no method'],
    ['a level below 1', { level: 0 }, 'level is not a whole number from 1: 0'],
    ['an end before the start', { expiresOn: '2026-01-14' }, 'the period is reversed: 2026-01-15 to 2026-01-14'],
    ['an end that is no day', { expiresOn: '2027-02-29' }, 'not a day: "2027-02-29"'],
    [
      'an authorisation that ends before it begins', { authorisations: [{ from: '2026-02-02', until: '2026-02-01' }] },
      'the period is reversed: 2026-02-02 to 2026-02-01',
    ],
    ['a confirmation every 0 months', { confirmation: { ...SIX_MONTHLY, everyMonths: 0 } }, 'everyMonths is not a whole number from 1: 0'],
    ['a confirmation on no day', { confirmation: { ...SIX_MONTHLY, confirmedOn: ['soon'] } }, 'not a day: "soon"'],
    ['a vision test on no day', { vision: { everyMonths: 12, testedOn: ['2026'] } }, 'not a day: "2026"'],
    ['a withdrawal on no day', { withdrawn: { on: '', reason: '' } }, 'not a day: ""'],
    ['a scope that limits twice', { scope: [...qualification().scope, ...qualification().scope] }, 'the scope limits thickness twice'],
  ])('%s', (_what, more, message) => {
    expect(() => { checkQualification(qualification(more)); }).toThrow(new RangeError(message));
    expect(() => qualificationAt(qualification(more), weldOn('2026-03-01'))).toThrow(new RangeError(message));
  });
});
