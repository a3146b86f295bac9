import { compare, decimal } from '#libs/exact';
import { API_5ST_FLATTENING } from './sources.js';
import { positive } from './tube.js';

/**
 * Cracks and breaks that a flattened piece of coiled tubing may show. The standard prints both units, of which 3.2 mm is a
 * little more than 0.125 in: a length is held against the limit of the unit it was read in.
 */
export const CRACK_LIMITS_5ST = {
  mm: { longest: '3.2', edgeIgnoredBelow: '6.4' },
  in: { longest: '0.125', edgeIgnoredBelow: '0.25' },
} as const;

/** How often coiled tubing is flattened at least. */
export const FLATTENING_FREQUENCY_5ST = {
  words: 'one from each end of each continuously milled length', source: API_5ST_FLATTENING,
} as const;

/** A crack or break as read; decimal text. */
export interface Crack {
  readonly length: string;
  readonly unit: 'mm' | 'in';
  readonly place: 'edge' | 'elsewhere';
}

export interface CrackFinding {
  readonly crack: Crack;
  readonly finding: 'accepted' | 'ignored' | 'rejected';
  readonly words: string;
}

export interface CrackJudgement {
  readonly accepted: boolean;
  readonly findings: readonly CrackFinding[];
  readonly rule: string;
  readonly source: string;
}

/**
 * The cracks of one flattened piece against API 5ST 6.2.4: a crack at an edge below 6.4 mm (0.25 in) is ignored, any other
 * may be up to 3.2 mm (0.125 in) long. An empty list says that somebody looked and found none.
 * Throws SyntaxError unless lengths are plain decimals, RangeError unless they are over 0.
 */
export function judgeCracks5st(cracks: readonly Crack[]): CrackJudgement {
  const findings = cracks.map(findingOf);
  return {
    accepted: findings.every(({ finding }) => finding !== 'rejected'),
    findings,
    rule: 'no crack or break over 3.2 mm (0.125 in); at an edge those below 6.4 mm (0.25 in) are ignored',
    source: API_5ST_FLATTENING,
  };
}

function findingOf(crack: Crack): CrackFinding {
  const { length, unit, place } = crack;
  const value = positive('length of a crack', length, unit);
  const { longest, edgeIgnoredBelow } = CRACK_LIMITS_5ST[unit];
  if (place === 'edge' && compare(value, decimal(edgeIgnoredBelow)) < 0) {
    return { crack, finding: 'ignored', words: `${length} ${unit} at an edge, below ${edgeIgnoredBelow} ${unit}` };
  }
  const where = place === 'edge' ? `at an edge, not below ${edgeIgnoredBelow} ${unit},` : 'not at an edge,';
  return compare(value, decimal(longest)) <= 0
    ? { crack, finding: 'accepted', words: `${length} ${unit} ${where} at most ${longest} ${unit}` }
    : { crack, finding: 'rejected', words: `${length} ${unit} ${where} over ${longest} ${unit}` };
}
