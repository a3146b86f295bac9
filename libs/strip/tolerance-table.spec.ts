import { describe, expect, test } from '@jest/globals';
import { checkToleranceTable, THICKNESS_TOLERANCE_TABLES, type ToleranceCell, type ToleranceRow, type ToleranceTable } from '#libs/strip';

const cell = (overMm: string, toMm: string | null, plusMinusMm = '0.10'): ToleranceCell => ({ overMm, toMm, plusMinusMm });
const row = (overMm: string, toMm: string, ...widths: ToleranceCell[]): ToleranceRow => ({ overMm, toMm, widths });
const table = (...rows: ToleranceRow[]): ToleranceTable => ({ name: 'own', edition: '1', source: 'the project', rows });
const ANY = cell('0', null);

describe('checkToleranceTable', () => {
  test.each(THICKNESS_TOLERANCE_TABLES.map((one) => [one.name, one] as const))('finds nothing wrong with %s', (_name, one) => {
    expect(checkToleranceTable(one)).toEqual([]);
  });

  test('rows and widths may meet, leave gaps and stand in any order', () => {
    const widths = [cell('600', null), cell('0', '300'), cell('300', '500')];
    expect(checkToleranceTable(table(row('6', '8', ...widths), row('3', '4', ANY), row('2', '3', ANY), row('4', '5', ANY)))).toEqual([]);
  });

  test.each<[string, ToleranceTable, string]>([
    ['no rows', table(), 'the table has no rows'],
    ['a row without widths', table(row('2', '3')), 'thickness over 2 to 3 mm: no widths'],
    ['overlapping rows', table(row('2', '3', ANY), row('2.99', '4', ANY)), 'thickness over 2.99 to 4 mm overlaps thickness over 2 to 3 mm'],
    ['a row within a row', table(row('2', '5', ANY), row('3', '4', ANY)), 'thickness over 3 to 4 mm overlaps thickness over 2 to 5 mm'],
    ['the same row twice', table(row('2', '3', ANY), row('2.0', '3.0', ANY)), 'thickness over 2.0 to 3.0 mm overlaps thickness over 2 to 3 mm'],
    [
      'two widths without an upper end', table(row('2', '3', cell('0', null), cell('900', null))),
      'thickness over 2 to 3 mm: width over 900 mm overlaps width over 0 mm',
    ],
    ['an empty row', table(row('3', '3', ANY)), 'thickness over 3 to 3 mm: empty, the upper bound must be over the lower one'],
    ['a row upside down', table(row('3', '2', ANY)), 'thickness over 3 to 2 mm: empty, the upper bound must be over the lower one'],
    ['a negative bound', table(row('-1', '2', ANY)), 'thickness over -1 to 2 mm: negative'],
    ['a negative tolerance', table(row('2', '3', cell('0', null, '-0.1'))), 'thickness over 2 to 3 mm: width over 0 mm: a tolerance must be over 0, not -0.1'],
    ['a tolerance of 0', table(row('2', '3', cell('0', null, '0.00'))), 'thickness over 2 to 3 mm: width over 0 mm: a tolerance must be over 0, not 0.00'],
    ['a decimal comma', table(row('2', '3', cell('0', null, '0,1'))), 'thickness over 2 to 3 mm: width over 0 mm: not a plain decimal: "0,1"'],
    ['text for an upper bound', table(row('2', 'x', ANY)), 'thickness over 2 to x mm: not a plain decimal: "x"'],
    ['no lower bound', table(row('', '3', ANY)), 'thickness over  to 3 mm: not a plain decimal: ""'],
  ])('refuses %s', (_what, given, fault) => {
    expect(checkToleranceTable(given)).toEqual([fault]);
  });

  test('names all faults at once', () => {
    expect(checkToleranceTable(table(row('3', '2', cell('0', null, '0')), row('4', '5')))).toHaveLength(3);
  });
});
