/**
 * Strip against its specification: each value beside its limit, with the rule that decided. The whole is the worst of
 * its lines, never an average; what is not reported is never a clean result.
 */
import { worst, type Verdict } from '#libs/conformity';
import type { OrderedSize } from './effective-limits.js';
import { readied, type EvaluationLine, type StripRules } from './evaluation-line.js';
import { RequirementLines, type ValueKind } from './requirement-lines.js';
import type { SourcedValue } from './sourced-value.js';

export type { EvaluationLine, StripRules } from './evaluation-line.js';

export interface Evaluation {
  readonly verdict: Verdict;
  /** In the order of the requirements; several values of one requirement in the order in which they were given. */
  readonly lines: readonly EvaluationLine[];
}

/**
 * The evaluation of any number of coils of one ordered size by one specification. The requirements are made ready once;
 * the function it gives takes all values known of a coil and depends on nothing but them. Throws as `judge` does when a
 * requirement says nothing sensible, and the function RangeError when there are no requirements.
 */
export function evaluator(rules: StripRules, ordered: OrderedSize | null): (values: readonly SourcedValue[]) => Evaluation {
  const requirements = rules.requirements.map((requirement, place) => new RequirementLines(readied(requirement, place, rules, ordered)));
  let shape: Shape | null = null;
  return (values) => {
    if (shape === null || !isOfShape(values, shape)) shape = shapeOf(values, requirements);
    const lines: EvaluationLine[] = [];
    for (const { requirement, places } of shape.places) for (const line of requirement.of(values, places)) lines.push(line);
    return { verdict: worst(lines.map(({ verdict }) => verdict)), lines };
  };
}

/** Where in a list of values those of each requirement stand: worked out once for as long as papers list the same, as they mostly do. */
interface Shape {
  /** The list it was worked out for. */
  readonly values: readonly ValueKind[];
  readonly places: readonly { readonly requirement: RequirementLines; readonly places: readonly number[] }[];
}

function shapeOf(values: readonly ValueKind[], requirements: readonly RequirementLines[]): Shape {
  const placesOf = (requirement: RequirementLines): number[] => values.flatMap((value, place) => (requirement.looksAt(value) ? [place] : []));
  return { values, places: requirements.map((requirement) => ({ requirement, places: placesOf(requirement) })) };
}

function isOfShape(values: readonly ValueKind[], shape: Shape): boolean {
  return values.length === shape.values.length && values.every((value, index) => {
    const before = shape.values[index];
    return value === before || (value.characteristic === before?.characteristic && value.analysis === before.analysis);
  });
}
