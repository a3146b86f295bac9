import type { NamedCheck } from './named-check.js';
import { VENDOR_PAGE } from './sources.js';

/** A tube slit opposite its weld and opened; null where nobody recorded it. */
export interface ReverseBend {
  /** Times it was bent back and forth along the weld. */
  readonly bends: number | null;
  readonly crackAtWeld: boolean | null;
}

/** A tube slit and opened; null where nobody recorded it. */
export interface ReverseFlattening {
  readonly openedFlat: boolean | null;
  readonly crackAtWeld: boolean | null;
}

const LEAST_BENDS = 2;

/**
 * Reverse bend of small welded tube: the opened tube is bent back and forth twice along the weld without cracking. Source:
 * a vendor's page, of little authority; the project's specification decides. A crack fails the test after any number of bends.
 * Throws RangeError unless the bends are a whole number of at least 0.
 */
export function checkReverseBend({ bends, crackAtWeld }: ReverseBend): NamedCheck {
  if (bends !== null && !(Number.isSafeInteger(bends) && bends >= 0)) throw new RangeError(`not a number of bends: ${bends}`);
  const done = bends === null ? 'number of bends not recorded' : `bent back and forth ${bends} ${bends === 1 ? 'time' : 'times'}`;
  const outcome = outcomeOf(bends === null ? null : bends >= LEAST_BENDS, crackAtWeld);
  return seenCheck('reverse bend', outcome, `${done}, ${crackText(crackAtWeld)}`, `${LEAST_BENDS} times along the weld without cracking`);
}

/** Reverse flattening: the tube is opened flat without a crack at the weld. Source: the same page, of little authority. */
export function checkReverseFlattening({ openedFlat, crackAtWeld }: ReverseFlattening): NamedCheck {
  const done = openedFlat === null ? 'not recorded whether opened flat' : `${openedFlat ? '' : 'not '}opened flat`;
  return seenCheck('reverse flattening', outcomeOf(openedFlat, crackAtWeld), `${done}, ${crackText(crackAtWeld)}`, 'opened flat without cracking at the weld');
}

function seenCheck(name: string, outcome: NamedCheck['outcome'], found: string, demanded: string): NamedCheck {
  return { name, outcome, found, demanded, words: `${found}; demanded: ${demanded}`, source: VENDOR_PAGE };
}

function outcomeOf(isDone: boolean | null, crackAtWeld: boolean | null): NamedCheck['outcome'] {
  if (crackAtWeld === true || isDone === false) return 'not met';
  return isDone === null || crackAtWeld === null ? 'not recorded' : 'met';
}

function crackText(crackAtWeld: boolean | null): string {
  if (crackAtWeld === null) return 'cracks not recorded';
  return crackAtWeld ? 'cracked at the weld' : 'no crack at the weld';
}
