import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { liesElsewhere, liesOffJoint, repairFaults, wallFindings } from './repair.rules.js';

type Said = Parameters<typeof repairFaults>[0];
const ground: Said = { method: 'grinding', depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50', instrumentId: 'gauge', readings: [], chosen: [] };
const fields = (changes: Partial<Said>): string[] => repairFaults({ ...ground, ...changes }).map(({ field }) => field);

describe('a repair', () => {
  test('that says all of what belongs together is taken', () => {
    expect(fields({})).toEqual([]);
    expect(fields({ method: 'weld-repair', weldProcedureId: 'wp', fillerBatch: 'FB-1', chosen: [{ choice: 'process', value: '135' }] })).toEqual([]);
    expect(fields({ depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null, instrumentId: null, spliceId: 's' })).toEqual([]);
  });

  test('welded without a procedure, or by one though nothing was welded, is refused', () => {
    expect(fields({ method: 'weld-repair' })).toEqual(['weldProcedureId']);
    expect(fields({ weldProcedureId: 'wp', readings: [{ variable: 'current', printed: '180', unit: 'A' }], chosen: [{ choice: 'process', value: '135' }], fillerBatch: 'FB-1' }))
      .toEqual(['weldProcedureId', 'readings', 'chosen', 'fillerBatch']);
  });

  test('of two things, with a limit for nothing, or an instrument that measured nothing, is refused', () => {
    expect(fields({ spliceId: 's', rejoinId: 'r' })).toEqual(['rejoinId']);
    expect(fields({ remainingWallMm: null })).toEqual(['wallLimitMm']);
    expect(fields({ depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null })).toEqual(['instrumentId']);
  });
});

describe('what a repair took and left', () => {
  const figures = { method: 'grinding', depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50' } as const;
  const found = (changes: Partial<Parameters<typeof wallFindings>[0]>): unknown[] => wallFindings({ ...figures, ...changes }, '5.00').map(({ tier, field }) => [tier, field]);

  test('is held against its limit exactly: on it conforms', () => {
    expect(found({})).toEqual([]);
    expect(found({ remainingWallMm: '4.5' })).toEqual([]);
    expect(found({ remainingWallMm: '4.499999999' })).toEqual([['out-of-specification', 'remainingWallMm']]);
    expect(found({ remainingWallMm: '4.1', wallLimitMm: null })).toEqual([]);
  });

  test('is asked about where no such pipe has it', () => {
    expect(found({ depthRemovedMm: '5.00' })).toEqual([]);
    expect(found({ depthRemovedMm: '5.01' })).toEqual([['implausible', 'depthRemovedMm']]);
    expect(found({ remainingWallMm: '0' })).toEqual([['implausible', 'remainingWallMm'], ['out-of-specification', 'remainingWallMm']]);
    expect(found({ remainingWallMm: '46.2' })).toEqual([['implausible', 'remainingWallMm']]);
  });

  test('is missed where metal was taken away, and nowhere else', () => {
    expect(found({ depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null })).toEqual([['noted', 'depthRemovedMm'], ['noted', 'remainingWallMm']]);
    expect(found({ method: 'sleeve', depthRemovedMm: null, remainingWallMm: null, wallLimitMm: null })).toEqual([]);
  });
});

test('a re-join that is named is marked unless the record lies at its joint, or touches it', () => {
  const joint = IntervalSet.of({ fromMm: 499, toMm: 701 });
  expect([liesOffJoint('j', { fromMm: 701, toMm: 710 }, joint), liesOffJoint('j', { fromMm: 400, toMm: 499 }, joint)]).toEqual([[], []]);
  expect(liesOffJoint('j', { fromMm: 702, toMm: 710 }, joint)).toEqual([{ tier: 'noted', field: 'rejoinId', value: 'j', limit: 'one on the same pipe; it lies on 499 to 701 mm' }]);
});

test('what is named and lies elsewhere is marked; to touch is to lie elsewhere', () => {
  const named = { fromMm: 100, toMm: 200 };
  expect(liesElsewhere('spliceId', 'a', { fromMm: 199, toMm: 250 }, named)).toEqual([]);
  expect(liesElsewhere('spliceId', 'a', { fromMm: 200, toMm: 250 }, named)).toEqual([{ tier: 'noted', field: 'spliceId', value: 'a', limit: 'one on the same pipe; it lies on 100 to 200 mm' }]);
  expect(liesElsewhere('spliceId', 'a', { fromMm: 50, toMm: 100 }, named)).toHaveLength(1);
});
