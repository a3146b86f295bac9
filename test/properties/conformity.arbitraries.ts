import fc from 'fast-check';
import type { ConformityRules, Limits } from '#libs/conformity';
import { guardBand, type Requirement, scaled, textOf } from './conformity.reference.js';

/** Decimal text from `from` to `to`, with up to `mostDecimals` decimals, idle zeros included. */
export function decimalBetween(from: number, to: number, mostDecimals: number): fc.Arbitrary<string> {
  return fc.integer({ min: 0, max: mostDecimals }).chain((decimals) =>
    fc.bigInt({ min: BigInt(from) * 10n ** BigInt(decimals), max: BigInt(to) * 10n ** BigInt(decimals) }).map((units) => textOf(units, decimals)),
  );
}

export const limits: fc.Arbitrary<Limits> = fc.tuple(decimalBetween(0, 3, 3), decimalBetween(0, 3, 3), fc.constantFrom('both', 'min', 'max')).map(([a, b, sides]) => {
  const [low, high] = scaled(a) <= scaled(b) ? [a, b] : [b, a];
  return { min: sides === 'max' ? null : low, max: sides === 'min' ? null : high, unit: '%' };
});

export const rules: fc.Arbitrary<ConformityRules> = fc.record({
  rounding: fc.constantFrom('absolute', 'rounding'),
  decision: fc.constantFrom('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'),
  guardFactor: decimalBetween(0, 2, 2),
});

/** Small numbers, so that values fall on limits and guard bands meet often. */
export const requirement: fc.Arbitrary<Requirement> = fc.record({
  limits,
  rules,
  options: fc.record({
    toDecimals: fc.option(fc.integer({ min: -1, max: 4 })),
    expandedU: fc.oneof(decimalBetween(0, 1, 3), fc.constantFrom('0', '0.1', '0.05', '0.010')),
  }),
});

/** A value near what the requirement asks: anywhere, or on an edge of a guard band or of a rounding cell, or a step beside it. */
export function valueNear(given: Requirement): fc.Arbitrary<string> {
  const edges = [given.limits.min, given.limits.max].filter((limit) => limit !== null).flatMap((limit) => {
    const w = guardBand(given) ?? 0n;
    return [scaled(limit), scaled(limit) - w, scaled(limit) + w];
  });
  const steps = ['0', '0.000000000001', '0.0005', '0.005', '0.05', '0.5'].map(scaled).flatMap((step) => [step, -step]);
  const onEdge = fc.tuple(fc.constantFrom(...edges), fc.constantFrom(...steps)).map(([edge, step]) => textOf((edge + step) / 1000n, 12));
  return fc.oneof(decimalBetween(-2, 5, 4), onEdge);
}

/** A requirement, and values near it. */
export function requirementWithValues(count: number): fc.Arbitrary<readonly [Requirement, readonly string[]]> {
  return requirement.chain((given) => fc.tuple(fc.constant(given), fc.array(valueNear(given), { minLength: count, maxLength: count })));
}
