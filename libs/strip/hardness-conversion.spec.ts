import { describe, expect, test } from '@jest/globals';
import { closedFormHv, hbwFromHrc, hrcFromHv, hvFromHrc } from '#libs/strip';

describe('hardness conversion', () => {
  test('a printed cell comes before the closed form, and both are marked approximate', () => {
    expect(hvFromHrc(40)).toEqual({ value: 392, scale: 'HV', approximate: true, basis: 'printed cell', withinHv: null });
    expect(closedFormHv(40)).toMatchObject({ approximate: true, basis: 'closed form', withinHv: 2 });
    expect(closedFormHv(40)!.value).toBeCloseTo(390.33, 2);
    expect(hvFromHrc(22)).toMatchObject({ approximate: true, basis: 'closed form' });
    expect(hvFromHrc(22)!.value).toBeCloseTo(248.79, 2);
  });

  test('outside the range there is nothing', () => {
    expect([19.9, 65.1, Number.NaN].map(hvFromHrc)).toEqual([null, null, null]);
    expect([19.9, 65.1].map(closedFormHv)).toEqual([null, null]);
    expect(hvFromHrc(65)).toMatchObject({ withinHv: 4 });
    expect([236.9, 829, Number.NaN].map(hrcFromHv)).toEqual([null, null, null]);
    expect([237, 828].map((hv) => hrcFromHv(hv)?.basis)).toEqual(['closed form', 'closed form']);
  });

  test('Brinell has its cells only', () => {
    expect(hbwFromHrc(30)).toMatchObject({ value: 286, scale: 'HBW', approximate: true });
    expect(hbwFromHrc(31)).toBeNull();
  });

  test('back from Vickers: the cell, otherwise the inverse of the closed form', () => {
    expect(hrcFromHv(238)).toMatchObject({ value: 20, basis: 'printed cell' });
    expect(hrcFromHv(closedFormHv(35)!.value)?.value).toBeCloseTo(35, 10);
  });
});
