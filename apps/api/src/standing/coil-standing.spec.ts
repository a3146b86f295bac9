import { describe, expect, test } from '@jest/globals';
import { DeviationPermit } from '../permits/deviation-permit.entity.js';
import { CoilDecision } from './coil-decision.entity.js';
import { COIL_STATES, standingOf } from './coil-standing.js';
import { DECISIONS, type DecisionKind } from './decision-kind.js';

const at = '2026-03-02T09:00:00.000000Z';
const before = '2026-03-02T08:59:59.999999Z';
const after = '2026-03-02T09:00:00.000001Z';

const decision = (sequence: number, kind: DecisionKind, knownFrom = '2026-02-20T08:00:00.000000Z'): CoilDecision =>
  Object.assign(new CoilDecision(), { id: `decision ${sequence}`, sequence, decision: kind, knownFrom });
/** A permit given on 1 March that runs out on 3 March, unless changed. */
const permit = (changes: Partial<DeviationPermit> = {}): DeviationPermit => Object.assign(
  new DeviationPermit(), { id: 'permit', observedAt: '2026-03-01T08:00:00.000000Z', enteredAt: '2026-03-01T08:05:00.000000Z', validUntil: '2026-03-03T08:00:00.000000Z' }, changes,
);

describe('where a coil stands', () => {
  test('nothing was decided yet', () => {
    expect(standingOf([], [], at)).toEqual({ state: 'not-decided', decision: null, permits: [], validPermits: [], isUsable: false });
  });

  test.each<[DecisionKind, string, boolean]>([
    ['hold', 'held', false], ['accept', 'accepted', true], ['accept-under-concession', 'accepted-under-concession', true], ['reject', 'rejected', false], ['return', 'returned', false],
  ])('after %s it is %s', (kind, state, isUsable) => {
    expect(standingOf([decision(1, kind)], [], at)).toMatchObject({ state, isUsable, decision: { sequence: 1 } });
  });

  test('every decision leads to a state of its own', () => {
    const states = DECISIONS.map((kind) => standingOf([decision(1, kind)], [], at).state);
    expect(new Set([...states, 'not-decided'])).toEqual(new Set(COIL_STATES));
    expect(states).toHaveLength(COIL_STATES.length - 1);
  });

  test('the last decision stands, in whatever order they are given', () => {
    const [first, second, third] = [decision(1, 'accept'), decision(2, 'hold'), decision(10, 'reject')];
    for (const given of [[first, second, third], [third, second, first], [second, third, first]]) {
      expect(standingOf(given, [], at)).toMatchObject({ state: 'rejected', isUsable: false, decision: { id: 'decision 10' } });
    }
    expect(standingOf([second, first], [], at).state).toBe('held');
  });
});

describe('permits', () => {
  const isUsable = (changes: Partial<DeviationPermit>, when = at): boolean => {
    const given = permit(changes);
    const found = standingOf([], [given], when);
    expect(found).toMatchObject({ state: 'not-decided', permits: [given], validPermits: found.isUsable ? [given] : [] });
    return found.isUsable;
  };

  test('hold until the instant at which they run out, and not at it', () => {
    expect(isUsable({ validUntil: at }, before)).toBe(true);
    expect(isUsable({ validUntil: at }, at)).toBe(false);
    expect(isUsable({ validUntil: at }, after)).toBe(false);
  });

  test('hold from the instant at which they were given', () => {
    expect(isUsable({ observedAt: at }, before)).toBe(false);
    expect(isUsable({ observedAt: at }, at)).toBe(true);
  });

  test('are compared as instants, whatever their spelling', () => {
    expect(isUsable({ validUntil: '2026-03-02T10:00:00+01:00' })).toBe(false);
    expect(isUsable({ validUntil: '2026-03-02T10:00:00.000001+01:00' })).toBe(true);
  });

  test.each(DECISIONS)('entered after a decision to %s hold beside it; entered with it or before, it ended them, amended since or not', (kind) => {
    const isAccepted = kind === 'accept' || kind === 'accept-under-concession';
    const standing = (enteredAt: string): [number, boolean] => {
      const { validPermits, isUsable: usable } = standingOf([decision(1, kind, at)], [permit({ enteredAt, knownFrom: after })], '2026-03-02T10:00:00.000000Z');
      return [validPermits.length, usable];
    };
    expect(standing(after)).toEqual([1, true]);
    expect(standing(at)).toEqual([0, isAccepted]);
    expect(standing(before)).toEqual([0, isAccepted]);
  });

  test('that do not hold are still on record', () => {
    const [gone, valid] = [permit({ id: 'gone', validUntil: '2026-03-01T09:00:00Z' }), permit()];
    expect(standingOf([decision(1, 'reject')], [gone, valid], at)).toMatchObject({ state: 'rejected', permits: [gone, valid], validPermits: [valid], isUsable: true });
    expect(standingOf([decision(1, 'accept')], [gone], at)).toMatchObject({ permits: [gone], validPermits: [], isUsable: true });
  });
});
