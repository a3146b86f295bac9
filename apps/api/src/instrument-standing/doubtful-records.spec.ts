import { expect, test } from '@jest/globals';
import type { DoubtfulSpan } from '#libs/validity';
import { findingOf, saidOf } from './doubtful-records.js';

const span: DoubtfulSpan = {
  from: null, to: '2026-03-10T12:00:00.000000Z', foundBy: 'c', found: 'out', lastInTolerance: null,
  deviations: [{ calibration: 'c', when: 'as-found', point: '5 mm', deviation: '0.03', min: '-0.02', max: '0.02', unit: 'mm', timesTolerance: 1.5 }],
};
const mm = (value: string) => ({ value, unit: 'mm' });

test('the gravest reading decides for its record', () => {
  expect(findingOf([mm('0.05'), mm('0.03')], span)).toBe('enough');
  expect(findingOf([mm('0.05'), mm('0.029')], span)).toBe('less-than-deviation');
  expect(findingOf([mm('0.05'), { value: '3', unit: 'A' }], span)).toBe('not-comparable');
  expect(findingOf([null, mm('-0.01')], span)).toBe('less-than-deviation');
  expect(findingOf([], span)).toBe('not-comparable');
});

test('each reading is told with the nearest of its limits', () => {
  expect(saidOf([{ said: 'gap 0.2 mm', margin: mm('0.3') }, { said: 'gap 0.2 mm', margin: mm('0.1') }, { said: 'high-low 0.7 mm', margin: mm('-0.2') }, { said: 'voltage 24 V', margin: null }]))
    .toBe('gap 0.2 mm; 0.1 mm inside its limit; high-low 0.7 mm; 0.2 mm beyond its limit; voltage 24 V; no limit to compare with');
  expect(saidOf([])).toBe('nothing that could be read');
});
