import { describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { csvLine, csvLines } from './csv.js';

const read = (text: string): string[][] => parse(text, { delimiter: ',', record_delimiter: '\r\n', relax_column_count: false });

describe('a table as CSV', () => {
  test('gives back every text as it was, whatever is in it', () => {
    const cells = ['plain', 'a, b', 'he said "no"', 'two\nlines', 'two\r\nlines', '"', ',', ' spaces ', 'ä€😀', ''];
    expect(read(csvLine(cells))).toEqual([cells]);
  });

  test('has nothing where there is nothing, a number in its digits, and quotes only where they are needed', () => {
    expect(csvLine([null, 0, -1.5, 'x'])).toBe(',0,-1.5,x\r\n');
    expect(csvLine(['a"b', 'c'])).toBe('"a""b",c\r\n');
  });

  test.each([0, 1, 199, 200, 201, 400, 1001])('comes some lines at a time, and whole: %i', (count) => {
    const rows = Array.from({ length: count }, (_, nth) => [nth, `line ${nth}`]);
    const chunks = [...csvLines(rows)];
    expect(read(chunks.join(''))).toEqual(rows.map((row) => row.map(String)));
    expect(chunks.map((chunk) => chunk.split('\r\n').length - 1)).toEqual([...Array<number>(Math.floor(count / 200)).fill(200), ...(count % 200 === 0 ? [] : [count % 200])]);
  });

  test('asks for rows only as they are taken', () => {
    let drawn = 0;
    const rows = (function* () {
      for (;;) yield [(drawn += 1)];
    })();
    expect(csvLines(rows).next().done).toBe(false);
    expect(drawn).toBe(200);
  });
});
