import { compare, decimal } from '#libs/exact';
import { requirementName, type Requirement } from './requirement.js';

/** One thing in which two revisions differ, and what that means for a value. */
export interface SpecificationDifference {
  readonly what: string;
  readonly before: string | null;
  readonly after: string | null;
  readonly effect: 'tighter' | 'looser' | 'other';
}

/** What two revisions say beside their requirements, as name and text. */
export type Provisions = Readonly<Record<string, string | null>>;

export interface RevisionText {
  readonly provisions: Provisions;
  readonly requirements: readonly Requirement[];
}

/** The differences between two revisions: provisions first, then requirements in the order of the later one. */
export function specificationDifferences(before: RevisionText, after: RevisionText): SpecificationDifference[] {
  return [...provisionDifferences(before.provisions, after.provisions), ...requirementDifferences(before.requirements, after.requirements)];
}

function provisionDifferences(before: Provisions, after: Provisions): SpecificationDifference[] {
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return names
    .filter((name) => (before[name] ?? null) !== (after[name] ?? null))
    .map((what) => ({ what, before: before[what] ?? null, after: after[what] ?? null, effect: 'other' }));
}

function requirementDifferences(before: readonly Requirement[], after: readonly Requirement[]): SpecificationDifference[] {
  const old = new Map(before.map((one) => [requirementName(one), one]));
  const now = new Map(after.map((one) => [requirementName(one), one]));
  const changed = [...now].flatMap(([what, one]): SpecificationDifference[] => {
    const earlier = old.get(what);
    if (earlier === undefined) return [{ what, before: null, after: requirementText(one), effect: 'tighter' }];
    const [said, says] = [requirementText(earlier), requirementText(one)];
    return said === says ? [] : [{ what, before: said, after: says, effect: effectOf(earlier, one) }];
  });
  const dropped = [...old].filter(([what]) => !now.has(what))
    .map(([what, one]): SpecificationDifference => ({ what, before: requirementText(one), after: null, effect: 'looser' }));
  return [...changed, ...dropped];
}

/** A requirement in words: `480 to 620 MPa`, `at most 0.12 %`, `report only`. */
export function requirementText(requirement: Requirement): string {
  const { limitOf, toleranceTable, toDecimals, expandedU, clause } = requirement;
  const limits = toleranceTable === null ? limitsText(requirement) : `by the table ${toleranceTable}`;
  const more = [
    ...(limitOf === 'deviation' ? ['from the ordered size'] : []),
    ...(toDecimals === null ? [] : [`rounded to ${toDecimals} decimals`]),
    ...(expandedU === null ? [] : [`U ${expandedU} where none is stated`]),
    ...(clause === null ? [] : [`clause ${clause}`]),
  ];
  return [limits, ...more].join(', ');
}

/** The limits alone in words. */
export function limitsText({ min, max, unit }: Pick<Requirement, 'min' | 'max' | 'unit'>): string {
  const of = unit === '1' ? '' : ` ${unit}`;
  if (min !== null && max !== null) return `${min} to ${max}${of}`;
  if (min !== null) return `at least ${min}${of}`;
  return max === null ? 'report only' : `at most ${max}${of}`;
}

/**
 * Tighter when nothing that failed can pass now and something that passed can fail; looser the other way round. Limits
 * that moved both ways, or are not of one kind, are `other`: so is a limit written with other decimals, whose rounding
 * may turn either way.
 */
function effectOf(before: Requirement, after: Requirement): SpecificationDifference['effect'] {
  const sameKind = before.unit === after.unit && before.limitOf === after.limitOf && before.toleranceTable === after.toleranceTable
    && before.toDecimals === after.toDecimals && before.expandedU === after.expandedU;
  const sides = [sideEffect(before.min, after.min, 1), sideEffect(before.max, after.max, -1)];
  if (!sameKind || sides.includes('other')) return 'other';
  if (sides.includes('tighter')) return sides.includes('looser') ? 'other' : 'tighter';
  return sides.includes('looser') ? 'looser' : 'other';
}

function sideEffect(before: string | null, after: string | null, towards: 1 | -1): 'tighter' | 'looser' | 'same' | 'other' {
  if (before === null || after === null) return before === after ? 'same' : before === null ? 'tighter' : 'looser';
  if ((before.split('.')[1] ?? '').length !== (after.split('.')[1] ?? '').length) return 'other';
  const moved = compare(decimal(after), decimal(before)) * towards;
  return moved === 0 ? 'same' : moved > 0 ? 'tighter' : 'looser';
}
