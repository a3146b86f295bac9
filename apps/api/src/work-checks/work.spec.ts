import { describe, expect, test } from '@jest/globals';
import { workOfExamination, workOfInspection, workOfRepair, workOfSeamEvent, workOfStep } from './work.js';

type Step = Parameters<typeof workOfStep>[0];
const step = (changes: Partial<Step>): Step => ({ stage: 'flat-strip-release', outcome: 'accepted', station: null, readings: [], examinations: [], doneBy: 'doer', ...changes });
const radiographed = { method: 'RT', technique: 'RT-02 rev 3', outcome: 'accepted', personId: 'examiner', seen: null } as const;
const reading = (printed: string) => ({ measured: 'high-low', printed, unit: 'mm', min: null, max: null, instrumentId: null }) as const;

describe('a step of a splice', () => {
  test('has an examiner for each examination, by method, technique and what was read, each as first reported', () => {
    const { parts, open } = workOfStep(step({ examinations: [radiographed], readings: [reading('0.2'), reading('0.9')] }));
    expect(open).toEqual([]);
    expect(parts).toEqual([
      { role: 'doer', did: 'flat-strip-release', personId: 'doer', isNamed: true, work: null },
      {
        role: 'examiner', did: 'examinations[0], RT by RT-02 rev 3', personId: 'examiner', isNamed: true,
        work: { method: 'RT', level: null, variables: [{ name: 'technique', value: 'RT-02 rev 3', unit: null }, { name: 'high-low', value: '0.2', unit: 'mm' }] },
      },
    ]);
  });

  test('whose examiner is not named takes who did it, and leaves that open', () => {
    const { parts, open } = workOfStep(step({ examinations: [{ ...radiographed, personId: null }] }));
    expect(parts[1]).toMatchObject({ personId: 'doer', isNamed: false });
    expect(open).toMatchObject([{ about: 'person', words: expect.stringContaining('names no examiner') }]);
  });

  test('accepted with nothing examined or measured rests on nothing; one that was held or seen at a station does not', () => {
    expect(workOfStep(step({})).open).toMatchObject([{ about: 'record' }]);
    expect(workOfStep(step({ outcome: 'held' })).open).toEqual([]);
    expect(workOfStep(step({ readings: [reading('0.2')] })).open).toEqual([]);
    expect(workOfStep(step({ stage: 'station-sighting', station: 'UT' }))).toMatchObject({
      open: [], parts: [{ role: 'doer', did: 'seen at UT', work: { method: 'VT', variables: [{ name: 'station', value: 'UT' }] } }],
    });
  });
});

test('a seam event has an operator, by the process of its procedure', () => {
  const readings = [{ variable: 'power', printed: '182', unit: 'kW', instrumentId: 'i' }] as const;
  expect(workOfSeamEvent({ event: 'start', readings, doneBy: 'operator' }, '74')).toMatchObject({
    parts: [{ role: 'operator', personId: 'operator', work: { method: '74', level: null, variables: [{ name: 'power', value: '182', unit: 'kW' }] } }],
    readings: [{ instrumentId: 'i', name: 'readings[0], power' }], remarks: [],
  });
});

describe('an inspection', () => {
  const inspection = { kind: 'visual', characteristic: 'seam trim', surface: 'formed-outside', instrumentId: null, doneBy: 'inspector' } as const;

  test('by eye is visual testing, and needs no instrument', () => {
    expect(workOfInspection(inspection)).toMatchObject({
      parts: [{ role: 'inspector', work: { method: 'VT', variables: [{ name: 'characteristic', value: 'seam trim' }, { name: 'surface', value: 'formed-outside' }] } }], readings: [],
    });
    expect(workOfInspection({ ...inspection, surface: null, instrumentId: 'lamp' }).readings).toEqual([{ instrumentId: 'lamp', name: 'seam trim' }]);
  });

  test('by measuring is held against its instrument alone, and says so', () => {
    expect(workOfInspection({ ...inspection, kind: 'dimensional', characteristic: 'wall thickness' })).toMatchObject({
      parts: [{ work: null }], readings: [{ instrumentId: null, name: 'wall thickness' }], remarks: [expect.stringContaining('only the instrument was')],
    });
  });
});

test('an examination is held against method, technique and the reflector that it had to show', () => {
  const examination = { method: 'UT', technique: 'UT-04 rev 2', reflector: 'notch-outside', reflectorSizeMm: '0.5', instrumentId: 'set', doneBy: 'examiner' } as const;
  expect(workOfExamination(examination)).toMatchObject({
    parts: [{
      role: 'examiner', personId: 'examiner', work: {
        method: 'UT', variables: [{ name: 'technique', value: 'UT-04 rev 2' }, { name: 'reflector', value: 'notch-outside' }, { name: 'reflector-size', value: '0.5', unit: 'mm' }],
      },
    }],
    readings: [{ instrumentId: 'set' }], open: [],
  });
  expect(workOfExamination({ ...examination, reflector: null, reflectorSizeMm: null, instrumentId: null })).toMatchObject({ parts: [{ work: { variables: [{ name: 'technique' }] } }], readings: [] });
});

describe('a repair', () => {
  const repair = { method: 'grinding', readings: [], chosen: [], instrumentId: null, depthRemovedMm: '0.3', remainingWallMm: null, doneBy: 'welder' } as const;

  test('by grinding has no method to hold a qualification against, and says so; what was measured names its instrument or none', () => {
    expect(workOfRepair(repair, null)).toMatchObject({ parts: [{ work: null }], readings: [{ instrumentId: null }], remarks: [expect.stringContaining('only the instruments were')] });
    expect(workOfRepair({ ...repair, depthRemovedMm: null }, null).readings).toEqual([]);
  });

  test('by welding is held against the process chosen, or else that of the procedure', () => {
    const welded = { ...repair, method: 'weld-repair', depthRemovedMm: null, readings: [{ variable: 'current', printed: '95', unit: 'A', instrumentId: 'meter' }] } as const;
    expect(workOfRepair(welded, { process: '141' })).toMatchObject({
      parts: [{ personId: 'welder', work: { method: '141', variables: [{ name: 'current', value: '95', unit: 'A' }] } }], readings: [{ instrumentId: 'meter', name: 'readings[0], current' }], remarks: [],
    });
    expect(workOfRepair({ ...welded, chosen: [{ choice: 'process', value: '135' }] }, { process: '141' }).parts[0]?.work?.method).toBe('135');
  });
});
