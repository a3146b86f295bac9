import type { RecordRef } from '#libs/explanation';
import type { PrintedValue } from './paper.js';

/** Where a value comes from, in words and as a record. */
export interface ValueSource {
  readonly label: string;
  readonly record: RecordRef | null;
}

/** A value with its source; `doubt` says why it cannot be judged as it stands, such as two keyings that differ. */
export interface SourcedValue extends PrintedValue {
  readonly source: ValueSource;
  readonly doubt: string | null;
}

/** A value as its paper shows it. */
export function printedText({ printed, unit, multiplier, expandedU }: PrintedValue): string {
  const of = unit === '1' ? '' : ` ${unit}`;
  const times = multiplier === '1' ? '' : `, printed ×${multiplier}`;
  return `${printed}${of}${times}${expandedU === null ? '' : ` (U ${expandedU})`}`;
}

/** Whether two values belong to one sample or test piece: they are of one source, place and direction. */
export function isOfOneTest(one: SourcedValue, other: SourcedValue): boolean {
  return one.source.label === other.source.label && one.location === other.location && one.direction === other.direction;
}
