import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { VERDICTS, worst, type Verdict } from '#libs/conformity';
import { evaluator, type Requirement, type SourcedValue, type StripRules } from '#libs/strip';
import { seedFromEnvironment } from '../setup/seed.js';
import { decimalBetween } from './conformity.arbitraries.js';
import { conformity, ORDERED, requirementOf, SIMPLE, specification, valueOf, values } from './evaluation.arbitraries.js';
import { verdictsOf } from './evaluation.reference.js';

/** What leaves an evaluation open: evidence that is missing or in doubt must never look like a clean result. */
function check<T extends unknown[]>(property: fc.IProperty<T>, numRuns = 1000): void {
  fc.assert(property, { ...seedFromEnvironment(), numRuns });
}

const isOpen = (verdict: Verdict): boolean => VERDICTS.indexOf(verdict) >= VERDICTS.indexOf('not-comparable');

function verdicts(rules: StripRules, given: readonly SourcedValue[]): Verdict[] {
  const { lines } = evaluator(rules, ORDERED)(given);
  return rules.requirements.map((_one, place) => worst(lines.filter(({ requirement }) => requirement === place).map(({ verdict }) => verdict)));
}

const rulesOf = (requirements: readonly Requirement[], how = SIMPLE): StripRules => ({ requirements, ownTables: [], conformity: how });
const label = fc.constantFrom('paper 1', 'paper 2').map((text) => ({ source: { label: text, record: null } }));
const doubt = fc.constantFrom(null, null, null, 'the two keyings differ').map((why) => ({ doubt: why }));
const place = fc.record({ location: fc.constantFrom(null, 'head'), direction: fc.constantFrom(null, null, 'across') });

/** A value known outright, or in doubt. */
function outright(code: string, low: number, high: number, decimals: number, ...more: fc.Arbitrary<Partial<SourcedValue>>[]): fc.Arbitrary<SourcedValue> {
  return fc.tuple(decimalBetween(low, high, decimals), doubt, ...more).map(([printed, ...parts]) => valueOf(code, printed, Object.assign({}, ...parts) as Partial<SourcedValue>));
}

describe('against the plain way, values known outright or in doubt', () => {
  test('impact tests at several temperatures, asked for at one or more of them', () => {
    const temperature = fc.constantFrom('-40', '-20', '0', '10');
    const asked = fc.uniqueArray(temperature, { minLength: 1, maxLength: 3 }).chain((some) => fc.tuple(...some.map((temperatureC) =>
      decimalBetween(20, 40, 0).map((min) => requirementOf('KV2', { min, temperatureC })))));
    const tests = fc.array(outright('KV2', 10, 60, 1, fc.option(temperature).map((temperatureC) => ({ temperatureC }))), { maxLength: 5 });
    check(fc.property(asked, tests, (requirements, given) => {
      expect(verdicts(rulesOf(requirements), given)).toEqual(verdictsOf(requirements, given));
    }), 3000);
  });

  test('yield ratios of several tests, some without Rm, some with the ratio itself', () => {
    const strengths = fc.array(fc.oneof(
      outright('ReH', 300, 600, 0, label, place), outright('Rp0.2', 300, 600, 0, label, place), outright('Rm', 400, 650, 0, label, place), outright('Y/T', 0, 1, 2, label, place),
    ), { maxLength: 6 });
    check(fc.property(decimalBetween(0, 1, 2), strengths, (max, given) => {
      const requirements = [requirementOf('Y/T', { max })];
      expect(verdicts(rulesOf(requirements), given)).toEqual(verdictsOf(requirements, given));
    }), 3000);
  });

  test('a carbon equivalent printed or not, with elements in doubt and elements left out', () => {
    const elements = ['C', 'Mn', 'Cr', 'Mo', 'V', 'Ni', 'Cu'];
    const analysis = fc.oneof(fc.constant(elements), fc.subarray(elements)).chain((some) => fc.tuple(...some.map((element) => outright(element, 0, 1, 2))));
    check(fc.property(decimalBetween(0, 2, 2), fc.array(outright('CE(IIW)', 0, 1, 2), { maxLength: 2 }), analysis, (max, printed, given) => {
      const requirements = [requirementOf('CE(IIW)', { max })];
      expect(verdicts(rulesOf(requirements), [...printed, ...given])).toEqual(verdictsOf(requirements, [...printed, ...given]));
    }), 2000);
  });
});

/** What a requirement follows from, by its characteristic. */
const FOLLOWS_FROM: Readonly<Record<string, readonly string[]>> = {
  'CE(IIW)': ['C', 'Mn', 'Cr', 'Mo', 'V', 'Ni', 'Cu'], 'Nb+V': ['Nb', 'V'], 'Y/T': ['ReH', 'Rp0.2'],
};

describe('under every rule', () => {
  test('a value in doubt of what is asked for leaves the whole open, however it was taken', () => {
    check(fc.property(specification, values, (rules, given) => {
      const isAsked = (one: SourcedValue): boolean => rules.requirements.some(({ characteristic, analysis }) => one.characteristic === characteristic && one.analysis === analysis);
      fc.pre(given.some((one) => one.doubt !== null && isAsked(one)));
      expect(isOpen(evaluator(rules, ORDERED)(given).verdict)).toBe(true);
    }));
  });

  test('an element or a yield strength in doubt leaves open what follows from it and has a largest value alone', () => {
    check(fc.property(specification, values, (rules, given) => {
      const found = verdicts(rules, given);
      rules.requirements.forEach(({ characteristic, analysis, min, max }, at) => {
        const isDoubtful = given.some((one) => one.doubt !== null && one.analysis === analysis && FOLLOWS_FROM[characteristic]?.includes(one.characteristic));
        if (min === null && max !== null && isDoubtful) expect(isOpen(found[at]!)).toBe(true);
      });
    }));
  });

  const energy = fc.record({ printed: decimalBetween(10, 60, 0), temperatureC: fc.constantFrom('-40', '-30', '-20', '-10', '0'), expandedU: fc.constantFrom(null, '2') })
    .map(({ printed, ...more }) => valueOf('KV2', printed, more));

  test('a test that falls short of a least energy at the temperature asked for or warmer leaves it open, whatever else is there', () => {
    const impact = fc.tuple(decimalBetween(20, 40, 0), conformity).map(([min, how]) => rulesOf([requirementOf('KV2', { min, temperatureC: '-20' })], { ...how, rounding: 'absolute' }));
    check(fc.property(impact, fc.array(energy, { maxLength: 4 }), fc.nat(), energy, (rules, rest, at, one) => {
      fc.pre(Number(one.temperatureC) >= -20 && Number(one.printed) < Number(rules.requirements[0]!.min));
      // Under proof of conformity a test as asked that falls short by less than U lies in the guard band, and is not clean either.
      fc.pre(one.temperatureC !== '-20' || rules.conformity.decision !== 'proof-of-conformity');
      expect(isOpen(verdicts(rules, rest.toSpliced(at % (rest.length + 1), 0, one))[0]!)).toBe(true);
    }));
  });

  test('once there is a test as asked, leaving out any other never makes a least energy worse', () => {
    const impact = fc.tuple(decimalBetween(20, 40, 0), conformity).map(([min, how]) => rulesOf([requirementOf('KV2', { min, temperatureC: '-20' })], how));
    const asked = decimalBetween(10, 60, 0).map((printed) => valueOf('KV2', printed, { temperatureC: '-20', expandedU: '2' }));
    check(fc.property(impact, asked, fc.array(energy, { minLength: 1, maxLength: 4 }), fc.nat(), (rules, first, rest, at) => {
      const [all, fewer] = [rest, rest.toSpliced(at % rest.length, 1)].map((more) => verdicts(rules, [first, ...more])[0]!);
      expect(VERDICTS.indexOf(fewer!)).toBeLessThanOrEqual(VERDICTS.indexOf(all!));
    }));
  });
});
