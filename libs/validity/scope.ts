import { judge } from '#libs/conformity';

/** What a qualification limits: a variable to listed values (letter for letter), or to a range with both ends included. */
export type ScopeItem =
  | { readonly kind: 'list'; readonly name: string; readonly values: readonly string[] }
  | {
    readonly kind: 'range';
    readonly name: string;
    /** Decimal text; null where the range has no such end, not both. */
    readonly min: string | null;
    readonly max: string | null;
    readonly unit: string;
  };

/** A variable of an event: thickness `6.00` in mm, position `PA` without a unit. */
export interface EventVariable {
  readonly name: string;
  /** Decimal text for what ranges limit. */
  readonly value: string;
  readonly unit: string | null;
}

/** Why a variable of an event is not shown to be in scope. What is not stated is never taken to be in scope. */
export interface ScopeFinding {
  /** Name of the variable, or `method` or `level`. */
  readonly name: string;
  readonly finding: 'outside' | 'not-stated' | 'not-comparable';
  readonly words: string;
}

/** A scope is a range of approval, not a measurement against a tolerance: the value as stated, no rounding, no guard band. */
const AS_STATED = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '0' } as const;

/**
 * What of the event is not shown to lie in the scope, in the order of the scope; variables that it does not limit play no
 * part. Quantities in another unit are converted exactly. Throws RangeError when the event states one variable twice.
 */
export function scopeFindings(scope: readonly ScopeItem[], variables: readonly EventVariable[]): readonly ScopeFinding[] {
  checkDistinct(variables.map(({ name }) => name), 'the event states');
  return scope.flatMap((item) => findingOf(item, variables.find(({ name }) => name === item.name)) ?? []);
}

/**
 * Throws RangeError when the scope limits one variable twice, limits `method` or `level` (which qualifications have
 * besides), lists no value, or has a range without ends or with reversed ones; SyntaxError when an end is no decimal text.
 */
export function checkScope(scope: readonly ScopeItem[]): void {
  checkDistinct(['method', 'level', ...scope.map(({ name }) => name)], 'the scope limits');
  for (const item of scope) {
    if (item.kind === 'list') {
      if (item.values.length === 0) throw new RangeError(`the scope lists no value of ${item.name}`);
    } else {
      if (item.min === null && item.max === null) throw new RangeError(`the scope's range of ${item.name} has no end`);
      judge(item, AS_STATED, { toDecimals: null, expandedU: null });
    }
  }
}

function checkDistinct(names: readonly string[], whose: string): void {
  const twice = names.find((name, index) => names.indexOf(name) < index);
  if (twice !== undefined) throw new RangeError(`${whose} ${twice} twice`);
}

function findingOf(item: ScopeItem, variable: EventVariable | undefined): ScopeFinding | null {
  const { name } = item;
  if (variable === undefined) return { name, finding: 'not-stated', words: `${name} is not stated, and the scope limits it to ${allowedText(item)}` };
  const fit = item.kind === 'list' ? fitInList(item.values, variable) : fitInRange(item, variable);
  if (fit === 'inside') return null;
  const stated = variable.unit === null ? variable.value : `${variable.value} ${variable.unit}`;
  const says = fit === 'outside' ? 'is outside' : 'cannot be compared with';
  return { name, finding: fit, words: `${name} ${stated} ${says} the scope: ${allowedText(item)}` };
}

type Fit = 'inside' | 'outside' | 'not-comparable';

function fitInList(values: readonly string[], { value, unit }: EventVariable): Fit {
  if (unit !== null) return 'not-comparable';
  return values.includes(value) ? 'inside' : 'outside';
}

function fitInRange(range: ScopeItem & { kind: 'range' }, { value, unit }: EventVariable): Fit {
  if (unit === null) return 'not-comparable';
  const judged = judge(range, AS_STATED, { toDecimals: null, expandedU: null });
  const { verdict } = judged({ printed: value, unit, multiplier: '1', expandedU: null });
  if (verdict === 'conforms') return 'inside';
  return verdict === 'does-not-conform' ? 'outside' : 'not-comparable';
}

function allowedText(item: ScopeItem): string {
  if (item.kind === 'list') return item.values.join(', ');
  const { min, max, unit } = item;
  if (min !== null && max !== null) return `${min} to ${max} ${unit}`;
  return min === null ? `at most ${String(max)} ${unit}` : `at least ${min} ${unit}`;
}
