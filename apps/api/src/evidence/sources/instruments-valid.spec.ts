import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { CalibrationVersion } from '../../calibrations/calibration.entity.js';
import { Instrument } from '../../instruments/instrument.entity.js';
import { instrumentJudge, instrumentsOf, instrumentWords } from './instruments-valid.js';
import type { WorkOnPipe } from './string-work.js';
import type { WordOnPipe } from './word-on-pipe.js';

const day = (month: number, date = 1): string => `2026-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}T08:00:00.000000Z`;
const point = (deviation: string) => ({ point: '5.00 mm', deviation, min: '-0.02', max: '0.02', unit: 'mm', expandedU: null });
const calibration = (id: string, observedAt: string, changes: Partial<CalibrationVersion> = {}): CalibrationVersion => Object.assign(new CalibrationVersion(), {
  id, version: 1, instrumentId: 'gauge', certificateNumber: id, observedAt, enteredAt: observedAt, asFound: [point('0.00')], asLeft: null, decision: 'simple-acceptance', guardFactor: '1', dueOn: null,
}, changes);
const instrument = (state: 'active' | 'void' = 'active'): Instrument => Object.assign(new Instrument(), { id: 'gauge', version: 1, number: 'UT-04', state, enteredAt: day(1) });

const work = (observedAt: string, ...instrumentIds: readonly (string | null)[]): WorkOnPipe => ({
  record: { kind: 'inspection', id: 'i1', version: 1, label: 'wall' }, on: IntervalSet.of({ fromMm: 0, toMm: 100 }), observedAt, enteredAt: observedAt, parts: [],
  readings: instrumentIds.map((instrumentId, index) => ({ instrumentId, name: `readings[${index}], wall` })),
});
const words = (one: WorkOnPipe, calibrations: readonly CalibrationVersion[], row = instrument(), offsetMinutes = 0): WordOnPipe[] =>
  instrumentWords([one], instrumentJudge(new Map([['gauge', { row, calibrations }]])), (instant) => ({ instant, offsetMinutes }));
const shown = (said: readonly WordOnPipe[]): string[] => said.map(({ says, records }) => `${says} ${records.map(({ id }) => id).join()}`);

describe('a reading', () => {
  test('is confirmed by the calibration before it, to the end of the local day on which the next is due', () => {
    const due = [calibration('c1', day(1), { dueOn: '2026-03-02' })];
    expect(shown(words(work('2026-03-02T23:30:00.000000Z', 'gauge'), due))).toEqual(['confirmed i1,gauge,c1']);
    expect(shown(words(work('2026-03-02T23:30:00.000000Z', 'gauge'), due, instrument(), 60))).toEqual(['suspect i1,gauge,c1']);
  });

  test('is in doubt before the first calibration, by an instrument not on record, and by one whose record was withdrawn', () => {
    expect(shown(words(work(day(2), 'gauge'), [calibration('c1', day(3))]))).toEqual(['suspect i1,gauge']);
    expect(shown(words(work(day(2), 'other'), [calibration('c1', day(1))]))).toEqual(['suspect i1']);
    expect(shown(words(work(day(2), 'gauge'), [calibration('c1', day(1))], instrument('void')))).toEqual(['suspect i1,gauge,c1']);
  });

  test('was good by what was known then, and is in doubt once a later calibration found the instrument out', () => {
    const before = [calibration('c1', day(1))];
    const found = [...before, calibration('c2', day(4), { asFound: [point('0.05')], asLeft: [point('0.00')] })];
    expect(shown(words(work(day(2), 'gauge'), before))).toEqual(['confirmed i1,gauge,c1']);
    expect(shown(words(work(day(2), 'gauge'), found))).toEqual(['suspect i1,gauge,c1,c2']);
    expect(words(work(day(2), 'gauge'), found)[0]?.because).toContain('UT-04 was not good on 2026-02-01, local day at UTC+00:00: found out of tolerance');
    expect(shown(words(work(day(4), 'gauge'), found))).toEqual(['confirmed i1,gauge,c2']);
  });

  test('is not late for a calibration that came after it and found the instrument good', () => {
    const [word] = words(work(day(2), 'gauge'), [calibration('c1', day(1)), calibration('c2', day(4))]);
    expect(word).toMatchObject({ says: 'confirmed', enteredAt: [day(2), day(1), day(1)] });
  });

  test('that names no instrument leaves its pipe in doubt, whatever the others are', () => {
    const [word, ...others] = words(work(day(2), 'gauge', null), [calibration('c1', day(1))]);
    expect([word?.says, word?.because, others]).toEqual(['suspect', 'readings[1], wall, names no instrument on record', []]);
  });

  test('is one word for a record, and none for a record without readings', () => {
    expect(shown(words(work(day(2), 'gauge', 'gauge'), [calibration('c1', day(1))]))).toEqual(['confirmed i1,gauge,c1']);
    expect(words(work(day(2)), [])).toEqual([]);
    expect(instrumentsOf([work(day(2), 'gauge', null, 'gauge'), work(day(2), 'other')])).toEqual(['gauge', 'other']);
  });

  test('is judged once between two calibrations on one day, and anew after the next', () => {
    const judge = instrumentJudge(new Map([['gauge', { row: instrument(), calibrations: [calibration('c1', day(1)), calibration('c2', day(2, 3), { asFound: [point('0.05')], asLeft: [point('0')] })] }]]));
    const moment = (instant: string) => ({ instant, offsetMinutes: 0 });
    expect(judge('gauge', moment('2026-02-03T06:00:00.000000Z'))).toBe(judge('gauge', moment('2026-02-03T07:59:59.999999Z')));
    expect([judge('gauge', moment('2026-02-03T07:59:59.999999Z')).isGood, judge('gauge', moment('2026-02-03T08:00:00.000000Z')).isGood]).toEqual([false, true]);
  });
});
