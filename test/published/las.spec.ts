import { describe, expect, test } from '@jest/globals';
import { LasWriter, type LasLog } from '#libs/las';
import { readLas, readLine, valueOf, type LasFile, type LasLine } from '../fixtures/las-reader.js';
import { checkOf, expectedNumber, expectedOf, inputText, titled, tradeCases, type TradeCase } from './trade-cases.js';

const cases = tradeCases('09-formats.json');
const caseOf = (id: string): TradeCase => cases.find((given) => given.id === id)!;
const sampleText = (): string => (caseOf('las-sample-2-0').inputs['lines'] as string[]).join('\r\n');

const whole = (text: string, decimals: number): number => Math.round(Number(text) * 10 ** decimals);
const itemsBut = (items: readonly LasLine[], names: readonly string[]): LasLine[] => items.filter(({ mnemonic }) => !names.includes(mnemonic));

/** What was read, for writing it again. */
function logOf({ well, curves, parameters, other }: LasFile): LasLog {
  const of = (name: string): string => valueOf(well, name);
  const decimals = 4;
  const [index] = curves;
  return {
    well: {
      company: of('COMP'), well: of('WELL'), field: of('FLD'), location: of('LOC'), region: { province: of('PROV') }, serviceCompany: of('SRVC'), date: of('DATE'), id: { uwi: of('UWI') },
    },
    moreOfWell: itemsBut(well, ['STRT', 'STOP', 'STEP', 'NULL', 'COMP', 'WELL', 'FLD', 'LOC', 'PROV', 'SRVC', 'DATE', 'UWI']),
    index: {
      mnemonic: 'DEPT', unit: index!.unit, description: index!.description, decimals, start: whole(of('STRT'), decimals), stop: whole(of('STOP'), decimals), step: whole(of('STEP'), decimals),
    },
    curves: curves.slice(1).map(({ mnemonic, unit, value, description }) => ({ mnemonic, unit, code: value, description, numbers: 'double' })),
    parameters, other, nullValue: of('NULL'), mostLineCharacters: 256,
  };
}

function writtenAgain(read: LasFile): LasFile {
  const writer = new LasWriter(logOf(read));
  const lines = read.rows.map(([index, ...values]) => writer.line({ index: whole(index!, 4), values }));
  writer.demandEnd();
  return readLas(writer.head + lines.join(''));
}

function readAsExpected(given: TradeCase): LasLine {
  const read = readLine(inputText(given, 'line'));
  for (const name of ['mnemonic', 'unit', 'value', 'description'] as const) {
    expect(read[name].replace(/ +/g, ' ')).toBe(String(expectedOf(given, name).value).replace(/ +/g, ' '));
  }
  return read;
}

/** The line as a parameter of the sample, written and read again. */
const asWritten = (line: LasLine): readonly LasLine[] => writtenAgain({ ...readLas(sampleText()), parameters: [line] }).parameters;

const lineCheck = (given: TradeCase): void => {
  const read = readAsExpected(given);
  expect(asWritten(read)).toEqual([read]);
};

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'las-line-1': lineCheck, 'las-line-2': lineCheck, 'las-line-3': lineCheck,

  'las-line-4': (given) => {
    const read = readAsExpected(given);
    // The text forbids colons in a unit (5.2), and this constructed line has some: it can be read, and is not written.
    expect(() => asWritten(read)).toThrow('START: a unit has ASCII signs and no space or colon: "HH:MM:SS"');
    expect(asWritten({ ...read, unit: 'HHMMSS' })).toEqual([{ ...read, unit: 'HHMMSS' }]);
  },


  'las-sample-2-0': (given) => {
    const read = readLas(sampleText());
    const again = writtenAgain(read);
    for (const file of [read, again]) {
      expect(file.sections).toEqual(expectedOf(given, 'sections').value);
      for (const name of ['VERS', 'WRAP']) expect(valueOf(file.version, name)).toBe(expectedOf(given, name).value);
      for (const name of ['STRT', 'STOP', 'STEP', 'NULL']) expect(Number(valueOf(file.well, name))).toBe(expectedNumber(given, name));
      for (const name of ['COMP', 'WELL', 'UWI']) expect(valueOf(file.well, name)).toBe(expectedOf(given, name).value);
      expect(file.curves.map(({ mnemonic }) => mnemonic)).toEqual(expectedOf(given, 'curve_mnemonics').value);
      expect(file.curves.map(({ unit }) => unit)).toEqual(expectedOf(given, 'curve_units').value);
      expect(file.parameters.map(({ mnemonic, unit, value }) => [mnemonic, unit, value])).toEqual(expectedOf(given, 'parameters').value);
      expect(file.rows.map((row) => row.map(Number))).toEqual(expectedOf(given, 'rows').value);
      expect(file.rows).toHaveLength(expectedNumber(given, 'row_count_from_STRT_STOP_STEP'));
    }
    const withoutExtent = ({ well, ...rest }: LasFile): object => ({ ...rest, version: null, well: itemsBut(well, ['STRT', 'STOP', 'STEP']).map(({ description, ...item }) => ({ ...item, isSaid: description !== '' })), rows: null });
    expect(withoutExtent(again)).toEqual(withoutExtent(read));
  },

  'las-mandatory': (given) => {
    const text = sampleText();
    const without = (name: string): string => text.split(/(?=~)/).filter((part) => !part.startsWith(`~${name}`)).join('').replace(/\r\n$/, '');
    for (const name of expectedOf(given, 'required_sections').value as string[]) expect(() => readLas(without(name.slice(1)))).toThrow();
    for (const name of expectedOf(given, 'optional_sections').value as string[]) expect(readLas(without(name.slice(1))).sections).not.toContain(name.slice(1));
    const { sections, version, well } = writtenAgain(readLas(text));
    expect([`~${sections[0]!}`, `~${sections.at(-1)!}`]).toEqual([expectedOf(given, 'first_section').value, expectedOf(given, 'last_section').value]);
    expect(new Set(sections).size).toBe(sections.length * expectedNumber(given, 'max_occurrences_per_section'));
    expect(version.map(({ mnemonic }) => mnemonic)).toEqual(expectedOf(given, 'version_items').value);
    const names = (expectedOf(given, 'well_items').value as string[]).map((name) => name.split(' ')[0]);
    expect(well.map(({ mnemonic }) => mnemonic)).toEqual(names);
  },

  'las-index': (given) => {
    const read = readLas(sampleText());
    const log = logOf(read);
    const headOf = (changes: object): string => new LasWriter({ ...log, index: { ...log.index, ...changes } }).head;
    for (const mnemonic of expectedOf(given, 'index_mnemonics').value as string[]) {
      const isTime = mnemonic === 'TIME';
      expect(headOf({ mnemonic, unit: isTime ? 'S' : 'M', ...(isTime ? { start: 0, stop: 10, step: 1 } : {}) })).toMatch(new RegExp(`\r\n${mnemonic} *\\.`));
    }
    for (const unit of expectedOf(given, 'depth_units').value as string[]) {
      const lines = headOf({ unit }).split('\r\n').filter((line) => /^(?:STRT|STOP|STEP|DEPT) *\./.test(line)).map(readLine);
      expect(lines.map((line) => line.unit)).toEqual([unit, unit, unit, unit]);
      expect(expectedOf(given, 'units_must_match_across').value).toHaveLength(lines.length);
    }
    expect(() => headOf({ unit: 'MM' })).toThrow('DEPT: the unit of a depth is M, F or FT: "MM"');
    const uneven = headOf({ step: expectedNumber(given, 'step_when_not_constant') });
    expect(Number(readLine(uneven.split('\r\n').find((line) => line.startsWith('STEP'))!).value)).toBe(0);
  },

  'las-validate-bad': (given) => {
    const files = given.inputs['files'] as Readonly<Record<'a' | 'b' | 'c', string[]>>;
    expect(() => readLas(files.a.join('\r\n'))).toThrow(String(expectedOf(given, 'a_first_problem').value));
    expect(() => readLas(files.b.join('\r\n'))).toThrow(/^~W is without NULL/);
    expect(String(expectedOf(given, 'b_problems_include').value)).toContain('blank line in ~A');
    expect(() => readLas(`${sampleText()}\r\n\r\n1669.625 1 1 1 1 1 1 1`)).toThrow('blank line in ~A');
    expect(() => readLas(files.c.join('\r\n'))).toThrow('~W is missing');
    expect(expectedOf(given, 'c_problems_include').value).toBe('~W missing');
  },
};

describe('LAS 2.0 in print', () => {
  test('every case is checked', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual(Object.keys(checks).sort());
  });

  test.each(titled(cases))('%s', (_title, given) => { checkOf(checks, given)(given); });
});
