import type { Verdict } from '#libs/conformity';
import { DECISIONS, type DecisionKind } from '../standing/decision-kind.js';
import type { CoilPaper } from './coil-knowledge.js';
import type { CrossCheck, CrossCheckName } from './cross-check.js';

/** What is signed with a decision, and why it may not be open. */
export interface DecisionMeaning {
  readonly decision: DecisionKind;
  readonly statement: string;
  readonly notOpenBecause: string | null;
}

export interface DecisionGround {
  readonly coilNumber: string;
  readonly specification: string;
  readonly verdict: Verdict;
  readonly papers: readonly CoilPaper[];
  readonly checks: readonly CrossCheck[];
}

const ENDINGS: Readonly<Record<DecisionKind, string>> = {
  hold: 'put the coil on hold until it is decided.',
  accept: 'accept the coil for use.',
  'accept-under-concession': 'accept the coil under the concession stated, although it was not shown to conform, within the limit stated.',
  reject: 'reject the coil: it shall not be used.',
  return: 'have the coil returned to its supplier.',
};

/**
 * Every decision with the sentence its signature would say. Only a coil that conforms, on verified papers that name it and
 * with a tag that does, is simply accepted; and a concession is for the others.
 */
export function decisionMeanings(ground: DecisionGround): DecisionMeaning[] {
  const { coilNumber, specification } = ground;
  const notAccepted = whyNotAccepted(ground);
  const notOpen: Partial<Record<DecisionKind, string | null>> = {
    accept: notAccepted,
    'accept-under-concession': notAccepted === null ? 'the coil was shown to conform: it needs no concession' : null,
  };
  return DECISIONS.map((decision) => ({
    decision,
    statement: `I have examined the evaluation of coil ${coilNumber} against ${specification} and ${ENDINGS[decision]}`,
    notOpenBecause: notOpen[decision] ?? null,
  }));
}

/** Cross-checks that leave open whether papers and strip are of the same coil. */
const OF_ANOTHER_COIL: readonly CrossCheckName[] = ['names the coil', 'tag'];

function whyNotAccepted({ verdict, papers, checks }: DecisionGround): string | null {
  if (verdict !== 'conforms') {
    return `the worst of its values is "${verdict}": accept under concession with its limit, hold, reject or return`;
  }
  const open = papers.filter(({ verification }) => verification.state !== 'verified');
  if (open.length > 0) {
    const said = open.map(({ certificate, verification }) => `${certificate.number} (${verification.state})`).join(', ');
    return `its papers were not verified by a second keying: ${said}`;
  }
  const other = checks.find(({ severity, check }) => severity === 'warning' && OF_ANOTHER_COIL.includes(check));
  return other === undefined ? null : `whether papers and strip are of the same coil is open: ${other.detail}`;
}
