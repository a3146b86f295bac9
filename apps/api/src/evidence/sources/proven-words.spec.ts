import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { proofWithin, provenChannel } from '../../inspection-proof/channel-proof.js';
import { at, channel, check, run, track } from '../../inspection-proof/inspection-proof.factory.js';
import { provenWords } from './proven-words.js';

/** Each is entered ten minutes after it was made; 10 m are read in 100 minutes from the start. */
function words(...checks: readonly (readonly [minute: number, amplitude: string])[]): string[] {
  const known = {
    channel: Object.assign(channel(), { version: 1 }), marks: [], setups: [], tracks: [track('run', 0, 100, 0, 10_000)], runs: [run('run', 0, 100, { enteredAt: at(10) })],
    checks: checks.map(([minute, amplitude]) => check(minute, amplitude, { enteredAt: at(minute + 10) })),
  };
  const said = provenWords(known.channel, proofWithin(provenChannel(known), IntervalSet.of(interval(0, 20_000))), () => 0);
  return said.map(({ says, fromMm, toMm, because, records, enteredAt }) => `${says} ${fromMm}-${toMm} ${because.replace('ET-1: ', '')} [${records.slice(2).map(({ id }) => id).join()}] ${enteredAt === null ? '' : (Date.parse(enteredAt) - Date.parse(at(0))) / 60_000}`);
}

describe('what reference checks say of inspected pipe', () => {
  test('between two that passed, and after the last: known with the run and the check before, since the closing one comes later by nature', () => {
    expect(words([0, '70'], [40, '70'])).toEqual([
      'confirmed 0-4000 inspected between two reference checks that passed [check 0,check 40] 10',
      'provisional 4000-10000 inspected after a reference check that passed; none was made since [check 40] 50',
    ]);
  });

  test('before one that failed: known with that check, so that who waived the item before did not know of it', () => {
    expect(words([0, '70'], [70, '41'])).toEqual([
      'suspect 0-7000 inspected before a reference check that failed [check 0,check 70] 80',
      'suspect 7000-10000 inspected after a reference check that failed, and before the next that passed [check 70] 80',
    ]);
  });

  test('before any was made: doubt; pipe that nobody inspected has no word', () => {
    expect(words()).toEqual(['suspect 0-10000 inspected before any reference check was made [] 10']);
    expect(words([50, '70'])[0]).toBe('suspect 0-5000 inspected before any reference check was made [check 50] 60');
  });
});
