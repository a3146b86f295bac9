import { describe, expect, test } from '@jest/globals';
import { recordRef } from '../../test/fixtures/string-lengths.js';
import { WeldFootages } from './weld-footage.js';

const reading = (atUs: number, footageMm: number) => ({ record: recordRef('reading', `${atUs}`), atUs, footageMm, readIn: null });
const readings = [reading(100, 0), reading(200, 1_200), reading(300, 900), reading(400, 1_500)];
const footages = new WeldFootages(readings);

describe('footage at the weld point', () => {
  test('at a reading is the reading', () => {
    expect(footages.at(200)).toEqual({ footageMm: 1_200, uMm: 0, basis: 'at a reading', readings: [readings[1]] });
    expect(footages.at(400).basis).toBe('at a reading');
  });

  test('between readings is on the straight line, with step / √12 (GUM 4.3.7)', () => {
    const figure = footages.at(125);
    expect(figure).toMatchObject({ footageMm: 300, basis: 'between readings', readings: [readings[0], readings[1]] });
    expect(figure.uMm).toBeCloseTo(346.41, 2);
    expect(footages.at(250).uMm).toBeCloseTo(86.603, 3);
  });

  test('after the last reading is the last one', () => {
    expect(footages.at(999)).toMatchObject({ footageMm: 1_500, uMm: 0, basis: 'after the last reading' });
  });

  test('pipe made is not taken back by a reversal', () => {
    expect([200, 250, 300, 350, 375, 400].map((atUs) => footages.maxAt(atUs))).toEqual([1_200, 1_200, 1_200, 1_200, 1_350, 1_500]);
  });

  test('is refused before the first reading, without readings, and for readings out of order', () => {
    expect(() => footages.at(99)).toThrow(expect.objectContaining({ code: 'before-the-first-reading' }));
    expect(() => new WeldFootages([]).maxAt(1)).toThrow(expect.objectContaining({ code: 'no-readings' }));
    expect(() => new WeldFootages([reading(2, 0), reading(1, 0)])).toThrow(expect.objectContaining({ code: 'bad-input' }));
  });
});
