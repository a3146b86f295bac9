import { describe, expect, test } from '@jest/globals';
import { combineChannels, differenceOf, type Indication, matchEvaluated } from '#libs/indications';
import { interval } from '#libs/intervals';

const at = (fromMm: number, toMm: number): Indication => ({
  fromMm, toMm, begins: 'signal', ends: 'signal', peak: { value: 60, atMm: fromMm, isBound: false }, samples: 1, runs: 1, missingMm: 0,
});

describe('several channels', () => {
  const parts = [{ channel: 'B', indication: at(5, 8) }, { channel: 'A', indication: at(0, 5) }];

  test('are one where they share pipe or are nearer than the distance; touching is 0 mm apart', () => {
    expect(combineChannels(parts, 0)).toHaveLength(2);
    expect(combineChannels(parts, 1)).toEqual([{ fromMm: 0, toMm: 8, parts: [parts[1], parts[0]] }]);
    expect(combineChannels([{ channel: 'A', indication: at(0, 6) }, parts[0]!], 0)).toHaveLength(1);
  });

  test('are linked through a third, and a long one reaches over short ones', () => {
    const long = { channel: 'C', indication: at(0, 20) };
    expect(combineChannels([long, { channel: 'A', indication: at(1, 2) }, { channel: 'B', indication: at(18, 25) }], 0)).toMatchObject([{ fromMm: 0, toMm: 25 }]);
  });

  test('of one place come in the order of their names', () => {
    const [a, b] = [{ channel: 'A', indication: at(0, 5) }, { channel: 'B', indication: at(0, 5) }];
    expect(combineChannels([b, a], 0)[0]?.parts).toEqual([a, b]);
  });

  test('refuse half a millimetre', () => {
    expect(() => combineChannels([], 0.5)).toThrow(new RangeError('combiningMm is not a whole number from 0: 0.5'));
  });
});

describe('another rule', () => {
  test.each([
    ['appeared', [], [at(1, 3)]],
    ['vanished', [at(1, 3)], []],
    ['same', [at(1, 3)], [at(1, 3)]],
    ['grown', [at(1, 3)], [at(1, 4)]],
    ['shrunk', [at(0, 3)], [at(1, 3)]],
    ['shifted', [at(0, 3)], [at(1, 4)]],
    ['grown', [at(0, 2), at(4, 6)], [at(0, 6)]],
    ['shrunk', [at(0, 6)], [at(0, 2), at(4, 6)]],
  ])('%s (%#)', (change, before, after) => {
    expect(differenceOf(before, after)).toEqual([{ change, before, after }]);
  });

  test('tells of places that only touch one by one', () => {
    expect(differenceOf([at(0, 3)], [at(3, 5)]).map(({ change }) => change)).toEqual(['vanished', 'appeared']);
  });
});

describe('evaluated indications', () => {
  const seen = { ...interval(10, 20), verdict: 'not relevant' };

  test('stay though nothing is found any more', () => {
    expect(matchEvaluated([seen], [], 5).evaluated).toEqual([{ evaluated: seen, found: [] }]);
  });

  test('belong to what is nearer than the distance, and the pipe that they did not cover is told', () => {
    const { found } = matchEvaluated([seen], [at(15, 25), at(22, 23), at(23, 24)], 3);
    expect(found.map(({ evaluated, notEvaluated }) => [evaluated, notEvaluated.toMultirange()])).toEqual([[[seen], '{[20,25)}'], [[seen], '{[22,23)}'], [[], '{[23,24)}']]);
  });

  test('of which one takes in several keep them all', () => {
    const other = { ...interval(30, 32), verdict: 'defect' };
    const { evaluated, found } = matchEvaluated([seen, other], [at(10, 32)], 0);
    expect(evaluated.map((one) => one.found.length)).toEqual([1, 1]);
    expect(found[0]?.notEvaluated.toMultirange()).toBe('{[20,30)}');
  });

  test('refuse a distance below 0', () => {
    expect(() => matchEvaluated([], [], -1)).toThrow(new RangeError('withinMm is not a whole number from 0: -1'));
  });
});
