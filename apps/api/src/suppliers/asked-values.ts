import { judge, parseReading, type Reading, type Verdict } from '#libs/conformity';
import { compare, decimal, plus, times, type Ratio } from '#libs/exact';
import { CHARACTERISTICS, effectiveLimits, requirementName, type EffectiveLimits, type Requirement, type SourcedValue } from '#libs/strip';
import { exactConversion, isUnitName, UNITS } from '#libs/units';
import { coilValues } from '../evaluation/coil-values.js';
import { specificationText } from '../evaluation/evaluations.service.js';
import { rulesOf } from '../specifications/strip-rules.js';
import { grouped } from './grouped.js';
import type { SuppliedCoil } from './supplier-knowledge.js';

/** Who a value comes from: a paper of the mill's or a slitter's, or our own reading when the coil came in. */
export const ORIGINS = ['certified', 'measured'] as const;
export type Origin = (typeof ORIGINS)[number];

/** What a value is to a distribution: a number in it, or why it is counted apart. */
export type ValueKind = 'number' | 'censored' | 'unreadable' | 'in-doubt' | 'other-conditions';

/** A value of one coil beside the requirement that asks for it. */
export interface AskedValue {
  readonly of: SuppliedCoil;
  readonly source: string;
  readonly kind: ValueKind;
  /** Exact, in the unit of the requirement; null but for a number. */
  readonly number: Ratio | null;
  /** It does not conform, by the rules of the revision that its coil was ordered to. */
  readonly isOutside: boolean;
  readonly limits: EffectiveLimits;
}

/** The limits of a requirement for one coil. */
export interface LimitsOfCoil {
  readonly of: SuppliedCoil;
  readonly specification: string;
  readonly limits: EffectiveLimits;
}

/** All that is known of one characteristic over many coils, from one side. */
export interface AskedCharacteristic {
  readonly name: string;
  readonly requirement: Requirement;
  readonly origin: Origin;
  /** The coils that it is asked of. */
  readonly asked: readonly LimitsOfCoil[];
  readonly values: readonly AskedValue[];
}

/** The values of many coils by what is asked of them, and how many values nothing asks for. */
export interface AskedValues {
  /** In the order of the characteristics. */
  readonly characteristics: readonly AskedCharacteristic[];
  readonly notAskedForCount: number;
}

/** A requirement made ready for the coils of one order. */
interface Ready {
  readonly requirement: Requirement;
  /** What tells it from other requirements, whatever their limits. */
  readonly key: string;
  readonly specification: string;
  readonly limits: EffectiveLimits;
  readonly verdictOf: (value: Reading) => Verdict | null;
}

interface Asked {
  readonly ready: Ready;
  readonly of: SuppliedCoil;
}

interface Found {
  readonly ready: Ready;
  readonly origin: Origin;
  readonly value: AskedValue;
}

/** So many coils are gone through before others get their turn. */
const COILS_IN_A_TURN = 100;

/**
 * Every value of some coils beside the requirement of the revision that its coil was ordered to. A requirement is one
 * characteristic, analysis, test condition and unit; certified values and our own readings are never taken together.
 * It pauses at each yield, since thousands of coils take seconds.
 */
export function* askedValues(coils: readonly SuppliedCoil[]): Generator<undefined, AskedValues> {
  const readyByOrder = new Map<string, Ready[]>();
  const [asked, found]: [Asked[], Found[]] = [[], []];
  let notAskedForCount = 0;
  for (const [index, of] of coils.entries()) {
    if (index % COILS_IN_A_TURN === 0) yield;
    const ready = readyByOrder.get(of.order.id) ?? readied(of);
    readyByOrder.set(of.order.id, ready);
    asked.push(...ready.map((one) => ({ ready: one, of })));
    for (const value of coilValues(of)) {
      const own = ready.filter(({ requirement }) => requirement.characteristic === value.characteristic && requirement.analysis === value.analysis);
      if (own.length === 0) notAskedForCount += 1;
      for (const one of own) found.push({ ready: one, origin: originOf(value), value: askedValue(one, of, value) });
    }
  }
  yield;
  return { characteristics: characteristicsOf(asked, found), notAskedForCount };
}

function readied({ order, specification }: SuppliedCoil): Ready[] {
  const { requirements, ownTables, conformity } = rulesOf(specification);
  return requirements.map((requirement) => {
    const limits = effectiveLimits(requirement, order, ownTables);
    const { toDecimals, expandedU } = requirement;
    const judged = 'limits' in limits ? judge(limits.limits, conformity, { toDecimals, expandedU }) : null;
    const key = `${requirementName(requirement)}|${requirement.unit}`;
    return { requirement, key, specification: specificationText(specification), limits, verdictOf: (value) => judged?.(value).verdict ?? null };
  });
}

function characteristicsOf(asked: readonly Asked[], found: readonly Found[]): AskedCharacteristic[] {
  const valuesByKey = grouped(found, ({ ready, origin }) => `${ready.key}|${origin}`);
  const characteristics = [...grouped(asked, ({ ready }) => ready.key)].flatMap(([key, ofCoils]) => {
    const [first] = ofCoils;
    if (first === undefined) return [];
    const { requirement } = first.ready;
    return ORIGINS.flatMap((origin): AskedCharacteristic[] => {
      const values = (valuesByKey.get(`${key}|${origin}`) ?? []).map(({ value }) => value);
      // What is asked for and nobody certifies is told; that it was not measured here is no news.
      if (origin === 'measured' && values.length === 0) return [];
      const limits = ofCoils.map(({ ready, of }) => ({ of, specification: ready.specification, limits: ready.limits }));
      return [{ name: requirementName(requirement), requirement, origin, asked: limits, values }];
    });
  });
  return characteristics.sort((one, other) => placeOf(one) - placeOf(other));
}

/** In the order in which papers list characteristics; those of one place keep the order of the specifications. */
const placeOf = ({ requirement }: AskedCharacteristic): number => CHARACTERISTICS.findIndex(({ code }) => code === requirement.characteristic);

const originOf = ({ source }: SourcedValue): Origin => (source.record?.kind === 'incoming-check' ? 'measured' : 'certified');

function askedValue({ requirement, limits, verdictOf }: Ready, of: SuppliedCoil, value: SourcedValue): AskedValue {
  const { kind, number } = readAs(requirement, value);
  const isJudged = kind === 'number' || kind === 'censored';
  return { of, source: value.source.label, kind, number, isOutside: isJudged && verdictOf(value) === 'does-not-conform', limits };
}

function readAs(requirement: Requirement, value: SourcedValue): { kind: ValueKind; number: Ratio | null } {
  const apart = (kind: ValueKind): { kind: ValueKind; number: null } => ({ kind, number: null });
  if (value.doubt !== null) return apart('in-doubt');
  const read = parseReading(value);
  if ('fault' in read) return apart('unreadable');
  if (!isUnderSameConditions(requirement, value)) return apart('other-conditions');
  if (read.low === null || read.high === null) return apart('censored');
  const number = inUnit(read.low, value.unit, requirement.unit);
  return number === null ? apart('other-conditions') : { kind: 'number', number };
}

/** Values of another test temperature or base length are values of something else. */
function isUnderSameConditions(requirement: Requirement, value: SourcedValue): boolean {
  const same = (one: string | null, other: string | null): boolean =>
    one === null ? other === null : other !== null && compare(decimal(one), decimal(other)) === 0;
  return same(requirement.temperatureC, value.temperatureC) && same(requirement.baseMm, value.baseMm);
}

/** The exact value in another unit; null when there is no way from one to the other. */
function inUnit(value: Ratio, from: string, to: string): Ratio | null {
  if (from === to) return value;
  if (!isUnitName(from) || !isUnitName(to) || UNITS[from].dimension !== UNITS[to].dimension) return null;
  const { factor, offset } = exactConversion(from, to);
  return plus(times(value, factor), offset);
}
