import { findCharacteristic } from './characteristic.js';
import type { DerivedValue } from './derived-value.js';
import { absentLine, derivedLine, nearLine, valueLine, type EvaluationLine, type ReadyRequirement } from './evaluation-line.js';
import type { SourcedValue } from './sourced-value.js';
import { fallsShort, isReached, testCondition, valuesAsAsked, type TestCondition } from './test-condition.js';

/** What decides which requirements look at a value. */
export type ValueKind = Pick<SourcedValue, 'characteristic' | 'analysis'>;

/**
 * The lines of one requirement. It keeps what it said last for as long as it is asked about the very same values: coils of
 * one heat have its analysis in common, one after another in a file.
 */
export class RequirementLines {
  /** What follows from one value alone, by the very value: readers of large files give equal values as one object. */
  private readonly ofOne = new WeakMap<SourcedValue, readonly EvaluationLine[]>();
  private readonly ofDerived = new WeakMap<DerivedValue, EvaluationLine>();
  private readonly family: string | null;
  private seen: readonly SourcedValue[] | null = null;
  private said: readonly EvaluationLine[] = [];

  constructor(private readonly ready: ReadyRequirement) {
    this.family = findCharacteristic(ready.requirement.characteristic)?.family ?? null;
  }

  /** Whether its lines may depend on such a value. */
  looksAt(value: ValueKind): boolean {
    return this.isAskedFor(value) || this.isNear(value) || this.ready.deriver.uses(value);
  }

  /** Its lines; of the values of a coil it is told where those stand that it looks at. */
  of(values: readonly SourcedValue[], places: readonly number[]): readonly EvaluationLine[] {
    if (this.hasSeen(values, places)) return this.said;
    this.seen = valuesAt(values, places);
    this.said = this.anew(this.seen);
    return this.said;
  }

  private hasSeen(values: readonly SourcedValue[], places: readonly number[]): boolean {
    const { seen } = this;
    if (seen?.length !== places.length) return false;
    for (let index = 0; index < seen.length; index += 1) {
      if (values[places[index] ?? -1] !== seen[index]) return false;
    }
    return true;
  }

  private anew(values: readonly SourcedValue[]): readonly EvaluationLine[] {
    const [only, another] = values;
    if (only === undefined || another !== undefined) return this.linesOf(values);
    const known = this.ofOne.get(only);
    if (known !== undefined) return known;
    const lines = this.linesOf(values);
    this.ofOne.set(only, lines);
    return lines;
  }

  /**
   * One line for each value reported or derived; where there is none one for each value that comes near; and where there is
   * none of those either, one that says so.
   */
  private linesOf(values: readonly SourcedValue[]): readonly EvaluationLine[] {
    const { requirement, deriver } = this.ready;
    const asked = values.filter((value) => this.isAskedFor(value));
    const lines = valuesAsAsked(requirement, asked, (value, condition) => this.isAgainst(value, condition)).map((value) => valueLine(this.ready, value));
    const isClosed = deriver.isClosedByReport && lines.length > 0;
    for (const value of deriver.from(values.filter(deriver.uses))) {
      const line = this.derivedLine(value);
      // Of a sum that is reported, the elements that a paper leaves out leave nothing open; those in doubt do.
      if (!(isClosed && value.isIncomplete && !value.isDoubtful && line.verdict === 'not-comparable')) lines.push(line);
    }
    if (lines.length > 0) return lines;
    const near = values.filter((value) => this.isNear(value));
    return near.length > 0 ? near.map((value) => nearLine(this.ready, value)) : [absentLine(this.ready)];
  }

  private isAskedFor({ characteristic, analysis }: ValueKind): boolean {
    const { requirement } = this.ready;
    return characteristic === requirement.characteristic && analysis === requirement.analysis;
  }

  /**
   * Whether a value that was taken otherwise leaves the requirement open: it is in doubt, and so may be how it was taken; or it
   * does not reach the minimum even in an easier test. One that answers another requirement is judged there, and counts here
   * when it falls short.
   */
  private isAgainst(value: SourcedValue, condition: TestCondition): boolean {
    const { alike, judges } = this.ready;
    const isAnswerToOther = (): boolean => alike.some((one) => testCondition(one, value).kind === 'as-asked');
    if (value.doubt !== null) return !isAnswerToOther();
    if (condition.kind !== 'easier' || judges === null) return false;
    const judgement = judges.reading(value);
    return fallsShort(judgement) || (!isReached(judgement) && !isAnswerToOther());
  }

  /** Whether a value comes near what is asked for: of the same family; of what has none, of the other analysis. */
  private isNear({ characteristic }: ValueKind): boolean {
    if (this.family === null) return characteristic === this.ready.requirement.characteristic;
    return findCharacteristic(characteristic)?.family === this.family;
  }

  private derivedLine(value: DerivedValue): EvaluationLine {
    const known = this.ofDerived.get(value);
    if (known !== undefined) return known;
    const line = derivedLine(this.ready, value);
    this.ofDerived.set(value, line);
    return line;
  }
}

function valuesAt(values: readonly SourcedValue[], places: readonly number[]): readonly SourcedValue[] {
  const found: SourcedValue[] = [];
  for (const place of places) {
    const value = values[place];
    if (value !== undefined) found.push(value);
  }
  return found;
}
