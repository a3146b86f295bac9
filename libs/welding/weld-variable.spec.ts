import { describe, expect, test } from '@jest/globals';
import { UNITS } from '#libs/units';
import { findWeldVariable, HEAT_INPUT_METHODS, WELD_VARIABLES } from '#libs/welding';

describe('the catalogue of weld variables', () => {
  const named = WELD_VARIABLES.map((one) => [one.code, one] as const);

  test.each(named)('%s: units of one dimension, and what is usual lies within what is possible', (_code, one) => {
    const dimensions = new Set(one.units.map((unit) => UNITS[unit].dimension));
    expect(dimensions.size).toBe(1);
    expect(new Set(one.units).size).toBe(one.units.length);
    expect(one.possible.min).toBeLessThan(one.possible.max);
    const usual = one.usual ?? one.possible;
    expect(usual.min).toBeLessThan(usual.max);
    expect([usual.min >= one.possible.min, usual.max <= one.possible.max]).toEqual([true, true]);
  });

  test('is found letter for letter, and no two have one code or name', () => {
    expect(WELD_VARIABLES.map(({ code }) => findWeldVariable(code))).toEqual(WELD_VARIABLES);
    expect(['Current', 'current ', 'toString', ''].map(findWeldVariable)).toEqual([null, null, null, null]);
    expect(new Set(WELD_VARIABLES.map(({ name }) => name)).size).toBe(WELD_VARIABLES.length);
  });

  test('has every method of heat input, in kJ/mm first', () => {
    expect(HEAT_INPUT_METHODS.map((method) => findWeldVariable(method)?.units[0])).toEqual(HEAT_INPUT_METHODS.map(() => 'kJ/mm'));
  });

  // Common practice, no published source: the refuse-limits of the trade.
  test.each([
    ['strip-thickness', 'mm', 0.5, 30], ['splice-angle', 'deg', 10, 90], ['current', 'A', 0, 20_000], ['voltage', 'V', 0, 1000],
    ['power', 'kW', 0, 2000], ['line-speed', 'm/min', -60, 250], ['weld-point-temperature', 'degC', 0, 2000], ['gas-flow', 'L/min', 0, 500],
    ['heat-treatment-temperature', 'degC', -20, 1400],
  ])('%s is refused outside its bounds in %s: %d to %d', (code, unit, min, max) => {
    expect(findWeldVariable(code)).toMatchObject({ possible: { min, max }, basis: 'common practice' });
    expect(findWeldVariable(code)?.units[0]).toBe(unit);
  });

  test('only the procedure says what current is usual; a flat splice is asked about', () => {
    expect(findWeldVariable('current')?.usual).toBeNull();
    expect(findWeldVariable('splice-angle')?.usual).toEqual({ min: 30, max: 90 });
  });
});
