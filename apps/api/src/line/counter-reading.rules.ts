import type { Finding } from '../records/plausibility.js';

/** Two readings of a counter in one footage: where the line was, in mm, and when, in µs. */
export interface Reached {
  readonly footageMm: number;
  readonly atUs: number;
}

/** A line that backs up further than this between two readings is asked about. Common practice, no published source. */
export const REVERSAL_MM = 50_000;
/** Faster than any such line runs. Common practice, no published source. */
export const FASTEST_M_PER_MIN = 250;

/**
 * What is unlikely about a reading after the one before it: a fall beyond a reversal of the line (a reset that was not
 * recorded), or a jump faster than the line can run (a slip, a wrong digit).
 */
export function readingFindings(reading: string, now: Reached, before: Reached | null): Finding[] {
  if (before === null) return [];
  const madeMm = now.footageMm - before.footageMm;
  if (madeMm < -REVERSAL_MM) {
    const limit = `usually no more than ${REVERSAL_MM / 1000} m of pipe below the reading before; a reset begins a new counter period`;
    return [{ tier: 'implausible', field: 'reading', value: reading, limit }];
  }
  const minutes = (now.atUs - before.atUs) / 60e6;
  if (madeMm / 1000 <= FASTEST_M_PER_MIN * minutes) return [];
  const limit = `usually at most ${FASTEST_M_PER_MIN} m/min since the reading before`;
  return [{ tier: 'implausible', field: 'reading', value: reading, limit }];
}

/** The remark on a reading that no counter period gives a footage. */
export function withoutPeriod(reading: string, counter: string): Finding {
  return { tier: 'noted', field: 'reading', value: reading, limit: `no period of counter ${counter} held then when it was entered` };
}

/** A line computer cannot answer a question: what would be asked of a person is only noted. */
export function notAsked(findings: readonly Finding[]): Finding[] {
  return findings.map((found) => (found.tier === 'implausible' ? { ...found, tier: 'noted' } : found));
}
