import { judge, parseReading, type ConformityRules, type Judgement, type Verdict } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { DestructiveTestInput, TestReadingPart } from './destructive-test.dto.js';
import type { DestructiveTest, TestReading } from './destructive-test.entity.js';
import type { TestCheck } from './test-checks.js';

type Result = Pick<DestructiveTest, 'outcome' | 'readings' | 'stated' | 'voidReason'>;

/** Our own choice: compared as printed, limits included. A method that rounds first says so in its note. */
const RULES: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };

/** The result as columns. */
export function resultOf({ outcome, readings, stated, voidReason }: DestructiveTestInput): Result {
  const reading = ({ name, printed, unit, min, max }: TestReadingPart): TestReading => ({ name, printed, unit, min: min ?? null, max: max ?? null });
  return { outcome, readings: readings?.map(reading) ?? null, stated: stated ?? null, voidReason: voidReason ?? null };
}

/** Digits that are none. */
export function unreadable(readings: readonly TestReading[] | null): FieldProblem[] {
  return (readings ?? []).flatMap(({ printed, unit }, index): FieldProblem[] => {
    const read = parseReading({ printed, unit, multiplier: '1', expandedU: null });
    return 'fault' in read ? [{ field: `readings[${index}].printed`, value: printed, limit: read.fault }] : [];
  });
}

/** What does not go together in a result; the readings can be read. A pass is refused beside a reading that does not conform. */
export function resultFaults({ outcome, readings, stated, voidReason }: Result): FieldProblem[] {
  const reversed = (readings ?? []).flatMap(({ min, max }, index): FieldProblem[] =>
    (isReversed(min, max) ? [{ field: `readings[${index}].max`, value: max, limit: `at least the ${String(min)} of min` }] : []));
  const both = readings !== null && stated !== null;
  const neither = readings === null && stated === null && outcome !== 'void';
  return [
    ...(both ? [{ field: 'stated', value: stated, limit: 'readings or what was seen, not both' }] : []),
    ...(neither ? [{ field: 'readings', value: null, limit: 'readings, or what was seen in stated' }] : []),
    ...((outcome === 'void') === (voidReason !== null) ? [] : [{ field: 'voidReason', value: voidReason, limit: 'the reason of a void test, and of no other' }]),
    ...reversed,
    ...(outcome === 'pass' ? badReadings(readings, 'does-not-conform').map(({ field, value, limit }) => ({ field, value, limit: `for a pass, ${limit}` })) : []),
  ];
}

/**
 * What is marked of a result that is taken: a fail, its readings beyond their limits, and readings that are not shown to be
 * within. A void test counts for nothing, so its readings are only noted.
 */
export function resultFindings({ outcome, readings }: Result): Finding[] {
  const marked = (tier: Finding['tier'], verdict: Verdict): Finding[] => badReadings(readings, verdict).map((one) => ({ tier, ...one }));
  return [
    ...(outcome === 'fail' ? [{ tier: 'out-of-specification', field: 'outcome', value: 'fail', limit: 'pass' } as const] : []),
    ...marked(outcome === 'void' ? 'noted' : 'out-of-specification', 'does-not-conform'),
    ...marked('noted', 'not-comparable').map((one) => ({ ...one, limit: `${one.limit}: not shown to be within` })),
  ];
}

/** A pass beside a limit that the record states itself and that is not met, as with a reading. */
export function checkFaults(outcome: Result['outcome'], checks: readonly TestCheck[]): FieldProblem[] {
  if (outcome !== 'pass') return [];
  return checks.filter(({ isOwnLimit }) => isOwnLimit).flatMap(unmet).map(({ field, value, limit }) => ({ field, value, limit: `for a pass, ${limit}` }));
}

/** Demands of standards and practice that are not met are marked and refuse nothing: the specification may ask otherwise. */
export function checkFindings(outcome: Result['outcome'], checks: readonly TestCheck[]): Finding[] {
  return checks.flatMap(unmet).map((one) => ({ tier: outcome === 'void' ? 'noted' : 'out-of-specification', ...one }));
}

/** What a mark takes of a limit, and of a value. */
const LONGEST_LIMIT = 300;
const LONGEST_VALUE = 200;

function unmet({ outcome, field, name, found, demanded, source }: TestCheck): { field: string; value: string; limit: string }[] {
  if (outcome !== 'not met') return [];
  const limit = `${name}: ${demanded ?? ''} (${source ?? ''})`;
  return [{ field, value: cut(found ?? '', LONGEST_VALUE), limit: cut(limit, LONGEST_LIMIT) }];
}

/** Cut short where it is longer, and never inside a character. */
const cut = (text: string, longest: number): string => (text.length <= longest ? text : `${text.slice(0, longest - 2).toWellFormed()} …`);

/** Readings as checks against the limits that stand beside them. */
export function readingChecks(readings: readonly TestReading[] | null): TestCheck[] {
  return (readings ?? []).map((reading, index): TestCheck => {
    const { name, printed, unit, min, max } = reading;
    const common = { field: `readings[${index}].printed`, name, found: `${printed} ${unit}`, isOwnLimit: true };
    if (min === null && max === null) {
      return { ...common, outcome: 'not computable', demanded: null, because: 'no limit is recorded beside the reading', source: null };
    }
    const { verdict, rule, reason } = judged(reading);
    const outcome = verdict === 'conforms' ? 'met' : verdict === 'does-not-conform' ? 'not met' : 'not computable';
    return { ...common, outcome, demanded: `${limitText(min, max)} ${unit}`, because: reason ?? rule, source: 'the limits recorded beside the reading' };
  });
}

const judged = ({ printed, unit, min, max }: TestReading): Judgement =>
  judge({ min, max, unit }, RULES, { toDecimals: null, expandedU: null })({ printed, unit, multiplier: '1', expandedU: null });

/** The readings with this verdict, each with its limit. */
function badReadings(readings: readonly TestReading[] | null, verdict: Verdict): { field: string; value: string; limit: string }[] {
  return (readings ?? []).flatMap((reading, index) => {
    const { name, printed, unit, min, max } = reading;
    return !isReversed(min, max) && judged(reading).verdict === verdict ? [{ field: `readings[${index}].printed`, value: printed, limit: `${name} ${limitText(min, max)} ${unit}` }] : [];
  });
}

function limitText(min: string | null, max: string | null): string {
  if (min !== null && max !== null) return `from ${min} to ${max}`;
  return min === null ? `at most ${String(max)}` : `at least ${min}`;
}

function isReversed(min: string | null, max: string | null): boolean {
  return min !== null && max !== null && compare(decimal(min), decimal(max)) > 0;
}
