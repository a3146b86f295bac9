import { keyOfTexts, type Bounds } from '#libs/conformity';
import { compare, decimalText, type Ratio } from '#libs/exact';
import type { SourcedValue, ValueSource } from './sourced-value.js';

/** A value that follows from others, known between two bounds. */
export interface DerivedValue {
  readonly bounds: Bounds;
  readonly unit: string;
  readonly text: string;
  readonly source: ValueSource;
  /** What is missing for knowing it better, and what was taken from other analyses. */
  readonly reason: string | null;
  /** Something that it follows from was not reported. */
  readonly isIncomplete: boolean;
  /** Something that it follows from is in doubt or cannot be read. */
  readonly isDoubtful: boolean;
}

/** How the values of one requirement follow from reported ones. */
export interface Deriver {
  /** Whether something may follow from such a value. */
  readonly uses: (value: Pick<SourcedValue, 'characteristic' | 'analysis'>) => boolean;
  /** What follows from all the values of a coil that it uses. */
  readonly from: (values: readonly SourcedValue[]) => readonly DerivedValue[];
  /** Whether any reported value of the requirement itself closes what an incomplete one leaves open, whatever test it is of. */
  readonly isClosedByReport: boolean;
}

/** How a derived value follows from others. */
export interface Derivation {
  readonly low: Ratio;
  /** Null where nothing bounds it above. */
  readonly high: Ratio | null;
  readonly unit: '%' | '1';
  /** What was done, and with what. */
  readonly label: string;
  /** Parts of the reason. */
  readonly because: readonly string[];
  readonly isIncomplete: boolean;
  readonly isDoubtful: boolean;
}

/** How many decimals a derived value is shown with. It is compared exactly. */
const SHOWN_DECIMALS = 4;

export function derivedValue({ low, high, unit, label, because, isIncomplete, isDoubtful }: Derivation): DerivedValue {
  const shown = (value: Ratio): string => decimalText(value, SHOWN_DECIMALS, 'half-even');
  const text = high === null ? `at least ${shown(low)}` : compare(low, high) === 0 ? shown(low) : `${shown(low)} to ${shown(high)}`;
  return {
    bounds: { low, high, lowOpen: false, highOpen: false, decimals: SHOWN_DECIMALS },
    unit, text: unit === '1' ? text : `${text} ${unit}`, source: { label, record: null },
    reason: because.length === 0 ? null : because.join('; '), isIncomplete, isDoubtful,
  };
}

/**
 * What tells the values of one source from each other, as far as anything follows from them. What is rare is left out where
 * it is absent: keys are made by the hundred thousand.
 */
export function keyOfValue({ characteristic, printed, unit, multiplier, expandedU, doubt }: SourcedValue): string {
  const plain = `${characteristic} ${printed.length}:${printed}${unit}`;
  if (multiplier === '1' && expandedU === null && doubt === null) return `${plain};`;
  return `${plain} ${keyOfTexts(multiplier, expandedU)}${doubt === null ? '!' : '?'}`;
}

/** `words: C, Mn` as a part of a reason; none where nothing is named. */
export const reasonNaming = (words: string, names: readonly string[]): string[] => (names.length === 0 ? [] : [`${words}: ${names.join(', ')}`]);
