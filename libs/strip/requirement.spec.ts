import { describe, expect, test } from '@jest/globals';
import { CHARACTERISTICS, requirementFaults, requirementName, type Requirement } from '#libs/strip';
import { requirement } from './evaluation.factory.js';

const TABLES = new Set(['EN 10051 category A', 'Slit strip, agreed']);
const faults = (characteristic: string, overrides: Partial<Requirement> = {}) => requirementFaults(requirement(characteristic, overrides), TABLES);

/** The conditions that a characteristic cannot do without. */
function conditions(code: string): Partial<Requirement> {
  return { ...(code === 'KV2' ? { temperatureC: '-20' } : {}), ...(code === 'camber' ? { baseMm: '2000' } : {}) };
}

describe('requirementName', () => {
  test.each([
    ['C, heat analysis', requirement('C')], ['C, product analysis', requirement('C', { analysis: 'product' })], ['ReH', requirement('ReH')],
    ['KV2 at -20 °C', requirement('KV2', { temperatureC: '-20' })], ['camber over 2000 mm', requirement('camber', { baseMm: '2000' })],
  ])('%s', (name, one) => {
    expect(requirementName(one)).toBe(name);
  });
});

describe('requirementFaults', () => {
  test('there are none in a requirement of any characteristic, in any of its units', () => {
    for (const { code, units } of CHARACTERISTICS) {
      for (const unit of units) expect(faults(code, { unit, min: '0', max: '0', ...conditions(code) })).toEqual([]);
    }
  });

  test('a characteristic that nobody knows is told alone', () => {
    expect(faults('C', { characteristic: 'c', unit: 'mm' })).toEqual([{ field: 'characteristic', value: 'c', limit: 'the symbol of a known characteristic' }]);
  });

  test.each([
    ['a unit of something else', 'ReH', { unit: '%' }, { field: 'unit', value: '%', limit: 'for ReH one of MPa, N/mm2, ksi, psi' }],
    ['another hardness scale', 'HV10', { unit: 'HV5' }, { field: 'unit', value: 'HV5', limit: 'for HV10 one of HV10' }],
    ['chemistry without an analysis', 'C', { analysis: null }, { field: 'analysis', value: null, limit: 'heat or product, for C' }],
    ['an equivalent without an analysis', 'Pcm', { analysis: null }, { field: 'analysis', value: null, limit: 'heat or product, for Pcm' }],
    ['an analysis of what is not chemical', 'Rm', { analysis: 'heat' }, { field: 'analysis', value: 'heat', limit: 'no analysis, for Rm' }],
    ['reversed limits', 'Rm', { min: '620', max: '480' }, { field: 'max', value: '480', limit: 'at least the 620 of min' }],
    ['a deviation of what has no ordered size', 'Rm', { limitOf: 'deviation' }, { field: 'limitOf', value: 'deviation', limit: 'value: only thickness and width have an ordered size' }],
    ['a table for something else', 'width', { toleranceTable: 'Slit strip, agreed' }, { field: 'toleranceTable', value: 'Slit strip, agreed', limit: 'a table only for thickness' }],
    ['a table in inches', 'thickness', { toleranceTable: 'Slit strip, agreed', unit: 'in' }, { field: 'unit', value: 'in', limit: 'mm, with a tolerance table' }],
    ['a table and limits', 'thickness', { toleranceTable: 'Slit strip, agreed', max: '5.2' }, { field: 'toleranceTable', value: 'Slit strip, agreed', limit: 'either a table, or min and max' }],
    ['a table that there is not', 'thickness', { toleranceTable: 'EN 10051' }, { field: 'toleranceTable', value: 'EN 10051', limit: 'one of EN 10051 category A; Slit strip, agreed' }],
    ['impact without a temperature', 'KV2', {}, { field: 'temperatureC', value: null, limit: 'the test temperature' }],
    ['a temperature of what is no impact test', 'Rm', { temperatureC: '20' }, { field: 'temperatureC', value: '20', limit: 'only for impact' }],
    ['camber without its base length', 'camber', {}, { field: 'baseMm', value: null, limit: 'the base length: it is part of the value' }],
    ['a base length of what is no camber', 'width', { baseMm: '2000' }, { field: 'baseMm', value: '2000', limit: 'only for camber' }],
  ] as const)('%s', (_what, code, overrides, fault) => {
    expect(faults(code, overrides)).toEqual([fault]);
  });

  test('limits may be equal, and differ by one digit only the right way round', () => {
    expect(faults('Rm', { min: '480', max: '480.0' })).toEqual([]);
    expect(faults('Rm', { min: '480', max: '479.9' })).toHaveLength(1);
    expect(faults('thickness', { min: '-0.15', max: '0', limitOf: 'deviation' })).toEqual([]);
    expect(faults('width', { min: '0', max: '-1', limitOf: 'deviation' })).toHaveLength(1);
  });

  test('all faults are told at once', () => {
    expect(faults('Rm', { unit: '%', analysis: 'heat', min: '2', max: '1', baseMm: '1', temperatureC: '1' }).map(({ field }) => field)).toEqual(
      ['unit', 'analysis', 'max', 'temperatureC', 'baseMm'],
    );
  });
});
