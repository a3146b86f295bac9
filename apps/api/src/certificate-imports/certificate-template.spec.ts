import { describe, expect, test } from '@jest/globals';
import { CHARACTERISTICS } from '#libs/strip';
import { inPieces } from '../../../../test/setup/certificate-files.js';
import { readCertificates } from './certificate-csv.js';
import { type CertificateColumn, FIXED_COLUMNS, parseHeader, templateColumns, templateCsv } from './certificate-template.js';

const FIXED = FIXED_COLUMNS.map(({ name }) => name);

function columnsOf(...headers: string[]): readonly CertificateColumn[] {
  const header = parseHeader([...FIXED, ...headers]);
  if ('faults' in header) throw new Error(header.faults.map(({ fault }) => fault).join(' '));
  return header.columns.slice(FIXED.length);
}

function faultOf(header: string): string {
  const parsed = parseHeader([...FIXED, header, 'width [mm]']);
  return 'faults' in parsed ? parsed.faults.map(({ column, fault }) => `${column ?? '-'}: ${fault}`).join(' ') : 'none';
}

describe('the template', () => {
  test('is read by its own reader, with nothing to ask', async () => {
    const readings = [];
    for await (const reading of readCertificates(inPieces(templateCsv()))) readings.push(reading);
    expect(readings).toEqual([
      { kind: 'certificate', certificate: expect.objectContaining({ firstLine: 2, lastLine: 3, questions: [] }) },
      { kind: 'end', end: { lines: 3, certificates: 1, faults: 0, stopped: null } },
    ]);
  });

  test('ends its lines with CR LF and says what each column means', () => {
    const lines = templateCsv().split('\r\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]?.split(',')).toEqual(templateColumns().map(({ header }) => header));
    expect(templateColumns().filter(({ meaning }) => meaning === '')).toEqual([]);
    expect(templateColumns().slice(0, 8).map(({ header, needed }) => [header, needed])).toEqual([
      ['certificate', 'in each line'], ['issuer', 'in each line'], ['type', 'in each line'], ['issued', 'in each line'],
      ['order', 'may be left out'], ['specification', 'may be left out'], ['coil', 'cells may be empty'], ['heat', 'in each line'],
    ]);
  });
});

describe('the header of a value column', () => {
  test.each([
    ['C [%]', 'heat', null, null, '1', '%'],
    ['C heat [%]', 'heat', null, null, '1', '%'],
    ['C product [%]', 'product', null, null, '1', '%'],
    ['S x1000 [%]', 'heat', null, null, '1000', '%'],
    ['S product ×1000 [%]', 'product', null, null, '1000', '%'],
    ['N [ppm]', 'heat', null, null, '1', 'ppm'],
    ['CE(IIW) [%]', 'heat', null, null, '1', '%'],
    ['Nb+V+Ti [%]', 'heat', null, null, '1', '%'],
    ['Y/T [1]', null, null, null, '1', '1'],
    ['ReH [N/mm2]', null, null, null, '1', 'N/mm2'],
    ['KV2 @-20 [J]', null, '-20', null, '1', 'J'],
    ['KV2 [J]', null, null, null, '1', 'J'],
    ['camber over 2000 [mm]', null, null, '2000', '1', 'mm'],
    ['HV10 [HV10]', null, null, null, '1', 'HV10'],
  ])('%s', (header, analysis, temperatureC, baseMm, multiplier, unit) => {
    expect(columnsOf(header)).toEqual([{ kind: 'value', header, value: expect.objectContaining({ analysis, temperatureC, baseMm, multiplier, unit }) }]);
  });

  test('takes every characteristic in every unit of it', () => {
    for (const { code, units } of CHARACTERISTICS) {
      for (const unit of units) {
        const [column] = columnsOf(`${code}${code === 'camber' ? ' over 2000' : ''} [${unit}]`);
        expect(column).toMatchObject({ kind: 'value', value: { characteristic: { code }, unit } });
      }
    }
  });

  test.each([
    ['camber over 9 [mm]', /no base length/], ['camber over 10 [mm]', /^none$/],
    ['camber over 999999 [mm]', /^none$/], ['camber over 1000000 [mm]', /no base length/],
    ['KV2 @-273.1 [J]', /^none$/], ['KV2 @-273.2 [J]', /no test temperature/], ['KV2 @400 [J]', /^none$/], ['KV2 @400.1 [J]', /no test temperature/],
    ['S x1 [%]', /^none$/], ['S x1000000 [%]', /^none$/], ['S x10000000 [%]', /no multiplier/], ['S x0 [%]', /no multiplier/], ['S x0.1 [%]', /no multiplier/],
    ['S x1000 product [%]', /in this order/], ['thickness over 2000 [mm]', /camber only/], ['C []', /“” is not one of C/],
    ['HV10 [HV5]', /not one of HV10: HV10 is taken/], ['Mangan [%]', /nearest known one is Mn \[%\]/], ['Hv10 [HV10]', /nearest known one is HV10/],
    ['ti [%]', /nearest known one is Ti/], ['constructor [%]', /No such column/],
    ['x'.repeat(80), /No such column/], [`C ${'['.repeat(79)}`, /at most 80 characters; this one has 81/],
  ])('%s: %s', (header, says) => {
    expect(faultOf(header)).toMatch(says);
  });

  test.each([['C [%]', 'C heat [ppm]'], ['KV2 @-20 [J]', 'KV2 @-20.0 [J]'], ['width [mm]', 'width [in]']])('%s and %s are one column twice', (one, other) => {
    expect(parseHeader([...FIXED, one, other])).toEqual({ faults: [expect.objectContaining({ line: 1, column: 10, header: other, fault: `The same as column 9, “${one}”. Each column comes once.` })] });
  });

  test('heat and product analysis, and two temperatures, are different columns', () => {
    expect(columnsOf('C [%]', 'C product [%]', 'KV2 @-20 [J]', 'KV2 @-40 [J]', 'camber over 2000 [mm]', 'camber over 5000 [mm]')).toHaveLength(6);
  });
});

describe('the columns of a file', () => {
  test('at most 200', () => {
    const cells = [...FIXED, ...Array.from({ length: 192 }, (_, index) => `KV2 @${index} [J]`)];
    expect(parseHeader(cells)).toMatchObject({ columns: { length: 200 } });
    expect(parseHeader([...cells, 'C [%]'])).toEqual({ faults: [expect.objectContaining({ column: 201, fault: '201 columns; at most 200 are taken.' })] });
  });

  test('each that is missing is told', () => {
    const parsed = parseHeader(['certificate', 'heat', 'C [%]']);
    expect('faults' in parsed ? parsed.faults.map(({ header }) => header) : []).toEqual(['issuer', 'type', 'issued', 'coil']);
  });
});
