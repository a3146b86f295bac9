import { describe, expect, test } from '@jest/globals';
import { checkPlateDistance, DEFORMATION_CONSTANTS, flatteningReached, plateDistance } from '#libs/tube-tests';

const tube = { outsideDiameterMm: '100', wallThicknessMm: '5' };

describe('plateDistance', () => {
  test('worked by hand: 1.1 · 5 / (0.1 + 0.05) = 36.667 mm', () => {
    const found = plateDistance(tube, '0.1');
    expect(found.heightMm).toBeCloseTo(110 / 3, 12);
    expect(found.wallsMeetFirst).toBe(false);
    expect(found.rule).toBe('H = (1 + e) t / (e + t/D) (Indian Boiler Regulations, Regulation 49B, and 59); '
      + 'D 100 mm, t 5 mm, e 0.1: H = 36.6667 mm');
  });

  test('at e = 1 − 2 t/D the plates are 2 t apart and the insides touch; beyond it they touch first', () => {
    expect(plateDistance(tube, '0.9')).toMatchObject({ heightMm: 10, wallsMeetFirst: false });
    expect(plateDistance(tube, '0.91')).toMatchObject({ wallsMeetFirst: true });
  });

  test.each([
    ['0', '5', '0.1', 'outside diameter must be over 0 mm: 0'],
    ['100', '-5', '0.1', 'wall thickness must be over 0 mm: -5'],
    ['10', '5', '0.1', 'wall thickness 5 mm leaves no bore in an outside diameter of 10 mm'],
    ['100', '5', '0', 'deformation constant must be over 0 : 0'],
  ])('refuses D %s, t %s, e %s', (outsideDiameterMm, wallThicknessMm, constant, message) => {
    expect(() => plateDistance({ outsideDiameterMm, wallThicknessMm }, constant)).toThrow(new RangeError(message));
  });

  test('refuses what is no plain decimal', () => {
    expect(() => plateDistance({ ...tube, wallThicknessMm: '5,0' }, '0.1')).toThrow(SyntaxError);
  });
});

describe('flatteningReached', () => {
  test('is the strain of the outer fibre: folds of outer diameter 40 grow it from 100/95 to 40/35 of the middle', () => {
    const found = flatteningReached(tube, '40');
    const strain = (40 / 35) / (100 / 95) - 1;
    expect(found.outerFibreStrain).toBeCloseTo(strain, 14);
    expect(found.outerFibreLogStrain).toBeCloseTo(Math.log(40 / 35) - Math.log(100 / 95), 14);
    expect(found.rule).toContain('plates 40 mm apart give e = 0.0857');
  });

  test('a ring that was not pressed is not strained', () => {
    expect(flatteningReached(tube, '100')).toMatchObject({ outerFibreStrain: 0, outerFibreLogStrain: 0 });
  });

  test.each(['5', '4.9', '100.1', '0'])('refuses plates %s mm apart', (heightMm) => {
    expect(() => flatteningReached(tube, heightMm)).toThrow(RangeError);
  });
});

describe('checkPlateDistance', () => {
  const wc1 = DEFORMATION_CONSTANTS.find(({ steel }) => steel === 'WC1, welded')!;

  test('compares exactly, and the demanded distance itself is enough', () => {
    const even = { outsideDiameterMm: '50', wallThicknessMm: '5' }; // H = 1.1 · 5 / 0.2 = 27.5
    expect(checkPlateDistance(even, '27.5', wc1)).toEqual({
      name: 'plate distance', outcome: 'met', found: '27.5 mm', demanded: 'at most 27.5000 mm, from e = 0.10 (WC1, welded)', source: 'Indian Boiler Regulations, Regulation 59',
      words: 'distance between the plates 27.5 mm; demanded: at most 27.5000 mm, from e = 0.10 (WC1, welded)',
    });
    expect(checkPlateDistance(even, '27.500000000000000001', wc1).outcome).toBe('not met');
    expect(checkPlateDistance(even, '27.4', wc1).outcome).toBe('met');
  });

  test('refuses a constant that is none', () => {
    expect(() => checkPlateDistance(tube, '40', { ...wc1, constant: '0' })).toThrow(RangeError);
  });
});
