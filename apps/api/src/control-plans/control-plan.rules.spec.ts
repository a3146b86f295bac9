import { describe, expect, test } from '@jest/globals';
import { EVIDENCE_DEMANDS, PLAN_PLACES } from './control-plan-item.js';
import type { ControlPlanItemPart } from './control-plan.dto.js';
import { planFaults, planLabel, plannedItems } from './control-plan.rules.js';

const item = (changes: Partial<ControlPlanItemPart> = {}): ControlPlanItemPart => ({ code: 'A', clause: '4.1', demands: 'coil-accepted', at: 'pipe', ...changes });
const faults = (...items: ControlPlanItemPart[]): string[] => planFaults(items).map(({ field }) => field);

/** What each demand has to say beside the others. */
const NEEDED: Partial<Record<ControlPlanItemPart['demands'], Partial<ControlPlanItemPart>>> = {
  'channel-inspected': { channelId: 'c' }, dimension: { characteristic: 'wall thickness', reachMm: 1 }, point: { point: 'hold' },
  'splice-accepted': { at: 'splices', marginMm: 0 }, 'rejoin-accepted': { at: 're-joins', marginMm: 0 },
};

describe('what contradicts itself in a control plan', () => {
  test('nothing, where each demand says what it needs, and exceptions are of pipe', () => {
    expect(faults(...EVIDENCE_DEMANDS.map((demands, index) => item({ code: String(index), demands, ...NEEDED[demands] })))).toEqual([]);
    expect(faults(item({ demands: 'destructive-tests', test: 'flaring', exceptAt: PLAN_PLACES.map((at) => ({ at, marginMm: 1 })) }))).toEqual([]);
    expect(faults(item({ at: 'splices', marginMm: 0, exceptAt: [] }), item({ code: 'B', at: 'tail-end', marginMm: 1, exceptAt: null }))).toEqual([]);
  });

  test('a code twice', () => {
    expect(faults(item(), item({ code: 'B' }), item())).toEqual(['items[2].code']);
  });

  test('no margin at a joint or end, an end without length, or a margin of pipe', () => {
    expect(faults(item({ at: 'splices' }), item({ code: 'B', at: 'lead-end' }), item({ code: 'C', at: 'tail-end', marginMm: 0 }))).toEqual([
      'items[0].marginMm', 'items[1].marginMm', 'items[2].marginMm',
    ]);
    expect(faults(item({ marginMm: 0 }))).toEqual(['items[0].marginMm']);
  });

  test('exceptions where the item is not of pipe, a place twice, and an end without length', () => {
    expect(faults(item({ at: 'splices', marginMm: 5, exceptAt: [{ at: 'lead-end', marginMm: 0 }] }))).toEqual(['items[0].exceptAt']);
    const exceptAt = [{ at: 'splices', marginMm: 0 }, { at: 'splices', marginMm: 5 }, { at: 'tail-end', marginMm: 0 }] as const;
    expect(faults(item({ exceptAt: [...exceptAt] }))).toEqual(['items[0].exceptAt[1].at', 'items[0].exceptAt[2].marginMm']);
  });

  test('a splice or re-join that is to be accepted anywhere else', () => {
    expect(faults(item({ demands: 'splice-accepted' }), item({ code: 'B', demands: 'rejoin-accepted', at: 'splices', marginMm: 0 }))).toEqual(['items[0].at', 'items[1].at']);
    expect(faults(item({ demands: 'splice-accepted', at: 'splices', marginMm: 500 }), item({ code: 'B', demands: 'rejoin-accepted', at: 're-joins', marginMm: 1 }))).toEqual(['items[0].marginMm', 'items[1].marginMm']);
  });

  test('what a demand needs and does not say, and what is said of another one', () => {
    expect(faults(item({ demands: 'channel-inspected' }), item({ code: 'B', demands: 'dimension' }), item({ code: 'C', demands: 'point' }))).toEqual([
      'items[0].channelId', 'items[1].characteristic', 'items[1].reachMm', 'items[2].point',
    ]);
    expect(faults(item({ channelId: 'c', characteristic: 'wall thickness', reachMm: 5, point: 'hold', test: 'macro' }))).toEqual([
      'items[0].channelId', 'items[0].characteristic', 'items[0].reachMm', 'items[0].point', 'items[0].test',
    ]);
  });
});

test('an item is kept with all that it can say', () => {
  expect(plannedItems([item(), item({ code: 'B', exceptAt: [{ at: 'splices', marginMm: 300 }] })])).toEqual([
    { code: 'A', clause: '4.1', demands: 'coil-accepted', at: 'pipe', marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null },
    expect.objectContaining({ code: 'B', exceptAt: [{ at: 'splices', marginMm: 300 }] }),
  ]);
  expect(planLabel({ document: 'CP-3', revision: '2', fromMm: 5 })).toBe('CP-3 revision 2, from 5 mm');
});
