import { describe, expect, test } from '@jest/globals';
import { agreement, coilLengthFromDiameters, coilLengthFromMass, type Measured, plateMassKg } from '#libs/strip';

const measured = (value: number, standardU = 0): Measured => ({ value, standardU });
const coil = { massKg: measured(5000, 5), widthMm: measured(300, 0.3), thicknessMm: measured(6, 0.03) };

describe('coilLengthFromMass', () => {
  test('5 t of 300 × 6 mm are 353.86 m, known to half a percent because of the thickness', () => {
    const found = coilLengthFromMass(coil);
    expect(found.lengthMm).toBeCloseTo(353_857.04, 2);
    expect(found.standardUMm / found.lengthMm).toBeCloseTo(Math.sqrt(0.001 ** 2 + 0.001 ** 2 + 0.005 ** 2), 12);
  });

  test('each contribution is what one standard uncertainty of the input does', () => {
    const { lengthMm, contributionsMm } = coilLengthFromMass({ ...coil, densityKgPerM3: measured(7850, 10) });
    const moved = {
      mass: coilLengthFromMass({ ...coil, massKg: measured(5005) }),
      width: coilLengthFromMass({ ...coil, widthMm: measured(300.3) }),
      thickness: coilLengthFromMass({ ...coil, thicknessMm: measured(6.03) }),
      density: coilLengthFromMass({ ...coil, densityKgPerM3: measured(7860) }),
    };
    for (const [input, one] of Object.entries(moved)) {
      const stepMm = one.lengthMm - lengthMm;
      // First order: the step differs from its slope by the input's own relative uncertainty.
      expect(contributionsMm.get(input as keyof typeof moved)! / stepMm).toBeCloseTo(1, 1);
      expect(Math.abs(contributionsMm.get(input as keyof typeof moved)! / stepMm - 1)).toBeLessThan(0.006);
    }
  });

  test('refuses what is no coil', () => {
    expect(() => coilLengthFromMass({ ...coil, massKg: measured(0) })).toThrow(new RangeError('mass must be over 0: 0'));
    expect(() => coilLengthFromMass({ ...coil, thicknessMm: measured(Number.NaN) })).toThrow(RangeError);
    expect(() => coilLengthFromMass({ ...coil, widthMm: measured(300, -1) })).toThrow(new RangeError('uncertainty of the width must not be below 0: -1'));
    expect(() => coilLengthFromMass({ ...coil, densityKgPerM3: measured(7850, Infinity) })).toThrow(RangeError);
  });
});

describe('coilLengthFromDiameters', () => {
  const wound = { outerDiameterMm: measured(1000, 2), boreMm: measured(600, 1), thicknessMm: measured(6, 0.03) };

  test('is the section over the thickness, and its contributions are the slopes', () => {
    const found = coilLengthFromDiameters(wound);
    expect(found.lengthMm).toBeCloseTo((Math.PI * 640_000) / 24, 6);
    expect(found.contributionsMm.get('outer diameter')).toBeCloseTo((Math.PI * 1000 * 2) / 12, 9);
    expect(found.contributionsMm.get('bore')).toBeCloseTo((-Math.PI * 600) / 12, 9);
    expect(found.standardUMm).toBeCloseTo(Math.hypot(523.599, 157.08, 418.879), 1);
  });

  test('less steel in the section is less length', () => {
    const loose = coilLengthFromDiameters({ ...wound, fill: measured(0.98, 0.01) });
    expect(loose.lengthMm / coilLengthFromDiameters(wound).lengthMm).toBeCloseTo(0.98, 12);
    expect(loose.contributionsMm.get('fill')).toBeCloseTo(loose.lengthMm * (0.01 / 0.98), 9);
  });

  test('refuses a bore that leaves nothing, and more steel than room', () => {
    expect(() => coilLengthFromDiameters({ ...wound, boreMm: measured(1000) })).toThrow(
      new RangeError('outer diameter must be over the bore: 1000 mm, 1000 mm'),
    );
    expect(coilLengthFromDiameters({ ...wound, boreMm: measured(999.9) }).lengthMm).toBeGreaterThan(0);
    expect(() => coilLengthFromDiameters({ ...wound, fill: measured(1.01) })).toThrow(new RangeError('fill must be at most 1: 1.01'));
  });
});

describe('agreement', () => {
  const length = (lengthMm: number, ownMm: number, thicknessMm: number) => ({
    lengthMm, standardUMm: Math.hypot(ownMm, thicknessMm), contributionsMm: new Map([['mass', ownMm], ['thickness', thicknessMm]] as const),
  });

  test('agrees up to and including twice the uncertainty of the difference', () => {
    expect(agreement(length(1010, 3, 0), length(1000, 4, 0))).toEqual({ differenceMm: 10, uDifferenceMm: 5, agrees: true });
    expect(agreement(length(1000, 3, 0), length(1010.1, 4, 0)).agrees).toBe(false);
  });

  test('a reading that both share moves both together', () => {
    const [a, b] = [length(1000, 3, -50), length(1012, 4, -50)];
    expect(agreement(a, b).uDifferenceMm).toBeCloseTo(Math.hypot(3, 4, 50, 50), 12);
    expect(agreement(a, b).agrees).toBe(true);
    expect(agreement(a, b, ['thickness'])).toEqual({ differenceMm: -12, uDifferenceMm: 5, agrees: false });
  });
});

describe('plateMassKg', () => {
  test('is length × width × thickness × density', () => {
    expect(plateMassKg(2, 1, 10)).toBe(157);
    expect(plateMassKg(2, 1, 10, 8000)).toBe(160);
    expect(() => plateMassKg(2, 0, 10)).toThrow(new RangeError('width must be over 0: 0'));
  });
});
