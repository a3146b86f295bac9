import { describe, expect, test } from '@jest/globals';
import { type DocumentFault, type En10168Document, type En10168Field, type En10168Product, paperFromEn10168, type PrintedValue } from '#libs/strip';

const product = (overrides: Partial<En10168Product> = {}): En10168Product => ({ B07: 'C-17', C00: '407112', fields: [], ...overrides });
const documentOf = (...products: En10168Product[]): En10168Document => ({
  A01: 'Works North', A02: '3.1', A03: 'Z-2026/118', A07: 'PO 12', B02: 'Strip specification 4, rev 2', Z02: '2026-02-28', products,
});
const withFields = (...fields: En10168Field[]): En10168Document => documentOf(product({ fields }));

function valuesOf(document: En10168Document): readonly PrintedValue[] {
  const read = paperFromEn10168(document);
  if ('faults' in read) throw new Error(JSON.stringify(read.faults));
  return read.paper.lines.flatMap(({ values }) => values);
}

function faultsOf(document: En10168Document): readonly DocumentFault[] {
  const read = paperFromEn10168(document);
  return 'faults' in read ? read.faults : [];
}

const pathsOf = (document: En10168Document): string[] => faultsOf(document).map(({ path }) => path);

const carbon: En10168Field = { code: 'C71', symbol: 'C', analysis: 'heat', value: '8.5', unit: '%', multiplier: '100' };
const yieldStrength: En10168Field = { code: 'C11', characteristic: 'ReH', value: '438', unit: 'N/mm²' };

describe('paperFromEn10168', () => {
  test('reads parties, dimensions, tests and chemistry of a coil', () => {
    const sizes = { characteristic: 'thickness', value: '6.00', unit: 'mm' };
    const read = paperFromEn10168(documentOf(product({ B09: [sizes], B10: { value: '354', unit: 'm' }, B13: { value: '5000', unit: 'kg' }, fields: [carbon, yieldStrength] })));
    const blank = { analysis: null, multiplier: '1', expandedU: null, temperatureC: null, baseMm: null, location: null, direction: null };
    expect(read).toEqual({
      leftOut: [],
      paths: [['products[0].B09[0]', 'products[0].B10', 'products[0].B13', 'products[0].fields[0]', 'products[0].fields[1]']],
      paper: {
        number: 'Z-2026/118', issuer: 'Works North', documentType: '3.1', issuedOn: '2026-02-28', orderNumber: 'PO 12',
        specification: 'Strip specification 4, rev 2',
        lines: [{
          coilNumber: 'C-17', heatNumber: '407112',
          values: [
            { ...blank, characteristic: 'thickness', printed: '6.00', unit: 'mm' },
            { ...blank, characteristic: 'length', printed: '354', unit: 'm' },
            { ...blank, characteristic: 'mass', printed: '5000', unit: 'kg' },
            { ...blank, characteristic: 'C', analysis: 'heat', printed: '8.5', unit: '%', multiplier: '100' },
            { ...blank, characteristic: 'ReH', printed: '438', unit: 'N/mm2' },
          ],
        }],
      },
    });
  });

  test('where the sample was, its direction and the test temperature hold for the mechanical tests of the product', () => {
    const values = valuesOf(withFields(
      { code: 'C01', value: 'head' }, { code: 'C02', value: 'transverse' }, { code: 'C03', value: '-20' },
      carbon, { ...yieldStrength, location: 'tail' }, { code: 'C42', value: '121', unit: 'J' }, { code: 'C43', value: '118', unit: 'J', temperatureC: '0' },
    ));
    expect(values.map(({ location, direction, temperatureC }) => [location, direction, temperatureC])).toEqual([
      [null, null, null], ['tail', 'transverse', null], ['head', 'transverse', '-20'], ['head', 'transverse', '0'],
    ]);
  });

  test('every field that a paper has a place for is read', () => {
    const values = valuesOf(withFields(
      { code: 'C12', value: '520', unit: 'MPa' },
      { code: 'C13', characteristic: 'A80mm', value: '21', unit: '%' },
      { code: 'C14', characteristic: 'Y/T', value: '0.84', unit: '1' },
      { code: 'C31', characteristic: 'HV10', value: '178', unit: 'HV10' },
      { code: 'C92', symbol: 'Nb+V+Ti', analysis: 'product', value: '<0.05', unit: '%', expandedU: '0.002' },
      { code: 'C93', symbol: 'CE(IIW)', analysis: 'heat', value: '0.38', unit: '%' },
      { code: 'D01', characteristic: 'camber', value: '-3', unit: 'mm', baseMm: '2000' },
    ));
    expect(values.map(({ characteristic }) => characteristic)).toEqual(['Rm', 'A80mm', 'Y/T', 'HV10', 'Nb+V+Ti', 'CE(IIW)', 'camber']);
    expect(values[4]).toMatchObject({ printed: '<0.05', expandedU: '0.002', analysis: 'product' });
    expect(values[6]).toMatchObject({ printed: '-3', baseMm: '2000' });
  });

  test('fields without a place in a paper are named, not dropped in silence', () => {
    const read = paperFromEn10168(withFields(
      { code: 'C10', value: 'flat' }, { code: 'C70', value: 'Y' }, { code: 'C93', value: 'calcium treated' }, { code: 'D02', value: 'none' }, { code: 'D01', value: 'good' },
    ));
    expect(read).toMatchObject({
      leftOut: [
        { path: 'products[0].fields[0]', code: 'C10', meaning: 'Tensile test: shape of the test piece', value: 'flat' },
        { code: 'C70' }, { code: 'C93' }, { code: 'D02' }, { code: 'D01' },
      ],
    });
  });

  test('a heat as a whole has no coil number', () => {
    expect(paperFromEn10168(documentOf(product({ B07: null, fields: [carbon] })))).toMatchObject({ paper: { lines: [{ coilNumber: null, heatNumber: '407112' }] } });
  });

  test.each(['3.1', ' EN 10204 3.1', 'EN 10204:2004 - 3.1', 'EN10204/3.1'])('%j is type 3.1', (A02) => {
    expect(paperFromEn10168({ ...documentOf(product()), A02 })).toMatchObject({ paper: { documentType: '3.1' } });
  });
});

describe('faults of a document', () => {
  test.each<[string, Partial<En10168Document>, DocumentFault]>([
    ['no works', { A01: ' ' }, { path: 'A01', fault: 'must not be empty' }],
    ['no number', { A03: '' }, { path: 'A03', fault: 'must not be empty' }],
    ['a type of 1991', { A02: '3.1.B' }, { path: 'A02', fault: '3.1.B is a type of 1991; in EN 10204:2004: 3.1' }],
    ['no type', { A02: 'certificate' }, { path: 'A02', fault: 'not a type of EN 10204:2004: "certificate"' }],
    ['a day that is none', { Z02: '2026-02-29' }, { path: 'Z02', fault: 'not a day such as 2026-03-31: "2026-02-29"' }],
    ['a month that is none', { Z02: '2026-13-01' }, { path: 'Z02', fault: 'not a day such as 2026-03-31: "2026-13-01"' }],
    ['another way to write a day', { Z02: '28.02.2026' }, { path: 'Z02', fault: 'not a day such as 2026-03-31: "28.02.2026"' }],
    ['no product', { products: [] }, { path: 'products', fault: 'no product' }],
    ['a product without a name', { products: [product({ B07: '', C00: null })] }, { path: 'products[0]', fault: 'neither a coil (B07) nor a heat (C00) is named' }],
  ])('%s', (_what, overrides, fault) => {
    expect(faultsOf({ ...documentOf(product()), ...overrides })).toEqual([fault]);
  });

  test.each<[string, En10168Field, string]>([
    ['C11 that does not say which yield', { ...yieldStrength, characteristic: undefined }, 'characteristic'],
    ['C11 that names no yield', { ...yieldStrength, characteristic: 'Rm' }, 'characteristic'],
    ['C12 that names a yield', { code: 'C12', characteristic: 'ReH', value: '520', unit: 'MPa' }, 'characteristic'],
    ['C13 that does not say which gauge length', { code: 'C13', value: '21', unit: '%' }, 'characteristic'],
    ['C13 that names a yield', { code: 'C13', characteristic: 'ReH', value: '21', unit: '%' }, 'characteristic'],
    ['C14 that names no tensile characteristic', { code: 'C14', characteristic: 'HV10', value: '21', unit: 'HV10' }, 'characteristic'],
    ['C30 that names no scale', { code: 'C30', value: 'portable' }, 'characteristic'],
    ['C31 without a scale', { code: 'C31', value: '178', unit: 'HV10' }, 'characteristic'],
    ['C32 without a scale', { code: 'C32', value: '178', unit: 'HV10' }, 'characteristic'],
    ['chemistry without an element', { ...carbon, symbol: undefined }, 'symbol'],
    ['chemistry of an unknown element', { ...carbon, symbol: 'Xx' }, 'symbol'],
    ['chemistry that is none', { ...carbon, symbol: 'ReH' }, 'symbol'],
    ['chemistry of neither analysis', { ...carbon, analysis: undefined }, 'analysis'],
    ['a yield with an analysis', { ...yieldStrength, analysis: 'heat' }, 'analysis'],
    ['D01 that names no dimension', { code: 'D01', characteristic: 'Rm', value: '1', unit: 'mm' }, 'characteristic'],
    ['another unit', { ...yieldStrength, unit: 'mm' }, 'unit'],
    ['no unit', { ...yieldStrength, unit: undefined }, 'unit'],
    ['a decimal comma', { ...carbon, value: '0,085' }, 'value'],
    ['text for a number', { ...carbon, value: 'trace' }, 'value'],
    ['an empty value', { ...carbon, value: '' }, 'value'],
    ['a multiplier of 0', { ...carbon, multiplier: '0' }, 'multiplier'],
    ['a negative uncertainty', { ...carbon, expandedU: '-0.1' }, 'expandedU'],
    ['a temperature in words', { code: 'C42', value: '100', unit: 'J', temperatureC: 'cold' }, 'temperatureC'],
    ['a base length of 0', { code: 'D01', characteristic: 'camber', value: '3', unit: 'mm', baseMm: '0' }, 'baseMm'],
    ['an unknown code', { ...carbon, code: 'E01' }, 'code'],
    ['a code of another group', { ...carbon, code: 'A03' }, 'code'],
    ['the heat among the fields', { ...carbon, code: 'C00' }, 'code'],
    ['a theoretical mass among the fields', { code: 'B12', characteristic: 'mass', value: '5000', unit: 'kg' }, 'code'],
  ])('%s', (_what, field, name) => {
    expect(pathsOf(withFields(carbon, field))).toEqual([`products[0].fields[1].${name}`]);
  });

  test('C30 names the scale for its product, and a field may not contradict it', () => {
    const scale: En10168Field = { code: 'C30', value: 'HV10' };
    const mean: En10168Field = { code: 'C32', value: '178', unit: 'HV10' };
    expect(valuesOf(withFields(scale, mean)).map(({ characteristic }) => characteristic)).toEqual(['HV10']);
    expect(pathsOf(withFields(scale, { ...mean, characteristic: 'HBW', unit: 'HBW' }))).toEqual(['products[0].fields[1].characteristic']);
    expect(pathsOf(documentOf(product({ fields: [scale] }), product({ fields: [mean] })))).toEqual(['products[1].fields[0].characteristic']);
  });

  test('what holds for all tests of a product is said once', () => {
    expect(faultsOf(withFields({ code: 'C01', value: 'head' }, { code: 'C01', value: 'tail' }))).toEqual([
      { path: 'products[0].fields[1]', fault: 'C01 twice in one product: state it beside each value instead' },
    ]);
    expect(pathsOf(withFields({ code: 'C03', value: 'room' }))).toEqual(['products[0].fields[0].value']);
  });

  test('dimensions have paths of their own, and must say which they are', () => {
    const faulty = product({
      B09: [{ characteristic: 'ReH', value: '6', unit: 'mm' }], B10: { value: '354', unit: 'kg' }, B11: [{ characteristic: 'mass', value: 'x', unit: 't' }],
      B13: { value: '5000', unit: null },
    });
    expect(pathsOf(documentOf(faulty))).toEqual([
      'products[0].B09[0].characteristic', 'products[0].B10.unit', 'products[0].B11[0].value', 'products[0].B13.unit',
    ]);
  });

  test('all faults are given at once', () => {
    expect(pathsOf({ ...withFields({ ...carbon, symbol: undefined, value: 'x' }, { ...yieldStrength, unit: 'mm' }), A01: '' })).toEqual([
      'A01', 'products[0].fields[0].symbol', 'products[0].fields[0].value', 'products[0].fields[1].unit',
    ]);
  });
});
