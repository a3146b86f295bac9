import { describe, expect, test } from '@jest/globals';
import type { PlacedVersion } from '../line/placed.entity.js';
import { StandingRows } from './standing-rows.js';

const row = (id: string, version: number, fromMm: number, knownFrom: string, state = 'active'): PlacedVersion =>
  ({ id, version, span: { fromMm, toMm: fromMm + 1 }, knownFrom: `2026-03-02T${knownFrom}:00.000000Z`, state }) as PlacedVersion;

/** Rows of one string in a table that is read in whole once. */
function tableOf(...first: PlacedVersion[]) {
  const table = [...first];
  const asked: string[] = [];
  const rows = new StandingRows<PlacedVersion>({
    ofString: () => {
      asked.push('all');
      return Promise.resolve([...table]);
    },
    since: (_stringId, instant, known) => {
      asked.push(instant.slice(11, 19));
      const versions = table.reduce((sum, { version }) => sum + version, 0);
      return Promise.resolve({ versions, rows: table.filter(({ id, version, knownFrom }) => knownFrom >= instant && !known(id, version)) });
    },
  });
  const put = (one: PlacedVersion): void => {
    const index = table.findIndex(({ id }) => id === one.id);
    table.splice(index < 0 ? table.length : index, 1, one);
  };
  return { rows, put, asked };
}

const told = (rows: readonly PlacedVersion[]): string => rows.map(({ id, version }) => `${id}${version}`).join(' ');

describe('rows that stand', () => {
  test('are read in whole once, then as they change, from a second before the last that was known', async () => {
    const { rows, put, asked } = tableOf(row('a', 1, 100, '06:00'), row('b', 1, 200, '06:10'));
    const before = await rows.of('string');
    put(row('c', 1, 150, '06:20'));
    put(row('b', 2, 50, '06:21'));
    const after = await rows.of('string');
    expect([told(before), told(after), asked]).toEqual(['a1 b1', 'b2 a1 c1', ['all', '06:09:59']]);
    expect(after[1]).toBe(before[0]);
    expect(await rows.of('string')).toBe(after);
    expect(asked.at(-1)).toBe('06:20:59');
  });

  test('see what was committed later than others that became known after it, though all has to be read again', async () => {
    const { rows, put, asked } = tableOf(row('a', 1, 100, '06:10'), row('b', 1, 200, '06:00'));
    await rows.of('string');
    put(row('late', 1, 300, '06:09'));
    expect(told(await rows.of('string'))).toBe('a1 b1 late1');
    put(row('b', 2, 50, '06:08'));
    expect(told(await rows.of('string'))).toBe('b2 a1 late1');
    put(row('late', 2, 300, '06:07', 'void'));
    expect(told(await rows.of('string'))).toBe('b2 a1');
    expect(asked).toEqual(['all', '06:09:59', 'all', '06:09:59', 'all', '06:09:59', 'all']);
  });

  test('count what was withdrawn among what is known', async () => {
    const { rows, put, asked } = tableOf(row('a', 1, 100, '06:00'), row('gone', 2, 200, '06:01', 'void'));
    expect(told(await rows.of('string'))).toBe('a1');
    put(row('b', 1, 50, '06:02'));
    expect(told(await rows.of('string'))).toBe('b1 a1');
    expect(asked).toEqual(['all', '06:00:59']);
  });

  test('are without what was withdrawn, and the first may come when there was none', async () => {
    const { rows, put } = tableOf();
    expect(await rows.of('string')).toEqual([]);
    put(row('a', 1, 100, '06:00'));
    expect(told(await rows.of('string'))).toBe('a1');
    put(row('a', 2, 100, '06:05', 'void'));
    expect(await rows.of('string')).toEqual([]);
    put(row('b', 1, 100, '06:06'));
    expect(told(await rows.of('string'))).toBe('b1');
  });
});
