import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { VERDICTS, type Verdict } from '#libs/conformity';
import { compare, over, ratio } from '#libs/exact';
import { arcEnergy, heatInputAsme, heatInputEn, procedureChecker, seamJunctions, spliceGeometry, type ProcedureCheck } from '#libs/welding';
import { seedFromEnvironment } from '../setup/seed.js';
import { decimalBetween } from './conformity.arbitraries.js';
import { DECIMALS, scaled, textOf } from './conformity.reference.js';
import { asProcedure, asWeld, plainProcedure, plainWeld, readings, tightened } from './welding.arbitraries.js';
import { verdictOf } from './welding.reference.js';

function check<T extends unknown[]>(property: fc.IProperty<T>, numRuns = 1000): void {
  fc.assert(property, { ...seedFromEnvironment(), numRuns });
}

const rank = (verdict: Verdict | 'not-limited'): number => VERDICTS.indexOf(verdict as Verdict);
const asTexts = ({ lines }: ProcedureCheck): string[] => lines.map((line) => JSON.stringify(line)).sort();
const shuffled = <T>(given: readonly T[]): fc.Arbitrary<T[]> => fc.shuffledSubarray([...given], { minLength: given.length });

describe('a weld against its procedure', () => {
  test('is judged as by comparing whole numbers', () => {
    const seen = new Set<Verdict | 'not-limited'>();
    check(fc.property(plainProcedure, plainWeld, (procedure, weld) => {
      const { verdict, lines } = procedureChecker(asProcedure(procedure))(asWeld(weld));
      expect(verdict).toBe(verdictOf(procedure, weld));
      for (const line of lines) seen.add(line.verdict);
    }), 1500);
    expect([...seen].sort()).toEqual(['conforms', 'does-not-conform', 'not-comparable', 'not-limited', 'not-reported']);
  });

  test('does not depend on the order of the values, nor of the ranges and lists', () => {
    const reordered = fc.tuple(plainProcedure, plainWeld).chain(([procedure, weld]) => {
      const { values, chosen } = asWeld(weld);
      return fc.tuple(
        fc.constant([procedure, { values, chosen }] as const),
        fc.record({ ranges: shuffled(procedure.ranges), lists: shuffled(procedure.lists) }),
        fc.record({ values: shuffled(values), chosen: shuffled(chosen) }),
      );
    });
    check(fc.property(reordered, ([[procedure, weld], otherProcedure, otherWeld]) => {
      const one = procedureChecker(asProcedure(procedure))(weld);
      const other = procedureChecker(asProcedure(otherProcedure))(otherWeld);
      expect(other.verdict).toBe(one.verdict);
      expect(asTexts(other)).toEqual(asTexts(one));
    }));
  });

  test('is the worst of its lines; what is not limited counts for nothing and is shown all the same', () => {
    check(fc.property(plainProcedure, plainWeld, (procedure, plain) => {
      const weld = asWeld(plain);
      const { verdict, lines } = procedureChecker(asProcedure(procedure))(weld);
      expect(rank(verdict)).toBe(Math.max(...lines.map((line) => rank(line.verdict))));
      const limited = new Set([...procedure.ranges.map(({ variable }) => variable), ...procedure.lists.map(({ choice }) => choice)]);
      for (const line of lines) expect(line.verdict === 'not-limited').toBe(!limited.has(line.subject));
      const computed = plain.arc === null ? [] : ['arc-energy'];
      const subjects = [...plain.values.map(({ variable }) => variable), ...plain.chosen.map(({ choice }) => choice), ...computed];
      expect([...new Set(lines.map(({ subject }) => subject))].sort()).toEqual([...new Set([...subjects, ...limited])].sort());
      const free = subjects.filter((subject) => !limited.has(subject));
      expect(lines.filter((line) => line.verdict === 'not-limited').map(({ subject }) => subject).sort()).toEqual(free.sort());
    }));
  });

  test('tightening a procedure never turns a fail into a pass, neither of a line nor of the whole', () => {
    const sign = fc.constantFrom('', '< ', '> ', '≤ ', '≥ ');
    const bounded = plainWeld.chain((weld) => fc.tuple(...weld.values.map(() => sign)).map((signs) =>
      ({ ...weld, values: weld.values.map((one, index) => ({ ...one, printed: signs[index]! + one.printed })) })));
    check(fc.property(tightened, bounded, ([loose, tight], plain) => {
      const weld = asWeld(plain);
      const [before, after] = [loose, tight].map((one) => procedureChecker(asProcedure(one))(weld)) as [ProcedureCheck, ProcedureCheck];
      expect(rank(after.verdict)).toBeGreaterThanOrEqual(rank(before.verdict));
      expect(after.lines.map(({ subject }) => subject)).toEqual(before.lines.map(({ subject }) => subject));
      before.lines.forEach((line, index) => {
        expect(rank(after.lines[index]!.verdict)).toBeGreaterThanOrEqual(rank(line.verdict));
      });
    }), 1000);
  });

  test('a value on a limit conforms in any unit and with any idle zeros; the last digit beyond it does not', () => {
    const [limit, unitAndSize] = [decimalBetween(1, 900, 3), fc.constantFrom(['mm/min', 1n] as const, ['m/min', 1000n] as const)];
    check(fc.property(limit, fc.boolean(), unitAndSize, fc.nat(4), (text, isMin, [unit, size], zeros) => {
      const range = { variable: 'travel-speed', min: isMin ? text : null, max: isMin ? null : text, unit: 'mm/min' as const };
      const judge = procedureChecker({ name: 'P-1', ranges: [range], lists: [] });
      const at = (units: bigint): Verdict => {
        const printed = textOf(units / size) + '0'.repeat(zeros);
        return judge({ values: [{ variable: 'travel-speed', printed, unit, source: { label: 'weld', record: null } }], chosen: [] }).verdict;
      };
      const outwards = (isMin ? -1n : 1n) * 10n ** BigInt(DECIMALS - 9);
      expect([at(scaled(text)), at(scaled(text) + outwards), at(scaled(text) - outwards)]).toEqual(['conforms', 'does-not-conform', 'conforms']);
    }));
  });
});

describe('energy per length', () => {
  const positive = decimalBetween(1, 900, 3);

  test('is the quotient of whole numbers, and the same by ASME as arc energy', () => {
    check(fc.property(positive, positive, positive, (volts, amperes, mmPerMin) => {
      const weld = readings({ volts, amperes, mmPerMin });
      // 60 U I / (1000 S), U and I each as a whole number of 10⁻¹⁵.
      const expected = ratio(60n * scaled(volts) * scaled(amperes), 1000n * scaled(mmPerMin) * 10n ** BigInt(DECIMALS));
      for (const found of [arcEnergy(weld), heatInputAsme(weld)]) {
        expect('exact' in found && compare(found.exact, expected)).toBe(0);
        expect('kjPerMm' in found && found.kjPerMm).toBeCloseTo((60 * Number(volts) * Number(amperes)) / (1000 * Number(mmPerMin)), 9);
      }
      const [tig, submerged] = [heatInputEn(weld, '141'), heatInputEn(weld, '121')];
      expect('exact' in tig && 'exact' in submerged && compare(over(tig.exact, submerged.exact), ratio(3n, 5n))).toBe(0);
    }));
  });
});

describe('a straight weld across a strip', () => {
  const width = fc.double({ min: 20, max: 2500, noNaN: true });
  const angle = fc.double({ min: 10, max: 90, noNaN: true });

  test('is the longest side of a right-angled triangle of strip width and pipe', () => {
    check(fc.property(width, angle, (widthMm, angleDeg) => {
      const { weldLengthMm, pipeLengthMm } = spliceGeometry(widthMm, angleDeg);
      expect(Math.hypot(widthMm, pipeLengthMm) / weldLengthMm).toBeCloseTo(1, 12);
      expect((Math.atan2(widthMm, pipeLengthMm) * 180) / Math.PI).toBeCloseTo(angleDeg, 9);
    }));
  });

  test('takes less pipe the steeper it is', () => {
    check(fc.property(width, angle, angle, (widthMm, a, b) => {
      const [flat, steep] = [Math.min(a, b), Math.max(a, b)].map((angleDeg) => spliceGeometry(widthMm, angleDeg).pipeLengthMm);
      expect(steep!).toBeLessThanOrEqual(flat!);
      expect(steep!).toBeGreaterThanOrEqual(0);
    }));
  });

  test('meets the seam once on either edge, at the ends of its interval, and the hands mirror each other', () => {
    check(fc.property(fc.integer({ min: 0, max: 10 ** 9 }), fc.integer({ min: 1, max: 5000 }), (fromMm, lengthMm) => {
      const span = { fromMm, toMm: fromMm + lengthMm };
      const [right, left] = [seamJunctions(span, 'right'), seamJunctions(span, 'left')];
      expect([right, left].map((ends) => ends.map(({ footageMm }) => footageMm))).toEqual([[fromMm, span.toMm], [fromMm, span.toMm]]);
      expect(right.map(({ edge }) => edge)).toEqual(left.map(({ edge }) => edge).reverse());
    }));
  });
});
