import { describe, expect, test } from '@jest/globals';
import { readLas, valueOf, type LasFile } from '../../../../test/fixtures/las-reader.js';
import { Refused } from '../http/problem.js';
import { evidenceLas } from './evidence-las.js';
import { anAnswer, at, onWall } from './evidence.factory.js';

type Stretches = readonly ReturnType<typeof onWall>[];
const HEAD = { wellName: 'Lindmoor Geothermal 2', datum: 'Guide frame', stringName: 'Lindmoor 2 main string', knownAt: at('09:00') };

async function read(stretches: Stretches, wall: 'outer' | 'inner' = 'outer', head = HEAD): Promise<LasFile> {
  let text = '';
  for await (const part of evidenceLas(anAnswer({ walls: [{ wall, stretches: [...stretches] }] }), wall, head)) text += part;
  return readLas(text);
}
/** Depth, code of the evidence, and footage, row by row. */
const rows = async (stretches: Stretches, wall?: 'outer' | 'inner'): Promise<string[]> => (await read(stretches, wall)).rows.map(([depth, code, , footage]) => `${depth} ${Number(code)} ${Number(footage)}`);

describe('the verdict on a wall as LAS', () => {
  test('has a row at the first and at the last millimetre of each stretch', async () => {
    expect(await rows([onWall(1_000, 1_500, 'confirmed'), onWall(1_500, 2_000, 'missing')])).toEqual(['1.000 5 7', '1.499 5 7.499', '1.500 1 7', '1.999 1 7.499']);
  });

  test('has one row of a stretch that is one millimetre, or nothing, long', async () => {
    expect(await rows([onWall(1_000, 1_001, 'failed')])).toEqual(['1.000 0 7']);
    expect(await rows([onWall(1_000, 1_000, 'failed')])).toEqual(['1.000 0 7']);
  });

  test('has the worse of two stretches at one depth, whichever comes first, and depths that rise', async () => {
    const [good, bad] = [onWall(1_000, 1_001, 'confirmed'), onWall(1_000, 1_001, 'suspect')];
    expect([await rows([good, bad]), await rows([bad, good])]).toEqual([['1.000 2 7'], ['1.000 2 7']]);
    expect(await rows([onWall(1_500, 1_600, 'confirmed'), onWall(900, 1_501, 'failed')])).toEqual(['0.900 0 7', '1.500 0 7.6', '1.599 5 7.099']);
  });

  test('has footage that rises downwards in the outer wall and upwards in the inner one', async () => {
    expect(await rows([onWall(1_000, 1_500, 'confirmed')], 'inner')).toEqual(['1.000 5 7.499', '1.499 5 7']);
  });

  test('tells what is late, and how far the depth may be off', async () => {
    const late = onWall(1_000, 1_500, 'confirmed', true);
    expect((await read([late])).rows.map(([, , lateness, , plusMinus]) => [Number(lateness), Number(plusMinus)])).toEqual([[1, 0.012], [1, 0.015]]);
    expect((await read([onWall(1_000, 1_500, 'confirmed')])).rows.map(([, , lateness]) => Number(lateness))).toEqual([0, 0]);
  });

  test('says whose it is, of what instant, what its codes mean and what to keep in mind, in plain ASCII', async () => {
    const { well, parameters, other } = await read([onWall(1_000, 1_500, 'confirmed')], 'outer', { ...HEAD, wellName: 'Bohrung „Süd“', datum: 'Oberkante Tisch' });
    expect([valueOf(well, 'STRT'), valueOf(well, 'STOP'), valueOf(well, 'STEP')].map(Number)).toEqual([1, 1.499, 0]);
    expect(valueOf(well, 'WELL')).toMatch(/^[\x20-\x7e]*S\w+d[\x20-\x7e]*$/);
    expect([valueOf(parameters, 'WALLSIDE'), valueOf(parameters, 'KNOWNAT'), valueOf(parameters, 'DATUM')]).toEqual(['outer', at('09:00'), 'Oberkante Tisch']);
    expect(other).toEqual(expect.arrayContaining(['EVID 0 is failed.', 'EVID 6 is not-required.', 'Mind this.', 'And that.']));
  });

  test('is refused where nothing of the wall was asked about, or nothing stands', () => {
    for (const walls of [[], [{ wall: 'outer' as const, stretches: [] }], [{ wall: 'inner' as const, stretches: [onWall(1_000, 1_500, 'confirmed')] }]]) {
      expect(() => evidenceLas(anAnswer({ walls }), 'outer', HEAD)).toThrow(Refused);
    }
  });
});
