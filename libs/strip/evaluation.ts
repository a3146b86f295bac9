/**
 * Strip against its specification: each value beside its limit, with the rule that decided. The whole is the worst of
 * its lines, never an average; what is not reported is never a clean result.
 */
import { worst, type Verdict } from '#libs/conformity';
import { findCharacteristic } from './characteristic.js';
import type { DerivedValue } from './derived-value.js';
import type { OrderedSize } from './effective-limits.js';
import { absentLine, derivedLine, nearLine, readied, valueLine, type EvaluationLine, type ReadyRequirement, type StripRules } from './evaluation-line.js';
import type { Requirement } from './requirement.js';
import type { SourcedValue } from './sourced-value.js';
import { valuesAsAsked } from './test-condition.js';

export type { EvaluationLine, StripRules } from './evaluation-line.js';

export interface Evaluation {
  readonly verdict: Verdict;
  /** In the order of the requirements; several values of one requirement in the order in which they were given. */
  readonly lines: readonly EvaluationLine[];
}

/** A requirement with the lines that it gave before. */
interface Remembering {
  readonly ready: ReadyRequirement;
  /** By the very value: readers of large files give equal values as one object. */
  readonly kept: WeakMap<SourcedValue | DerivedValue, EvaluationLine>;
}

/**
 * The evaluation of any number of coils of one ordered size by one specification. The requirements are made ready once;
 * the function it gives takes all values known of a coil and depends on nothing but them. Throws as `judge` does when a
 * requirement says nothing sensible, and the function RangeError when there are no requirements.
 */
export function evaluator(rules: StripRules, ordered: OrderedSize | null): (values: readonly SourcedValue[]) => Evaluation {
  const requirements = rules.requirements.map((requirement, place): Remembering => ({
    ready: readied(requirement, place, rules, ordered), kept: new WeakMap(),
  }));
  let shape: Shape | null = null;
  return (values) => {
    if (shape === null || !isOfShape(values, shape)) shape = { values, places: requirements.map((requirement) => ({ requirement, places: placesOf(requirement.ready.requirement, values) })) };
    const lines: EvaluationLine[] = [];
    for (const { requirement, places } of shape.places) addLines(lines, requirement, values, places);
    const verdicts = new Set<Verdict>();
    for (const { verdict } of lines) verdicts.add(verdict);
    return { verdict: worst(verdicts), lines };
  };
}

/** Where in a list of values those of each requirement stand: worked out once for as long as papers list the same, as they mostly do. */
interface Shape {
  /** The list it was worked out for. */
  readonly values: readonly SourcedValue[];
  readonly places: readonly { readonly requirement: Remembering; readonly places: readonly number[] }[];
}

function isOfShape(values: readonly SourcedValue[], shape: Shape): boolean {
  return values.length === shape.values.length && values.every(({ characteristic, analysis }, index) => {
    const before = shape.values[index];
    return before?.characteristic === characteristic && before.analysis === analysis;
  });
}

function placesOf({ characteristic, analysis }: Requirement, values: readonly SourcedValue[]): number[] {
  return values.flatMap((value, place) => (value.characteristic === characteristic && value.analysis === analysis ? [place] : []));
}

/**
 * Adds the lines of one requirement: one for each value reported or derived; where there is none one for each value that
 * comes near; and where there is none of those either, one that says so.
 */
function addLines(
  lines: EvaluationLine[], { ready, kept }: Remembering, values: readonly SourcedValue[], places: readonly number[],
): void {
  const { requirement } = ready;
  const before = lines.length;
  for (const value of valuesAsAsked(requirement, valuesAt(places, values))) lines.push(keptLine(kept, ready, value, valueLine));
  const isReported = lines.length > before;
  for (const value of ready.derive(values)) {
    const line = keptLine(kept, ready, value, derivedLine);
    // Of a sum that is reported, the elements that a paper leaves out leave nothing open.
    if (!(isReported && value.isIncomplete && line.verdict === 'not-comparable')) lines.push(line);
  }
  if (lines.length > before) return;
  for (const value of nearValues(requirement, values)) lines.push(keptLine(kept, ready, value, nearLine));
  if (lines.length === before) lines.push(absentLine(ready));
}

const NOTHING: readonly SourcedValue[] = [];

function valuesAt(places: readonly number[], values: readonly SourcedValue[]): readonly SourcedValue[] {
  if (places.length === 0) return NOTHING;
  const found: SourcedValue[] = [];
  for (const place of places) {
    const value = values[place];
    if (value !== undefined) found.push(value);
  }
  return found;
}

function keptLine<V extends SourcedValue | DerivedValue>(
  kept: Remembering['kept'], ready: ReadyRequirement, value: V, lineOf: (ready: ReadyRequirement, value: V) => EvaluationLine,
): EvaluationLine {
  const known = kept.get(value);
  if (known !== undefined) return known;
  const line = lineOf(ready, value);
  kept.set(value, line);
  return line;
}

/** The values of the same family; of what has none, those of the other analysis. */
function nearValues({ characteristic }: Requirement, values: readonly SourcedValue[]): readonly SourcedValue[] {
  const family = findCharacteristic(characteristic)?.family ?? null;
  if (family === null) return values.filter((value) => value.characteristic === characteristic);
  return values.filter((value) => findCharacteristic(value.characteristic)?.family === family);
}
