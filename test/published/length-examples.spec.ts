import { readFileSync } from 'node:fs';
import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { LengthModel, tieReport, type Wall } from '#libs/length';
import { aCutOut, aHangOff, aString, aTie, recordRef } from '../fixtures/string-lengths.js';

interface Example {
  name: string;
  lambda: number;
  lineMm: number;
  hangOffFootageMm: number;
  hangOffMdMm: number;
  weldFootageMm: number;
  shoeMdMm: number;
  coils: [string, number, number][];
  cutOuts: [number, number, number][];
  outer: [string, number, number][];
  inner: [string, number, number][];
}

const { examples } = JSON.parse(readFileSync(new URL('../fixtures/length-examples.json', import.meta.url), 'utf8')) as { examples: Example[] };

function modelOf(example: Example, withTie = false): LengthModel {
  const { lambda, lineMm, hangOffFootageMm, hangOffMdMm, weldFootageMm, shoeMdMm } = example;
  return new LengthModel(
    aString({
      cutOuts: example.cutOuts.map(([from, to, atUs]) => aCutOut(from, to, atUs)),
      hangOff: aHangOff({ footageMm: hangOffFootageMm, mdMm: hangOffMdMm, atUs: hangOffFootageMm + lineMm }),
      hangOffPath: [{ record: recordRef('line-set-up', 'line'), validFromUs: 0, pathMm: lineMm, uPathMm: 0 }],
      defaultRatio: { record: null, lambda, u: 0 },
      shoeTies: withTie ? [aTie(weldFootageMm, weldFootageMm, shoeMdMm)] : [],
    }),
  );
}

/** What a wall shows of each coil, in whole mm, by depth. */
function coilsOn(wall: Wall, { coils }: Example): [string, number, number][] {
  const shown = coils.flatMap(([coil, fromMm, toMm]) => {
    const depths = IntervalSet.from(wall.piecesOfFootage({ fromMm, toMm }).map(({ md }) => md));
    return depths.intervals.map((md): [string, number, number] => [coil, md.fromMm, md.toMm]);
  });
  return shown.sort((a, b) => a[1] - b[1]);
}

const inWholeMm = (rows: [string, number, number][]) => rows.map(([coil, from, to]) => [coil, Math.round(from), Math.round(to)]);

describe.each(examples)('worked example $name (particle simulation)', (example) => {
  const model = modelOf(example);
  const shoe = model.shoeAt({ shoeMdMm: example.shoeMdMm });

  test('outer wall, coil by coil', () => {
    expect(coilsOn(model.outerWall(shoe), example)).toEqual(inWholeMm(example.outer));
  });

  test('inner wall, coil by coil', () => {
    expect(coilsOn(model.innerWall(shoe), example)).toEqual(inWholeMm(example.inner));
  });

  test('coil boundaries to the 0.1 mm printed', () => {
    const startsOf = (rows: [string, number, number][], side: 1 | 2) => rows.map((row) => row[side].toFixed(1));
    const footageStart = (coil: string) => example.coils.find(([name]) => name === coil)?.[1] ?? Number.NaN;
    const outerStarts = example.outer.slice(1).map(([coil]) => model.outerWall(shoe).mdAt(footageStart(coil)).mdMm.toFixed(1));
    const innerStarts = example.inner.slice(0, -1).map(([coil]) => model.innerWall(shoe).mdAt(footageStart(coil)).mdMm.toFixed(1));
    expect(outerStarts).toEqual(startsOf(example.outer.slice(1), 1));
    expect(innerStarts).toEqual(startsOf(example.inner.slice(0, -1), 2));
  });

  test('and back: every depth of either wall names the same coil', () => {
    const walls = [model.outerWall(shoe), model.innerWall(shoe)];
    const printed = [example.outer, example.inner];
    walls.forEach((wall, index) => {
      for (const [coil, from, to] of printed[index]!) {
        const { footageMm } = wall.footageAt((from + to) / 2);
        const holder = example.coils.find(([, start, end]) => start <= footageMm && footageMm < end);
        expect(holder?.[0]).toBe(coil);
      }
    });
  });

  test('the counter finds the same shoe, to the 1.5 mm that the simulation rounds', () => {
    const counted = model.shoeAt({ weldFootageMm: example.weldFootageMm, atUs: example.weldFootageMm });
    expect(Math.abs(counted.mdMm - example.shoeMdMm)).toBeLessThanOrEqual(1.5);
  });

  test('the lengths balance at the shoe, to the 3 mm that the simulation leaves', () => {
    const tied = modelOf(example, true);
    const [line] = tieReport(tied.outer, tied.lengths);
    expect(Math.abs(line!.reconciliation.mm)).toBeLessThanOrEqual(3);
  });
});
