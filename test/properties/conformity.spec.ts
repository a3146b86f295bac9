import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { Judgement, Reading, Verdict } from '#libs/conformity';
import { judge, judgeBounds } from '#libs/conformity';
import { decimal } from '#libs/exact';
import { seedFromEnvironment } from '../setup/seed.js';
import { decimalBetween, limits, requirement, requirementWithValues, valueNear } from './conformity.arbitraries.js';
import type { Requirement } from './conformity.reference.js';
import { DECIMALS, printedDecimals, roundedTo, scaled, textOf, verdictOf, verdictsBetween } from './conformity.reference.js';

function check<T extends unknown[]>(property: fc.IProperty<T>, numRuns = 1000): void {
  fc.assert(property, { ...seedFromEnvironment(), numRuns });
}

const reading = (printed: string, unit = '%'): Reading => ({ printed, unit, multiplier: '1', expandedU: null });

function judged({ limits: given, rules, options }: Requirement, printed: string, unit?: string): Judgement {
  return judge(given, rules, options)(reading(printed, unit));
}

const ORDER: readonly Verdict[] = ['conforms', 'inside-guard-band', 'does-not-conform'];

describe('a value known outright', () => {
  test('is judged as by rounding and comparing whole numbers', () => {
    check(fc.property(requirementWithValues(3), ([given, values]) => {
      for (const value of values) expect(judged(given, value).verdict).toBe(verdictOf(given, scaled(value)));
    }));
  });

  test('on a limit conforms under both methods', () => {
    check(fc.property(requirement, fc.integer({ min: 0, max: 3 }), ({ limits: given, rules }, zeros) => {
      const simple: Requirement = { limits: given, rules: { ...rules, decision: 'simple-acceptance' }, options: { toDecimals: null, expandedU: null } };
      for (const limit of [given.min, given.max].filter((one) => one !== null)) {
        const longer = textOf(scaled(limit) / 10n ** BigInt(DECIMALS - printedDecimals(limit) - zeros), printedDecimals(limit) + zeros);
        expect(judged(simple, longer)).toMatchObject({ verdict: 'conforms', margin: expect.stringMatching(/^0(\.0+)?$/) });
      }
    }));
  });

  test('has the margin that is left between it, as compared, and the nearest limit', () => {
    check(fc.property(requirementWithValues(1), ([given, [value]]) => {
      const { compared, margin, nearest } = judged(given, value!);
      const sides = (['min', 'max'] as const).flatMap((side) => {
        const limit = given.limits[side];
        if (limit === null) return [];
        const place = given.options.toDecimals ?? printedDecimals(limit);
        const at = given.rules.rounding === 'absolute' ? scaled(value!) : roundedTo(scaled(value!), place);
        return [{ side, at, margin: side === 'min' ? at - scaled(limit) : scaled(limit) - at }];
      });
      const least = sides.reduce((a, b) => (b.margin < a.margin ? b : a));
      expect({ compared: scaled(compared), margin: scaled(margin!), nearest }).toEqual({ compared: least.at, margin: least.margin, nearest: least.side });
    }));
  });

  test('is never better against a tighter limit, unrounded or at a stated place', () => {
    check(fc.property(requirementWithValues(1), decimalBetween(0, 1, 4), decimalBetween(0, 1, 4), ([given, [value]], fromMin, fromMax) => {
      const { min, max } = given.limits;
      const tighter = { ...given.limits, min: min && textOf(scaled(min) + scaled(fromMin)), max: max && textOf(scaled(max) - scaled(fromMax)) };
      fc.pre(tighter.min === null || tighter.max === null || scaled(tighter.min) <= scaled(tighter.max));
      const options = { ...given.options, toDecimals: given.options.toDecimals ?? 2 };
      const [wide, tight] = [given.limits, tighter].map((one) => judged({ ...given, limits: one, options }, value!).verdict);
      expect(ORDER.indexOf(tight!)).toBeGreaterThanOrEqual(ORDER.indexOf(wide!));
    }));
  });

  test('is never better with a larger U or r', () => {
    const guarded = requirement.map((given) => ({
      ...given,
      rules: { ...given.rules, decision: given.rules.decision === 'simple-acceptance' ? ('guarded-acceptance' as const) : given.rules.decision },
    }));
    const withValue = guarded.chain((given) => fc.tuple(fc.constant(given), valueNear(given)));
    check(fc.property(withValue, decimalBetween(0, 1, 3), decimalBetween(0, 1, 2), ([given, value], moreU, moreR) => {
      const { rules, options } = given;
      const wider: Requirement = {
        ...given,
        rules: { ...rules, guardFactor: textOf(scaled(rules.guardFactor) + scaled(moreR)) },
        options: { ...options, expandedU: textOf(scaled(options.expandedU!) + scaled(moreU)) },
      };
      const [narrowBand, wideBand] = [judged(given, value).verdict, judged(wider, value).verdict];
      // Under proof of conformity a wider band can also make a rejection undecided; it can never make anything conform.
      if (wideBand === 'conforms') expect(narrowBand).toBe('conforms');
      if (wideBand === 'does-not-conform') expect(narrowBand).toBe('does-not-conform');
    }));
  });
});

describe('units', () => {
  test('a value in ppm is judged as the same value in %', () => {
    check(fc.property(requirementWithValues(1), ([given, [value]]) => {
      const inPpm = textOf(scaled(value!), DECIMALS - 4);
      const own: Requirement = { ...given, rules: { ...given.rules, decision: 'simple-acceptance' } };
      const [direct, converted] = [judged(own, value!), judged(own, inPpm, 'ppm')];
      expect(converted.verdict).toBe(direct.verdict);
      expect([converted.compared, converted.margin!].map(scaled)).toEqual([direct.compared, direct.margin!].map(scaled));
    }));
  });

  test('inches become millimetres to the last digit', () => {
    check(fc.property(limits, decimalBetween(0, 1, 4), (given, inches) => {
      const absolute: Requirement = {
        limits: { ...given, unit: 'mm' },
        rules: { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '0' },
        options: { toDecimals: null, expandedU: null },
      };
      const millimetres = (scaled(inches) * 254n) / 10n;
      const judgement = judged(absolute, inches, 'in');
      expect(scaled(judgement.compared)).toBe(millimetres);
      expect(judgement.verdict).toBe(verdictOf(absolute, millimetres));
    }));
  });

  test('read in its own unit a value keeps the digits it was printed with', () => {
    check(fc.property(limits, decimalBetween(-2, 5, 4), (given, value) => {
      const printed = value.replace(/^-(0(?:\.0+)?)$/, '$1');
      const absolute: Requirement = { limits: given, rules: { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '0' }, options: { toDecimals: null, expandedU: null } };
      expect(judged(absolute, value).compared).toBe(printed);
    }));
  });
});

describe('a value known between bounds', () => {
  const interval = requirementWithValues(2).chain(([given, [a, b]]) => {
    const [low, high] = scaled(a!) <= scaled(b!) ? [a!, b!] : [b!, a!];
    const flags = fc.record({ hasLow: fc.boolean(), hasHigh: fc.boolean(), lowOpen: fc.boolean(), highOpen: fc.boolean() });
    return fc.tuple(fc.constant(given), fc.constant([low, high] as const), flags);
  });

  test('has the one verdict that everything in it has, or is not comparable when there are two', () => {
    check(fc.property(interval, ([given, [low, high], { hasLow, hasHigh, lowOpen, highOpen }]) => {
      fc.pre(scaled(low) < scaled(high) || !(lowOpen || highOpen) || !(hasLow && hasHigh));
      const bounds = { low: hasLow ? decimal(low) : null, high: hasHigh ? decimal(high) : null, lowOpen, highOpen, decimals: 12 };
      const { verdict, margin } = judgeBounds(given.limits, given.rules, given.options)(bounds, '%');
      const possible = verdictsBetween(given, hasLow ? scaled(low) : null, hasHigh ? scaled(high) : null, lowOpen, highOpen);
      expect(verdict).toBe(possible.size === 1 ? [...possible][0] : 'not-comparable');
      if (verdict === 'conforms' && margin !== null) expect(scaled(margin)).toBeGreaterThanOrEqual(0n);
    }), 3000);
  });

  test.each(['<', '<=', '≤ ', '>', '>=', '≥ '])('printed with %s agrees with every value that it allows', (sign) => {
    check(fc.property(requirementWithValues(2), ([given, [bound, other]]) => {
      const [at, value] = [scaled(bound!), scaled(other!)];
      const isAllowed = (sign.startsWith('<') || sign.startsWith('≤') ? value < at : value > at) || (value === at && sign !== '<' && sign !== '>');
      fc.pre(isAllowed);
      const { verdict } = judged(given, sign + bound!);
      if (verdict !== 'not-comparable') expect(verdictOf(given, value)).toBe(verdict);
    }), 500);
  });
});

describe('a value of which no uncertainty is stated', () => {
  const unstated = requirementWithValues(2).map(([given, texts]) => [{ ...given, options: { ...given.options, expandedU: null } }, texts] as const);

  test('is judged as by rounding and comparing whole numbers, known outright or between bounds', () => {
    check(fc.property(unstated, ([given, [one, other]]) => {
      expect(judged(given, one!).verdict).toBe(verdictOf(given, scaled(one!)));
      const [low, high] = scaled(one!) <= scaled(other!) ? [one!, other!] : [other!, one!];
      const bounds = { low: decimal(low), high: decimal(high), lowOpen: false, highOpen: false, decimals: 12 };
      const possible = verdictsBetween(given, scaled(low), scaled(high), false, false);
      expect(judgeBounds(given.limits, given.rules, given.options)(bounds, '%').verdict).toBe(possible.size === 1 ? [...possible][0] : 'not-comparable');
    }), 2000);
  });

  test('is judged outright only as it would be with every uncertainty', () => {
    check(fc.property(unstated, decimalBetween(0, 2, 3), ([given, [value]], expandedU) => {
      const { verdict } = judged(given, value!);
      if (verdict !== 'not-comparable') expect(judged({ ...given, options: { ...given.options, expandedU } }, value!).verdict).toBe(verdict);
      if (given.rules.decision !== 'simple-acceptance') expect(verdict).not.toBe('conforms');
    }));
  });
});

describe('what is remembered', () => {
  test('is what would be worked out anew, however often and in whatever order', () => {
    const printed = fc.oneof(decimalBetween(0, 3, 3), fc.constantFrom('<0.5', '≥ 1', 'n/a', '1,0', ''));
    const anyReading: fc.Arbitrary<Reading> = fc.record({
      printed,
      unit: fc.constantFrom('%', 'ppm', '1', 'MPa', 'HRC'),
      multiplier: fc.constantFrom('1', '100', '0'),
      expandedU: fc.option(fc.constantFrom('0', '0.1', '1', '-1')),
    });
    check(fc.property(requirement, fc.array(anyReading, { minLength: 1, maxLength: 8 }), ({ limits: given, rules, options }, readings) => {
      const remembering = judge(given, rules, options);
      for (const one of [...readings, ...[...readings].reverse()]) {
        expect(remembering({ ...one })).toEqual(judge(given, rules, options)(one));
      }
    }), 300);
  });
});
