import { describe, expect, test } from '@jest/globals';
import { aCutOut } from '../../test/fixtures/string-lengths.js';
import { NetLengths, netLengthMap } from './net-lengths.js';

const early = aCutOut(100, 150, 200);
const late = aCutOut(150, 160, 300);

describe('net length', () => {
  test('is the footage less what was cut out below it', () => {
    const map = netLengthMap([late, early]);
    expect([99, 100, 125, 150, 160, 161].map((footage) => map.at(footage))).toEqual([99, 100, 100, 100, 100, 101]);
  });

  test('inverts to the pipe above the cut', () => {
    expect(netLengthMap([early, late]).upperInverseAt(100)).toBe(160);
  });

  test('knows only the cut-outs that had happened', () => {
    const nets = new NetLengths([late, early]);
    expect([199, 200, 299, 300, Infinity].map((atUs) => nets.at(atUs).at(1_000))).toEqual([1_000, 950, 950, 940, 940]);
    expect(nets.findCutOut(150, 299)).toBeNull();
    expect(nets.findCutOut(150, 300)).toBe(late);
    expect(nets.findCutOut(149.9, 300)).toBe(early);
    expect(nets.findCutOut(160, 300)).toBeNull();
    expect(nets.cutOutsBelow(150, 300)).toEqual([early]);
    expect(nets.removedBy(250).totalLengthMm).toBe(50);
  });

  test('refuses cut-outs that overlap, are empty or reversed', () => {
    expect(() => new NetLengths([early, aCutOut(149, 155, 400)])).toThrow('two cut-outs remove the same pipe');
    expect(() => new NetLengths([aCutOut(5, 5, 1)])).toThrow('empty');
    expect(() => new NetLengths([aCutOut(6, 5, 1)])).toThrow('reversed');
  });
});
