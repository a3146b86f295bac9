import { expect, test } from '@jest/globals';
import { CoilDecision } from '../../standing/coil-decision.entity.js';
import { wordOf } from './heat-confirmed.source.js';

interface Frozen {
  readonly lines?: readonly { readonly name: string; readonly verdict: string }[];
  readonly crossChecks?: readonly { readonly severity: string; readonly check: string; readonly detail: string }[];
}
const NAMED = [{ name: 'inspection document', verdict: 'conforms' }];
const decided = ({ lines = NAMED, crossChecks = [] }: Frozen): CoilDecision => Object.assign(new CoilDecision(), {
  id: 'd', version: 1, decision: 'accept', enteredAt: '2026-03-02T09:00:00.000000Z', evaluation: JSON.stringify({ heat: { number: 'H40711' }, lines, crossChecks }),
});
const said = (frozen: Frozen): string => {
  const { says, because } = wordOf('LM-01', decided(frozen));
  return `${says}: ${because}`;
};
const warning = (check: string): Frozen => ({ crossChecks: [{ severity: 'warning', check, detail: 'the tag says H4O711' }] });

test('papers that name the coil confirm its heat, also where they do not conform otherwise', () => {
  expect(said({})).toBe('confirmed: coil LM-01, heat H40711: its papers name it, as evaluated for the decision');
  expect(said({ lines: [{ name: 'inspection document', verdict: 'does-not-conform' }] })).toMatch(/^confirmed/);
  expect(wordOf('LM-01', decided({}))).toMatchObject({ records: [{ kind: 'coil-decision', id: 'd', version: 1 }], enteredAt: ['2026-03-02T09:00:00.000000Z'] });
});

test('without a paper that names it nothing shows it', () => {
  for (const lines of [[], [{ name: 'inspection document', verdict: 'not-reported' }], [{ name: 'yield strength', verdict: 'conforms' }]]) {
    expect(said({ lines })).toBe('awaited: coil LM-01, heat H40711: no certificate on record names it');
  }
});

test('a warning about the heat puts it in doubt, in its words; one about something else does not, nor does a note', () => {
  for (const check of ['names the coil', 'heat analysis', 'second keying', 'tag', 'used twice', 'dates']) {
    expect({ check, said: said(warning(check)) }).toEqual({ check, said: 'suspect: coil LM-01, heat H40711: the tag says H4O711' });
  }
  expect(said(warning('mass'))).toMatch(/^confirmed/);
  expect(said({ crossChecks: [{ severity: 'note', check: 'tag', detail: 'read twice' }] })).toMatch(/^confirmed/);
  expect(said({ lines: [], ...warning('tag') })).toMatch(/^suspect/);
});

test('a coil that nobody decided on was not evaluated', () => {
  expect(wordOf('LM-01', null)).toEqual({ says: 'awaited', because: 'the coil was not decided on, so its papers were not evaluated', records: [], enteredAt: [] });
});
