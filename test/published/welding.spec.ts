import { describe, expect, test } from '@jest/globals';
import { convert, type UnitName } from '#libs/units';
import {
  arcEnergy, CRACK_LIMIT, excessWeldMetalLimit, findWeldVariable, hardnessLimit, heatInputAsme, heatInputEn, misalignmentLimit,
  PROCESSES_WITH_EFFICIENCY, rootPenetrationLimit, seamJunctions, spliceGeometry, thermalEfficiency, undercutLimit,
  type ArcReadings, type HeatInput, type ImperfectionLimit, type QualityLevel,
} from '#libs/welding';
import {
  checkOf, expectedNames, expectedNumber, expectedOf, expectPrinted, inputNumber, printedText, titled, tradeCases, type Expected, type TradeCase,
} from './trade-cases.js';

/** The conversions between hardness scales of this file are checked with those of strip. */
const cases = tradeCases('04-welding.json').filter(({ id }) => !id.startsWith('hrc-'));

/** The readings of a case; its speed in the unit that the case says, or in mm/min where its name does. */
function readings(given: TradeCase): ArcReadings {
  const [speed, unit] = 'v_mm_min' in given.inputs ? ['v_mm_min', 'mm/min' as const] : ['travel_speed', speedUnit(given)];
  const text = (name: string): string => String(inputNumber(given, name));
  return {
    voltage: { printed: text('U_V'), unit: 'V' }, current: { printed: text('I_A'), unit: 'A' }, travelSpeed: { printed: text(speed), unit },
  };
}

function speedUnit({ id, inputs }: TradeCase): UnitName {
  const [unit] = String(inputs['travel_speed_unit']).split(' ');
  if (unit !== 'mm/s' && unit !== 'mm/min' && unit !== 'in/min') throw new Error(`no unit of speed in ${id}: ${String(unit)}`);
  return unit;
}

function kjPerMm(found: HeatInput): number {
  if ('notComputable' in found) throw new Error(found.notComputable);
  return found.kjPerMm;
}

/** The process that has the efficiency of a case. */
function processWith(given: TradeCase): string {
  const found = PROCESSES_WITH_EFFICIENCY.find((process) => Number(thermalEfficiency(process)) === inputNumber(given, 'k'));
  if (found === undefined) throw new Error(`no process with the efficiency of ${given.id}`);
  return found;
}

/** Everything that a worked example prints of a heat input, by the name of the value. */
function checkWorked(given: TradeCase, found: number): void {
  const [, inches, minutes] = /\((\d+) in in (\d+) min\)/.exec(String(given.inputs['travel_speed_unit'])) ?? [];
  const values: Readonly<Record<string, number>> = {
    H_J_per_mm: convert(found, 'kJ/mm', 'J/mm'), H_kJ_per_mm: found, H_kJ_per_in: convert(found, 'kJ/mm', 'kJ/in'),
    arc_power_kW: convert(inputNumber(given, 'U_V') * inputNumber(given, 'I_A'), 'W', 'kW'), travel_speed_in_min: Number(inches) / Number(minutes),
  };
  for (const expected of given.expected) {
    const value = values[expected.name];
    if (value === undefined) throw new Error(`nothing to hold ${expected.name} against`);
    expectWithin(value, expected);
  }
}

/** Half a unit of the last printed place, unless the case states a tolerance. */
function expectWithin(found: number, expected: Expected & { readonly tolerance?: number }): void {
  if (expected.tolerance === undefined) expectPrinted(found, expected);
  else expect(Math.abs(found - Number(expected.value))).toBeLessThanOrEqual(expected.tolerance);
}

/** Every value of a case against the limit of its name: `D_t6`, `B_b8`, `D_t2.5_short` are level, size, and whether only short ones are meant. */
function checkLimits(given: TradeCase, limitOf: (level: QualityLevel, size: string) => ImperfectionLimit): void {
  for (const expected of given.expected) {
    const [, level = '', size = '', short] = /^([BCD])_[tb]([\d.]+)(_short)?$/.exec(expected.name) ?? [];
    const limit = limitOf(level as QualityLevel, size);
    if (expected.value === 'not permitted') expect(limit.permitted).toBe(false);
    else if (!limit.permitted) throw new Error(`${expected.name} is not permitted`);
    else {
      expectPrinted(Number(limit.maxMm), expected);
      expect(limit.onlyShort).toBe(short !== undefined);
    }
    expect(limit.fromMemory).toBe(given.from_memory);
  }
}

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'k-factors': (given) => {
    expect(Object.fromEntries(PROCESSES_WITH_EFFICIENCY.map((process) => [`k_${process}`, thermalEfficiency(process)])))
      .toEqual(Object.fromEntries(given.expected.map((expected) => [expected.name, printedText(expected)])));
  },
  'hi-20v-300a': (given) => {
    checkWorked(given, kjPerMm(heatInputEn(readings(given), processWith(given))));
  },
  'hi-24v-180a': (given) => {
    checkWorked(given, kjPerMm(heatInputEn(readings(given), '135')));
    expect(Number(thermalEfficiency('135'))).toBe(inputNumber(given, 'k'));
  },
  'hi-28v-250a': (given) => {
    checkWorked(given, kjPerMm(heatInputEn(readings(given), '135')));
    expect(Number(thermalEfficiency('135'))).toBe(inputNumber(given, 'k'));
  },
  'hi-39v-425a-asme': (given) => {
    checkWorked(given, kjPerMm(heatInputAsme(readings(given))));
  },
  'asme-vs-en-terms': (given) => {
    expectPrinted(kjPerMm(arcEnergy(readings(given))), expectedOf(given, 'arc_energy_kJ_mm'));
    expectPrinted(kjPerMm(heatInputEn(readings(given), processWith(given))), expectedOf(given, 'heat_input_kJ_mm'));
    expect(kjPerMm(heatInputAsme(readings(given)))).toBe(kjPerMm(arcEnergy(readings(given))));
    expect(expectedNames(given)).toHaveLength(2);
  },

  'iso5817-undercut': (given) => {
    checkLimits(given, undercutLimit);
  },
  'iso5817-excess-weld-metal': (given) => {
    checkLimits(given, (level, widthMm) => excessWeldMetalLimit(level, '6', widthMm));
  },
  'iso5817-linear-misalignment': (given) => {
    checkLimits(given, misalignmentLimit);
  },
  'iso5817-not-permitted': (given) => {
    for (const name of ['crack_100', 'crater_crack_104']) expect(expectedOf(given, name).value).toBe('not permitted at B, C, D');
    expect(CRACK_LIMIT.permitted).toBe(false);
    expect(expectedOf(given, 'incomplete_root_penetration_4021_D_short').value).toBe('h<=0.2t max 2 mm, C and B not permitted');
    const atD = ['4', '10', '15'].map((thicknessMm) => rootPenetrationLimit('D', thicknessMm));
    expect(atD).toMatchObject([{ maxMm: '0.8' }, { maxMm: '2' }, { maxMm: '2', onlyShort: true }]);
    expect((['C', 'B'] as const).map((level) => rootPenetrationLimit(level, '6').permitted)).toEqual([false, false]);
    expect(expectedNames(given)).toHaveLength(3);
  },

  'iso15614-1-hardness': (given) => {
    const found = ['1', '2'].map((group) => ({
      group_1_2_as_welded: Number(hardnessLimit(group, 'as-welded')?.max), group_1_2_heat_treated: Number(hardnessLimit(group, 'heat-treated')?.max),
    }));
    const printed = Object.fromEntries(given.expected.map(({ name, value }) => [name, value]));
    expect(found).toEqual([printed, printed]);
    expect(given.expected.map(({ unit }) => unit)).toEqual(['HV10', 'HV10']);
    expect(hardnessLimit('1', 'as-welded')?.fromMemory).toBe(given.from_memory);
  },

  'splice-bias-practice': (given) => {
    const { min, max } = findWeldVariable('splice-angle')!.usual!;
    const typicalDeg = expectedNumber(given, 'typical_angle_deg');
    expect(typicalDeg >= min && typicalDeg <= max).toBe(true);
    // It begins and ends at the seam: an end on either edge, and none between.
    expect(expectedOf(given, 'path_in_tube').value).toBe('spiral that begins and ends at the seam and never crosses it');
    const span = { fromMm: 0, toMm: Math.round(spliceGeometry(300, typicalDeg).pipeLengthMm) };
    const junctions = seamJunctions(span, 'left');
    expect(junctions.map(({ footageMm }) => footageMm)).toEqual([0, 300]);
    expect(new Set(junctions.map(({ edge }) => edge)).size).toBe(2);
    // The rest is practice that nothing is computed from.
    expect(expectedNames(given)).toEqual(
      ['ends', 'typical_angle_deg', 'after_weld', 'path_in_tube', 'strip_length_typical_ft', 'tube_length_typical_ft'],
    );
  },
};

describe('published cases of welding', () => {
  test.each(titled(cases))('%s', (_title, given) => {
    expect(given.expected).not.toHaveLength(0);
    checkOf(checks, given)(given);
  });

  test('every check belongs to a case', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual(Object.keys(checks).sort());
  });
});

describe('pipe that a weld across 300 mm strip takes (derived, no published source)', () => {
  test.each([[90, 0], [60, 173], [45, 300], [30, 520]])('%d°: %d mm', (angleDeg, pipeMm) => {
    expect(Math.round(spliceGeometry(300, angleDeg).pipeLengthMm)).toBe(pipeMm);
  });
});
