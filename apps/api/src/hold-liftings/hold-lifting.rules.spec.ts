import { expect, test } from '@jest/globals';
import { liftingFindings, type Lifting } from './hold-lifting.rules.js';

const AT = '2026-03-02T08:15:00.000000Z';
const hold = { id: 'hold', doneBy: 'setter', keyedBy: 'keyer', observedAt: AT };

test('a hold of their own, a hand in both papers and a lifting from before are found', () => {
  const found = (lifting: Partial<Lifting>): [string, string, string][] =>
    liftingFindings({ doneBy: 'lifter', keyedBy: 'lifter', observedAt: AT, ...lifting }, hold).map(({ tier, field, value }) => [tier, field, value]);
  expect(found({})).toEqual([]);
  expect(found({ doneBy: 'setter', keyedBy: 'setter' })).toEqual([['noted', 'doneBy', 'setter']]);
  expect(found({ keyedBy: 'setter' })).toEqual([['noted', 'keyedBy', 'setter']]);
  expect(found({ doneBy: 'keyer' })).toEqual([['noted', 'holdId', 'hold']]);
  expect(found({ observedAt: '2026-03-02T08:14:59.999999Z' })).toEqual([['implausible', 'observedAt', '2026-03-02T08:14:59.999999Z']]);
});
