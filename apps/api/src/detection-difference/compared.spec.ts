import { describe, expect, test } from '@jest/globals';
import type { FoundPartAnswer } from '../detections/detection.dto.js';
import { compared, counted, evaluatedOf, type Side, type SidePlace } from './compared.js';

const place = (channelId: string, fromMm: number, toMm: number): SidePlace => ({
  fromMm, toMm, parts: [{ channelId, runId: 'r', fromMm, toMm, begins: 'signal', ends: 'signal', peak: '60', peakMm: fromMm, isBound: false, samples: 1, runs: 1, missingMm: 0 } satisfies FoundPartAnswer],
});
const side = (isApart: boolean, ...found: SidePlace[]): Side => ({ isApart, found });
const told = (before: Side, after: Side): unknown[] => compared(before, after).map(({ change, before: then, after: now }) => [change, then.length, now.length]);

describe('two sides', () => {
  const before = side(true, place('A', 10, 20), place('B', 12, 18));

  test('are compared channel by channel where both keep them apart, by footage', () => {
    expect(told(before, side(true, place('A', 10, 20), place('B', 5, 18)))).toEqual([['grown', 1, 1], ['same', 1, 1]]);
    expect(told(before, side(true, place('A', 10, 20), place('A', 50, 60)))).toEqual([['same', 1, 1], ['vanished', 1, 0], ['appeared', 0, 1]]);
  });

  test('are compared by their pipe alone where one of them makes channels one', () => {
    expect(told(before, side(false, place('A', 10, 20)))).toEqual([['same', 2, 1]]);
  });

  test('are counted by how their places changed', () => {
    expect(counted(compared(before, side(true, place('A', 10, 20), place('B', 5, 18), place('B', 30, 31))))).toEqual([
      { change: 'appeared', places: 1 }, { change: 'grown', places: 1 }, { change: 'same', places: 1 },
    ]);
  });
});

test('what was evaluated is told at the places of its channels that have its pipe, and apart where there is none', () => {
  const differences = compared(side(true, place('A', 10, 20)), side(true, place('A', 10, 30), place('B', 10, 30)));
  const [onA, beside, onBoth] = [{ fromMm: 25, toMm: 40, channelIds: ['A'] }, { fromMm: 30, toMm: 40, channelIds: ['A'] }, { fromMm: 0, toMm: 11, channelIds: ['A', 'B'] }];
  const { there, notFound } = evaluatedOf(differences, [onA, beside, onBoth]);
  expect(differences.map(({ change }) => change)).toEqual(['grown', 'appeared']);
  expect([there, notFound]).toEqual([[[onA, onBoth], [onBoth]], [beside]]);
});
