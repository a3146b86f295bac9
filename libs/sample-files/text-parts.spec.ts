import { describe, expect, test } from '@jest/globals';
import { bitsOf, NO_VALUE_BITS, STATUS } from '#libs/signals';
import { refusalOf, shapeOf } from '../../test/fixtures/sample-files.js';
import { decodePart, NO_RULES, type DecodedPart, type PartShape } from './index.js';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const csv = (given: Partial<PartShape> = {}): PartShape => shapeOf({ format: 'csv', position: { name: 'position', kind: 'counter', decimals: 3 }, ...given });
const ndjson = (given: Partial<PartShape> = {}): PartShape => csv({ ...given, format: 'ndjson' });
const TIME = { position: { name: 'position', kind: 'time' } } as const;
const readCsv = (text: string, shape = csv()): DecodedPart => decodePart(bytesOf(text), shape);
const readNdjson = (text: string, shape = ndjson()): DecodedPart => decodePart(bytesOf(text), shape);

/** Both formats give the same for the same cells. */
const CELLS = ['5.01', '', '>=100', '≥100', '≥ 100', '<=0.5', '≤ 0.5', '-0', ' 7 ', '1e2', '5.0123456'];
const EXPECTED = [Math.fround(5.01), NaN, 100, 100, 100, 0.5, 0.5, -0, 7, 100, Math.fround(5.0123456)];
const STATUSES = ['read', 'missing', 'saturatedHigh', 'saturatedHigh', 'saturatedHigh', 'saturatedLow', 'saturatedLow', 'read', 'read', 'read', 'read'] as const;

function expectCells({ positions, columns: [wall], narrowed }: DecodedPart): void {
  expect([...positions]).toEqual(CELLS.map((_, index) => 1000 + index));
  expect([...wall!.values]).toEqual(EXPECTED);
  expect([...wall!.statuses]).toEqual(STATUSES.map((name) => STATUS[name]));
  expect(bitsOf(wall!.values)[1]).toBe(NO_VALUE_BITS);
  expect(narrowed).toBe(1);
}

describe('CSV', () => {
  test('is read cell by cell, in whatever order the columns stand', () => {
    const position = (index: number): string => (1 + index / 1000).toFixed(3);
    expectCells(readCsv(`wall,position\n${CELLS.map((cell, index) => `${cell},${position(index)}`).join('\n')}\n`));
    expectCells(readCsv(`\ufeff"position","wall"\r\n\r\n${CELLS.map((cell, index) => `"${position(index)}","${cell}"`).join('\r\n')}`));
  });

  test('takes instants and whole microseconds as times', () => {
    const { positions } = readCsv('position,wall\n2026-03-01T06:00:00+01:00,1\n1772341200000001,1\n2026-03-01T05:00:00.000002Z,1\n', csv(TIME));
    expect([...positions].map((position) => position - Date.UTC(2026, 2, 1, 5) * 1000)).toEqual([0, 1, 2]);
  });

  test('is read over blocks of lines, and names the right line after empty ones', () => {
    const lines = Array.from({ length: 30_000 }, (_, index) => `${index % 1000 === 7 ? '\n' : ''}${index},${(index % 77) / 100}`);
    const { positions, columns: [wall] } = readCsv(`position,wall\n${lines.join('\n')}`);
    expect(positions.every((position, index) => position === index * 1000)).toBe(true);
    expect(wall!.values.every((value, index) => value === Math.fround((index % 77) / 100))).toBe(true);
    expect(positions).toHaveLength(30_000);
    // 26 of the lines 1 to 25,008 of the file are empty, and the first names the columns.
    const broken = `position,wall\n${lines.with(25_008, '25008,n/a').join('\n')}`;
    const line = broken.split('\n').findIndex((text) => text.endsWith('n/a')) + 1;
    expect(refusalOf(bytesOf(broken), csv())).toMatchObject({ code: 'wrong-value', field: 'wall', row: 25_009, line, value: 'n/a' });
  });

  test.each([
    ['a word', 'position,wall\n1,2\n2,NaN\n', { code: 'wrong-value', field: 'wall', row: 2, line: 3, value: 'NaN' }],
    ['a decimal comma', 'position,wall\n1,"2,5"\n', { code: 'wrong-value', field: 'wall', line: 2, value: '2,5' }],
    ['semicolons', 'position;wall\n1;2\n', { code: 'wrong-columns' }],
    ['a bound of nothing', 'position,wall\n1,>=\n', { code: 'wrong-value', field: 'wall', value: '>=' }],
    ['no position', 'position,wall\n1,2\n ,2\n', { code: 'wrong-position', field: 'position', row: 2, line: 3 }],
    ['more decimals than the counter has', 'position,wall\n1.0001,2\n', { code: 'wrong-position', field: 'position', line: 2, value: '1.0001' }],
    ['a position beyond all', 'position,wall\n4503599627370.497,2\n', { code: 'wrong-position', line: 2, limit: '±2^52' }],
    ['a negative zero', 'position,wall\n-0.000,2\n', { code: 'wrong-position', line: 2, value: '-0.000' }],
    ['a position that falls', 'position,wall\n2,2\n1,2\n', { code: 'wrong-order', row: 2, value: '1000', limit: '2000' }],
    ['too few fields', 'position,wall\n1,2\n3\n', { code: 'malformed', line: 3 }],
    ['too many fields in all lines', 'position,wall,other\n1,2,3\n', { code: 'wrong-columns', field: 'other' }],
    ['one name twice', 'position,wall,wall\n1,2,3\n', { code: 'wrong-columns', field: 'wall' }],
    ['names alone', 'position,wall\n', { code: 'empty' }],
    ['nothing', '', { code: 'malformed' }],
    ['a quote that stays open', 'position,wall\n1,"2\n2,3\n', { code: 'malformed', line: 2 }],
    ['a quote within a field', 'position,wall\n1,2"3"\n', { code: 'malformed', line: 2 }],
    ['something after a quote', 'position,wall\n1,2\n2,"2"3\n', { code: 'malformed', line: 3 }],
    ['a line without an end', `position,wall\n1,${'2'.repeat(70_000)}`, { code: 'malformed', line: 2, limit: '65536' }],
  ])('with %s is refused', (_, text, expected) => {
    expect(refusalOf(bytesOf(text), csv())).toMatchObject(expected);
  });

  test('that is not UTF-8, has no instant or too many rows is refused', () => {
    expect(refusalOf(Buffer.from('position,wall\n1,\xb5\n', 'latin1'), csv())).toMatchObject({ code: 'malformed' });
    expect(refusalOf(bytesOf('position,wall\n2026-03-01T06:00:00,1\n'), csv(TIME))).toMatchObject({ code: 'wrong-position', line: 2, value: '2026-03-01T06:00:00' });
    expect(refusalOf(bytesOf('position,wall\n1,1\n2,2\n3,3\n'), csv({ limits: { maxRows: 2 } }))).toMatchObject({ code: 'too-many-rows', limit: '2' });
  });
});

describe('NDJSON', () => {
  test('is read member by member, numbers digit by digit and texts as cells', () => {
    const position = (index: number): string => (1 + index / 1000).toFixed(3);
    expectCells(readNdjson(CELLS.map((cell, index) => JSON.stringify({ position: position(index), wall: cell === '' ? null : cell })).join('\n')));
    const numbers = CELLS.map((cell, index) => `{ "wa\\u006cl" : ${/^[-\d]/.test(cell) ? cell : JSON.stringify(cell)} ,"position":${position(index)} }\r`);
    expectCells(readNdjson(`\ufeff${numbers.join('\n')}\n\n`));
  });

  test.each([
    ['an array', '[1,2]\n', { code: 'malformed', line: 1 }],
    ['nested values', '{"position":1,"wall":2}\n{"position":2,"wall":{"a":1}}', { code: 'wrong-value', field: 'wall', line: 2, value: 'an object' }],
    ['a deep nest', `{"position":1,"wall":${'['.repeat(60_000)}`, { code: 'wrong-value', field: 'wall', line: 1, value: 'an array' }],
    ['a name twice', '{"position":1,"wall":2,"wall":3}', { code: 'wrong-columns', field: 'wall', line: 1 }],
    ['another name', '{"position":1,"wall":2,"other":3}', { code: 'wrong-columns', field: 'other', line: 1 }],
    ['a name less', '{"position":1,"wall":2}\n{"position":2}', { code: 'wrong-columns', field: 'wall', line: 2 }],
    ['a name of all objects', '{"__proto__":1,"position":1,"wall":2}', { code: 'wrong-columns', field: '__proto__' }],
    ['true', '{"position":1,"wall":true}', { code: 'wrong-value', field: 'wall', value: '"true"' }],
    ['NaN', '{"position":1,"wall":NaN}', { code: 'wrong-value', field: 'wall', line: 1 }],
    ['a number that JSON has not', '{"position":01,"wall":1}', { code: 'malformed', line: 1 }],
    ['a comma too many', '{"position":1,"wall":1,}', { code: 'malformed', line: 1 }],
    ['a line that goes on', '{"position":1,"wall":1} {"position":2,"wall":1}', { code: 'malformed', line: 1 }],
    ['a line that is cut', '{"position":1,"wall":1}\n{"position":2,"wa', { code: 'malformed', line: 2 }],
    ['an escape that is none', '{"position":1,"wall":"\\x41"}', { code: 'malformed', line: 1 }],
    ['no position', '{"position":null,"wall":1}', { code: 'wrong-position', field: 'position', line: 1 }],
    ['an exponent in a position', '{"position":1e3,"wall":1}', { code: 'wrong-position', field: 'position', value: '1e3' }],
    ['a word', '{"position":1,"wall":"n/a"}', { code: 'wrong-value', field: 'wall', line: 1, value: 'n/a' }],
    ['nothing', '\n\n', { code: 'empty' }],
  ])('with %s is refused', (_, text, expected) => {
    expect(refusalOf(bytesOf(text), ndjson())).toMatchObject(expected);
  });
});

describe('rules', () => {
  test('judge what was read, and leave what the text says', () => {
    const rules = { ...NO_RULES, missingValues: [-999], saturatesAtHigh: 90, plausibleFrom: 1 };
    const { columns: [wall] } = readCsv('position,wall\n1,-999\n2,95\n3,≤0.5\n4,0.5\n5,\n', csv({ columns: [{ name: 'wall', rules }] }));
    expect([...wall!.statuses]).toEqual([STATUS.missing, STATUS.saturatedHigh, STATUS.saturatedLow, STATUS.implausible, STATUS.missing]);
    expect([...wall!.values]).toEqual([-999, 95, 0.5, 0.5, NaN]);
  });
});
