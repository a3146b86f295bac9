import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import type { Examination } from '../examinations/examination.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { jointOf } from '../rejoins/joint.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { examinationLook, inspectionLook, looksAmong, repairOf, stepLooks } from './looks.js';

const OBSERVED_AT = '2026-03-02T08:15:00.000000Z';
const common = { id: 'x', version: 1, observedAt: OBSERVED_AT, doneBy: 'someone', span: { fromMm: 510, toMm: 520 } };
const inspection = (changes: Partial<Inspection>): Inspection =>
  ({ ...common, kind: 'visual', characteristic: 'Seam ', verdict: 'accepted', ...changes }) as Inspection;

describe('a re-join', () => {
  test('is at both ends of what was cut out, by whichever footage its records are given', () => {
    const cut = { fromMm: 500, toMm: 700 };
    const joints = new Map([['j', jointOf(cut)]]);
    const left = (rejoinId: string | null): string => repairOf({ ...common, rejoinId } as Repair, joints).on.subtract(cut).toMultirange();
    expect([left('j'), left(null)]).toEqual(['{[499,500),[700,701)}', '{}']);
    expect(examinationLook({ ...common, technique: ' RT-02 ', rejoinId: 'j' } as Examination, joints).on.subtract(cut).toMultirange()).toBe('{[499,500),[700,701)}');
  });

  test('named by what lies elsewhere is not what was examined or repaired; what touches it is at it', () => {
    const joints = new Map([['j', jointOf({ fromMm: 500, toMm: 700 })]]);
    const on = (fromMm: number, toMm: number): string => examinationLook({ ...common, span: { fromMm, toMm }, technique: 'RT-02', rejoinId: 'j' } as Examination, joints).on.toMultirange();
    expect([on(900_000, 900_010), on(702, 710), on(701, 710)]).toEqual(['{[900000,900010)}', '{[702,710)}', '{[499,710)}']);
    expect(repairOf({ ...common, span: { fromMm: 900_000, toMm: 900_010 }, rejoinId: 'j' } as Repair, joints).on.toMultirange()).toBe('{[900000,900010)}');
  });
});

describe('a look', () => {
  test('at a dimension is none for flaws, and is repeated by its own characteristic', () => {
    expect(inspectionLook(inspection({}))).toMatchObject({ method: 'visual: seam', seesFlaws: true, outcome: 'accepted', technique: null, sensitivity: null });
    expect(inspectionLook(inspection({ kind: 'dimensional', characteristic: 'wall thickness', verdict: 'for-evaluation' })))
      .toMatchObject({ method: 'dimensional: wall thickness', seesFlaws: false, outcome: 'held' });
  });

  test('states its sensitivity only with reflector and size', () => {
    const examined = (changes: Partial<Examination>) => examinationLook({ ...common, method: 'UT', technique: 'UT-04', rejoinId: null, ...changes } as Examination, new Map());
    expect(examined({ reflector: 'wire', reflectorSizeMm: '0.2' }).sensitivity).toEqual({ reflector: 'wire', sizeMm: '0.2' });
    expect(examined({ reflector: null, reflectorSizeMm: null }).sensitivity).toBeNull();
  });

  test('of a step is each of its examinations over the splice; those of the prepared ends are none', () => {
    const step = (stage: SpliceStep['stage']): SpliceStep => ({
      ...common, stage, outcome: 'accepted',
      examinations: [{ method: 'RT', technique: 'RT-02', outcome: 'held', personId: 'another', seen: null }, { method: 'VT', technique: 'VT-01', outcome: 'accepted', personId: null, seen: null }],
    }) as unknown as SpliceStep;
    const looks = stepLooks(step('after-forming'), { fromMm: 1, toMm: 9 });
    expect(looks.map(({ method, doneBy, outcome, on }) => [method, doneBy, outcome, on.equals(IntervalSet.of({ fromMm: 1, toMm: 9 }))])).toEqual([
      ['RT', 'another', 'held', true], ['VT', 'someone', 'accepted', true],
    ]);
    expect(stepLooks(step('preparation'), { fromMm: 1, toMm: 9 })).toEqual([]);
  });
});

test('the looks at some pipe are those that lie on it or at a joint on it, examinations in time', () => {
  const examined = (id: string, clock: string, fromMm: number, rejoinId: string | null = null): Examination =>
    ({ ...common, id, observedAt: `2026-03-02T${clock}:00.000000Z`, span: { fromMm, toMm: fromMm + 10 }, technique: 'UT-04', rejoinId }) as Examination;
  const step = (id: string, spliceId: string): SpliceStep => ({ ...common, id, spliceId, stage: 'after-forming', examinations: [{ method: 'RT', technique: 'RT-02', outcome: 'accepted', personId: null, seen: null }] }) as unknown as SpliceStep;
  const looks = looksAmong({
    examinations: [examined('e3', '09:00', 500), examined('e2', '08:00', 510), examined('e1', '08:00', 519), examined('beside', '07:00', 520), examined('joint', '10:00', 699, 'j')],
    inspections: [inspection({ id: 'i1', span: { fromMm: 500, toMm: 510 } }), inspection({ id: 'i2', span: { fromMm: 500, toMm: 511 } })],
    splices: [{ id: 'splice', span: { fromMm: 519, toMm: 600 } }, { id: 'another', span: { fromMm: 520, toMm: 600 } }],
    steps: [step('s1', 'another'), step('s2', 'splice')],
  }, IntervalSet.of({ fromMm: 510, toMm: 520 }).union({ fromMm: 499, toMm: 500 }), new Map([['j', jointOf({ fromMm: 500, toMm: 700 })]]));
  expect(looks.map(({ record }) => record.id)).toEqual(['e1', 'e2', 'joint', 'i2', 's2']);
});
