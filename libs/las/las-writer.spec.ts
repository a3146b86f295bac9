import { describe, expect, test } from '@jest/globals';
import { LasError, LasWriter, writeLas, type LasLog, type LasRow } from '#libs/las';
import { readLas, valueOf } from '../../test/fixtures/las-reader.js';
import { curveOf, logOf } from './las.factory.js';

const rowsOf = (...values: LasRow['values'][]): LasRow[] => values.map((one, at) => ({ index: 2840 + 200 * at, values: one }));
const GOOD = rowsOf([5.98, 0.1], [null, '0.20'], ['6.00', -3]);

async function textOf(log: LasLog, rows: Iterable<LasRow> = GOOD): Promise<string> {
  let text = '';
  for await (const piece of writeLas(log, rows)) text += piece;
  return text;
}

async function faultOf(log: LasLog, rows: Iterable<LasRow> = GOOD): Promise<LasError> {
  try {
    await textOf(log, rows);
  } catch (error) {
    if (error instanceof LasError) return error;
    throw error;
  }
  throw new Error('was written');
}

describe('a LAS file', () => {
  test('as a reader of text sees it', async () => {
    const log = logOf({ parameters: [{ mnemonic: 'KAPPA', unit: '', value: '1.16', description: 'DIAMETER RATIO' }], other: ['Advisory.', '', '  indented'] });
    expect((await textOf(log)).split('\r\n')).toEqual([
      '~Version Information',
      'VERS.    2.0 : CWLS LOG ASCII STANDARD - VERSION 2.0',
      'WRAP.    NO : ONE LINE PER DEPTH STEP',
      '~Well Information',
      'STRT.M    2.840 : START DEPTH',
      'STOP.M    3.240 : STOP DEPTH',
      'STEP.M    0.000 : STEP, NOT CONSTANT',
      'NULL.     -999.25 : NULL VALUE',
      'COMP.     Blue Works : COMPANY',
      'WELL.     B-7 : WELL',
      'FLD .      : FIELD',
      'LOC .     12.5 N: pad 3 : LOCATION',
      'PROV.     Northshire : PROVINCE',
      'SRVC.     Everymetre : SERVICE COMPANY',
      'DATE.     2026 11 26 : DATE',
      'UWI .      : UNIQUE WELL ID',
      '~Curve Information',
      'DEPT.M      : MEASURED DEPTH',
      'WALL.MM     : CURVE WALL',
      'GAP .MM     : CURVE GAP',
      '~Parameter Information',
      'KAPPA.    1.16 : DIAMETER RATIO',
      '~Other', 'Advisory.', '', '  indented',
      '~A DEPT         WALL          GAP',
      '  2.840         5.98          0.1',
      '  3.040      -999.25         0.20',
      '  3.240         6.00           -3',
    ]);
  });

  test('without parameters or remarks their sections are left out; outside provinces the three lines stand instead', async () => {
    const log = logOf({ well: { ...logOf().well, region: { county: 'Low', state: 'North', country: 'Isle' }, id: { api: '42' } } });
    const read = readLas(await textOf(log));
    expect(read.sections).toEqual(['V', 'W', 'C', 'A']);
    expect(['CNTY', 'STAT', 'CTRY', 'API'].map((name) => valueOf(read.well, name))).toEqual(['Low', 'North', 'Isle', '42']);
  });

  test('an even step is said, rising or falling', async () => {
    const read = readLas(await textOf(logOf({}, { start: 2800, stop: 3200, step: 200 }), GOOD.map((row, at) => ({ ...row, index: 2800 + at * 200 }))));
    expect(valueOf(read.well, 'STEP')).toBe('0.200');
    const falling = logOf({}, { start: 3200, stop: 2800, step: -200 });
    expect(valueOf(readLas(await textOf(falling, GOOD.map((row, at) => ({ ...row, index: 3200 - at * 200 })))).well, 'STEP')).toBe('-0.200');
    expect(readLas(await textOf(logOf({}, { stop: 2840 }), [GOOD[0]!])).rows).toHaveLength(1);
  });

  test('numbers have digits enough to be read back, no exponent and no comma; text keeps its digits', async () => {
    const single = Math.fround(0.1);
    const values = [1e-7, -1.5e-10, 1e21, 123456789012345680000, 5e-324, 0.1 + 0.2, -0, 1234567.891];
    for (const value of values) {
      const text = readLas(await textOf(logOf(), rowsOf([value, '0'], ['0', '0'], ['0', '0']))).rows[0]![1]!;
      expect(text).toMatch(/^-?\d+(?:\.\d+)?$/);
      expect(Number(text)).toBe(value + 0);
    }
    const singles = logOf({ curves: [curveOf('WALL', { numbers: 'single' }), curveOf('GAP')] });
    const read = readLas(await textOf(singles, rowsOf([single, '0.100'], [Math.fround(1e-20), single], [Math.fround(16777217), '7'])));
    expect(read.rows.map((row) => row.slice(1))).toEqual([['0.1', '0.100'], ['0.00000000000000000001', '0.10000000149011612'], ['16777216', '7']]);
  });
});

describe('what a LAS file cannot hold is refused by name', () => {
  const parameter = (changes: object) => logOf({ parameters: [{ mnemonic: 'P1', unit: '', value: '', description: '', ...changes }] });
  test.each<[string, LasLog, string]>([
    ['an empty mnemonic', logOf({ curves: [curveOf(''), curveOf('GAP')] }), 'a mnemonic: a mnemonic has ASCII signs, at least one, and no space, dot or colon'],
    ['a mnemonic with a space', logOf({ curves: [curveOf('W T'), curveOf('GAP')] }), 'W T: a mnemonic has ASCII signs, at least one, and no space, dot or colon'],
    ['a mnemonic with a dot', parameter({ mnemonic: 'P.1' }), 'P.1: a mnemonic has'],
    ['a mnemonic with a colon', parameter({ mnemonic: 'P:1' }), 'P:1: a mnemonic has'],
    ['a mnemonic that is no ASCII', parameter({ mnemonic: 'κ' }), 'κ: a mnemonic has'],
    ['a mnemonic that makes a comment', parameter({ mnemonic: '#1' }), '#1: a line that begins with ~ or # is no item'],
    ['a curve twice, in another case', logOf({ curves: [curveOf('GAP'), curveOf('Gap')] }), 'Gap: comes twice in its section'],
    ['a curve of the name of the index', logOf({ curves: [curveOf('DEPT'), curveOf('GAP')] }), 'DEPT: comes twice in its section'],
    ['a line of ~W that is there already', logOf({ moreOfWell: [{ mnemonic: 'NULL', unit: '', value: '0', description: '' }] }), 'NULL: comes twice in its section'],
    ['a unit with a space', logOf({ curves: [curveOf('WALL', { unit: 'M M' }), curveOf('GAP')] }), 'WALL: a unit has ASCII signs and no space or colon: "M M"'],
    ['a unit with a colon', parameter({ unit: 'H:M' }), 'P1: a unit has'],
    ['a unit that is no ASCII', parameter({ unit: 'µm' }), 'P1: a unit has ASCII signs and no space or colon: "µm"'],
    ['a colon in a description', logOf({ curves: [curveOf('WALL', { description: 'UT: A' }), curveOf('GAP')] }), 'WALL: a colon in a description would end the value: "UT: A"'],
    ['a break in a value', parameter({ value: 'a\nb' }), 'P1: a value has ASCII signs from space to ~: "a\\nb"'],
    ['a tab in a description', parameter({ description: 'a\tb' }), 'P1: a description has ASCII signs from space to ~: "a\\tb"'],
    ['a section in ~O', logOf({ other: ['good', ' ~A'] }), 'line 2 of ~O: a line that begins with ~ or # would be read as a section or left out'],
    ['a letter with a mark in ~O', logOf({ other: ['é'] }), 'line 1 of ~O: has ASCII signs from space to ~: "é"'],
    ['NULL that is no decimal', logOf({ nullValue: '-999,25' }), 'NULL: is not a plain decimal: "-999,25"'],
    ['a depth in mm', logOf({}, { unit: 'MM' }), 'DEPT: the unit of a depth is M, F or FT: "MM"'],
    ['decimals out of range', logOf({}, { decimals: 13 }), 'DEPT: decimals must be from 0 to 12: 13'],
    ['half a millimetre', logOf({}, { start: 0.5 }), 'DEPT: start is no safe whole number: 0.5'],
    ['a time that falls', logOf({}, { mnemonic: 'TIME', unit: 'S', start: 5, stop: 4 }), 'TIME: a time must rise: from 5 to 4'],
    ['a start that is no multiple of the step', logOf({}, { step: 200 }), 'DEPT: start 2840 and stop 3240 must be whole multiples of step 200; where they are not, step is 0'],
    ['a stop that is none', logOf({}, { start: 2800, stop: 3250, step: 200 }), 'DEPT: start 2800 and stop 3250 must be'],
    ['a step the wrong way', logOf({}, { start: 2800, stop: 3200, step: -200 }), 'DEPT: step -200 leads away from stop: from 2800 to 3200'],
    ['a line that is too long', logOf({ mostLineCharacters: 60, well: { ...logOf().well, company: 'x'.repeat(50) } }), 'COMP: its line has 72 characters with CR LF, and 60 are allowed'],
  ])('%s', async (_what, log, message) => {
    expect(() => new LasWriter(log)).toThrow(LasError);
    expect((await faultOf(log)).message.startsWith(message)).toBe(true);
  });

  test.each<[string, LasRow[], string]>([
    ['no row', [], 'DEPT: there is no row'],
    ['another first row than STRT', GOOD.slice(1), 'row 1, DEPT: the first row is at 3040, and STRT at 2840'],
    ['another last row than STOP', GOOD.slice(0, 2), 'row 2, DEPT: the last row is at 3040, and STOP at 3240'],
    ['a row beyond STOP', [GOOD[0]!, { index: 3241, values: [1, 1] }], 'row 2, DEPT: 3241 is not between 2840 and STOP at 3240'],
    ['a row back', [GOOD[0]!, GOOD[1]!, { index: 3039, values: [1, 1] }], 'row 3, DEPT: 3039 is not between 3040 and STOP at 3240'],
    ['a row twice', [GOOD[0]!, GOOD[0]!], 'row 2, DEPT: 2840 is not between 2840 and STOP at 3240'],
    ['an index that is no whole number', [{ index: 2840.5, values: [1, 1] }], 'row 1, DEPT: is no safe whole number: 2840.5'],
    ['too few values', rowsOf([1]), 'row 1, DEPT: has 1 values for 2 curves'],
    ['no number', rowsOf([1, 1], [1, Number.NaN]), 'row 2, GAP: is no finite number: NaN'],
    ['an infinite number', rowsOf([Infinity, 1]), 'row 1, WALL: is no finite number: Infinity'],
    ['a comma', rowsOf(['5,98', 1]), 'row 1, WALL: is not a plain decimal: "5,98"'],
    ['an exponent', rowsOf([1, '1e3']), 'row 1, GAP: is not a plain decimal: "1e3"'],
    ['a value that is NULL', rowsOf([1, 1], [-999.25, 1]), 'row 2, WALL: -999.25 would be read as no value, since NULL is -999.25'],
    ['text of the value of NULL', rowsOf(['-999.250', 1]), 'row 1, WALL: -999.250 would be read as no value, since NULL is -999.25'],
  ])('%s', async (_what, rows, message) => {
    expect((await faultOf(logOf(), rows)).message).toBe(message);
  });

  test('a step that is not kept', async () => {
    const log = logOf({}, { start: 2800, stop: 3400, step: 200 });
    const fault = await faultOf(log, [2800, 3000, 3201].map((index) => ({ index, values: [1, 1] })));
    expect([fault.fault, fault.item, fault.row, fault.message]).toEqual(['step', 'DEPT', 3, 'row 3, DEPT: 3201 is not 200 after 3000']);
  });

  test('a number that is no float32 where the curve says so, and a row that is too long', async () => {
    const single = logOf({ curves: [curveOf('WALL', { numbers: 'single' }), curveOf('GAP')] });
    expect((await faultOf(single, rowsOf([0.1, 1]))).message).toBe('row 1, WALL: is no float32: 0.1');
    const fits = logOf({ mostLineCharacters: 60 });
    expect(readLas(await textOf(fits)).rows).toHaveLength(3);
    expect((await faultOf(fits, rowsOf([1e-40, 1]))).message).toBe('row 1, DEPT: its line has 65 characters with CR LF, and 60 are allowed');
  });

  test('an index that would be read as no value', async () => {
    expect((await faultOf(logOf({ nullValue: '3.04' }))).message).toBe('row 2, DEPT: 3040 would be read as no value, since NULL is 3.04');
  });

  test('a refused row leaves the writer as it was', () => {
    const writer = new LasWriter(logOf());
    writer.line(GOOD[0]!);
    expect(() => writer.line({ index: 3040, values: [1, Number.NaN] })).toThrow(LasError);
    expect(writer.line(GOOD[1]!)).toBe('\r\n  3.040      -999.25         0.20');
    expect(() => { writer.demandEnd(); }).toThrow('row 2, DEPT: the last row is at 3040, and STOP at 3240');
  });
});

describe('streaming', () => {
  test('rows are taken as they are needed: no more than one piece is ever held', async () => {
    const count = 100_000;
    let taken = 0;
    function* rows(): Generator<LasRow> {
      for (let at = 0; at < count; at += 1) {
        taken += 1;
        yield { index: at, values: [at / 7, null] };
      }
    }
    const [log, largest] = [logOf({}, { start: 0, stop: count - 1, step: 1 }), 64 * 1024 + 200];
    let [given, pieces] = [0, 0];
    for await (const piece of writeLas(log, rows())) {
      given += piece.split('\r\n').length - 1;
      pieces += 1;
      expect(piece.length).toBeLessThanOrEqual(largest);
      // The head's lines count too.
      expect(taken).toBeLessThanOrEqual(given);
    }
    expect(taken).toBe(count);
    expect(pieces).toBeGreaterThan(50);
  });

  test('a bad header is told before any text, and before any row is taken', async () => {
    let taken = 0;
    function* rows(): Generator<LasRow> {
      taken += 1;
      yield GOOD[0]!;
    }
    expect((await faultOf(logOf({ nullValue: '' }), rows())).fault).toBe('null');
    expect(taken).toBe(0);
  });
});
