import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { Examination } from '../../examinations/examination.entity.js';
import { afterRepair, type Changes } from '../../reinspections/after-repair.js';
import { examinationLook, repairOf } from '../../reinspections/looks.js';
import { openAfter } from '../../reinspections/reinspection-answer.js';
import type { RepairWithOpen } from '../../reinspections/reinspections.service.js';
import { Repair } from '../../repairs/repair.entity.js';
import { repairsReinspected } from './repairs-reinspected.source.js';

const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
const repair = (id: string, hour: number, fromMm: number, toMm: number): Repair => Object.assign(new Repair(), {
  id, version: 1, method: 'grinding', span: { fromMm, toMm }, rejoinId: null, observedAt: at(hour), enteredAt: at(hour), doneBy: 'welder', marks: [],
});
const examined = (id: string, hour: number, fromMm: number, toMm: number, outcome: 'accepted' | 'rejected' = 'accepted'): Examination => Object.assign(new Examination(), {
  id, version: 1, method: 'UT', technique: 'UT-1', reflector: 'notch-outside', reflectorSizeMm: '0.5', outcome, standsInFor: [], standInReason: null, rejoinId: null,
  span: { fromMm, toMm }, observedAt: at(hour), enteredAt: at(hour), doneBy: 'examiner',
});

const pipe = IntervalSet.of({ fromMm: 0, toMm: 1000 });

function said(repairs: readonly Repair[], examinations: readonly Examination[]): string[] {
  const recorded = repairs.map((row) => repairOf(row, new Map()));
  const changed: Changes = { repairs: recorded, welds: [], removed: IntervalSet.empty };
  const looks = examinations.map((row) => examinationLook(row, new Map()));
  const open = recorded.map((one): RepairWithOpen => ({ repair: one, open: openAfter(one, IntervalSet.empty, afterRepair(one, changed, looks)) }));
  return repairsReinspected(open, pipe).map(({ on, says, records }) => `${says} ${on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()} ${records.map(({ id }) => id).join()}`);
}

describe('pipe that was repaired', () => {
  test('is in doubt until it was looked at; the rest has no repair that is open', () => {
    expect(said([repair('r1', 8, 200, 300)], [])).toEqual(['suspect 200-300 r1', 'confirmed 0-200,300-1000 ']);
  });

  test('stays in doubt where the look since does not reach, to the millimetre', () => {
    expect(said([repair('r1', 8, 200, 300)], [examined('e1', 9, 201, 400)])).toEqual(['suspect 200-201 r1', 'confirmed 0-200,201-1000 ']);
    expect(said([repair('r1', 8, 200, 300)], [examined('e1', 9, 200, 300)])).toEqual(['confirmed 0-1000 ']);
  });

  test('is open again once it was repaired again: the look in between counts no more', () => {
    expect(said([repair('r1', 8, 200, 300), repair('r2', 10, 250, 300)], [examined('e1', 9, 200, 300)])).toEqual(['suspect 250-300 r2,e1', 'confirmed 0-250,300-1000 ']);
  });

  test('is against it where a look since rejected it, with that look', () => {
    expect(said([repair('r1', 8, 200, 300)], [examined('e1', 9, 200, 300, 'rejected')])).toEqual(['suspect 200-300 r1,e1', 'confirmed 0-200,300-1000 ']);
  });

  test('is told with the repair and when it was made', () => {
    const row = repair('r1', 8, 200, 300);
    const one = repairOf(row, new Map());
    const open = openAfter(one, IntervalSet.empty, afterRepair(one, { repairs: [one], welds: [], removed: IntervalSet.empty }, []));
    const [word] = repairsReinspected([{ repair: one, open }], pipe);
    expect(word).toMatchObject({ because: expect.stringContaining(`of ${at(8)}: 200 to 300 mm: not looked at for flaws since`), enteredAt: [at(8)] });
    expect(one.atUs).toBe(microseconds(at(8)));
  });
});
