import { keyingDifferences } from '../transcriptions/keying-comparison.js';
import type { SuppliedPaper } from './supplier-knowledge.js';

/** Certificates by what became of their keyings. */
export interface PaperCounts {
  readonly certificates: number;
  readonly keyed: number;
  /** Two keyings stand, and say the same. */
  readonly verified: number;
  /** The two keyings that stand did not say the same when they were first made. */
  readonly keyingsDiffered: number;
  /** A keying that stands was amended. */
  readonly corrected: number;
  readonly withWithdrawnKeying: number;
  /** Of those keyed; null when none was. */
  readonly correctedShare: number | null;
}

/** How many papers there are, and how many had to be corrected. */
export function paperCounts(papers: readonly SuppliedPaper[]): PaperCounts {
  const count = (is: (paper: SuppliedPaper) => boolean): number => papers.filter(is).length;
  const keyed = count(({ keyings }) => keyings.length > 0);
  const corrected = count(({ verification }) => verification.isCorrected);
  return {
    certificates: papers.length,
    keyed,
    verified: count(({ verification }) => verification.state === 'verified'),
    keyingsDiffered: count(differedAtFirst),
    corrected,
    withWithdrawnKeying: count(({ hasWithdrawnKeying }) => hasWithdrawnKeying),
    correctedShare: keyed === 0 ? null : corrected / keyed,
  };
}

function differedAtFirst({ asFirstKeyed: [first, second] }: SuppliedPaper): boolean {
  return first !== undefined && second !== undefined && keyingDifferences(first, second).length > 0;
}
