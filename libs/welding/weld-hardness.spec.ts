import { describe, expect, test } from '@jest/globals';
import type { ConformityRules } from '#libs/conformity';
import { hardnessLimit, hardnessLocation, judgeWeldHardness, type HardnessLocation, type HardnessReading } from '#libs/welding';

const RULES: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };
const LIMIT = { max: '250', unit: 'HV10' };

const reading = (location: HardnessLocation, printed: string, overrides: Partial<HardnessReading> = {}): HardnessReading =>
  ({ location, printed, unit: 'HV10', expandedU: null, ...overrides });
const sound = [reading('weld', '210'), reading('heat-affected-zone', '232'), reading('parent', '180')];

describe('hardnessLimit', () => {
  test('is known of groups 1 and 2 alone, and is marked from memory', () => {
    expect(['1', '1.2', '2', '2.1'].map((group) => hardnessLimit(group, 'as-welded')?.max)).toEqual(['380', '380', '380', '380']);
    expect(hardnessLimit('1.3', 'heat-treated')).toMatchObject({ max: '320', unit: 'HV10', fromMemory: true });
    expect(['3', '11', '12', '1.', '', 'X'].map((group) => hardnessLimit(group, 'as-welded'))).toEqual([null, null, null, null, null, null]);
  });
});

describe('hardnessLocation', () => {
  const zones = { hazFromMm: 4, weldFromMm: 6, weldToMm: 12, hazToMm: 15 };

  test.each([
    [3.9, 'parent', 'before'], [4, 'heat-affected-zone', 'before'], [5, 'heat-affected-zone', 'before'], [6, 'heat-affected-zone', 'before'],
    [6.1, 'weld', null], [11.9, 'weld', null], [12, 'heat-affected-zone', 'after'], [15, 'heat-affected-zone', 'after'], [15.1, 'parent', 'after'],
  ])('%d mm lies in the %s', (place, location, side) => {
    expect(hardnessLocation(place, zones)).toEqual({ location, side });
  });

  test('zones that do not rise, and places that are none, are refused', () => {
    expect(() => hardnessLocation(5, { ...zones, weldFromMm: 3 })).toThrow(new RangeError('zones do not rise: 4, 3, 12, 15 mm'));
    expect(() => hardnessLocation(5, { ...zones, weldToMm: 6 })).toThrow(RangeError);
    expect(() => hardnessLocation(5, { ...zones, hazToMm: 11 })).toThrow(RangeError);
    expect(() => hardnessLocation(Number.NaN, zones)).toThrow(new RangeError('a place on the row is not finite'));
  });
});

describe('judgeWeldHardness', () => {
  test('the hardest place decides, not the mean', () => {
    const { verdict, lines } = judgeWeldHardness([...sound, reading('heat-affected-zone', '268')], LIMIT, RULES);
    expect(verdict).toBe('does-not-conform');
    expect(lines.map((line) => [line.location, line.verdict, line.judgement?.margin])).toEqual([
      ['weld', 'conforms', '40'], ['heat-affected-zone', 'conforms', '18'], ['parent', 'conforms', '70'],
      ['heat-affected-zone', 'does-not-conform', '-18'],
    ]);
  });

  test('on the limit it conforms', () => {
    expect(judgeWeldHardness([...sound, reading('weld', '250')], LIMIT, RULES).verdict).toBe('conforms');
  });

  test('a location that nobody measured is not clean', () => {
    const { verdict, lines } = judgeWeldHardness(sound.slice(0, 2), LIMIT, RULES);
    expect(verdict).toBe('not-reported');
    expect(lines[2]).toEqual({ location: 'parent', reading: null, judgement: null, verdict: 'not-reported' });
    expect(judgeWeldHardness([], LIMIT, RULES).lines).toHaveLength(3);
  });

  test('another scale is not converted', () => {
    const { verdict, lines } = judgeWeldHardness([...sound, reading('weld', '21', { unit: 'HRC' })], LIMIT, RULES);
    expect([verdict, lines[3]?.judgement?.reason]).toEqual([
      'not-comparable', 'the value is in HRC (a scale of its own) and the limits are in HV10 (a scale of its own): they are not comparable',
    ]);
  });

  test("the project's decision rule counts", () => {
    const guarded = judgeWeldHardness([...sound, reading('weld', '247', { expandedU: '6' })], LIMIT, { ...RULES, decision: 'guarded-acceptance' });
    expect(guarded.lines[3]?.verdict).toBe('inside-guard-band');
  });
});
