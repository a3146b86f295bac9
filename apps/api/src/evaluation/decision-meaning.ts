import type { Verdict } from '#libs/conformity';
import { DECISIONS, type DecisionKind } from '../standing/decision-kind.js';
import type { CoilPaper } from './coil-knowledge.js';

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
}

const ENDINGS: Readonly<Record<DecisionKind, string>> = {
  hold: 'put the coil on hold until it is decided.',
  accept: 'accept the coil for use.',
  'accept-under-concession': 'accept the coil under the concession stated, although it was not shown to conform, within the limit stated.',
  reject: 'reject the coil: it shall not be used.',
  return: 'have the coil returned to its supplier.',
};

/** Every decision with the sentence its signature would say. Only a coil that conforms, on verified papers, is simply accepted. */
export function decisionMeanings(ground: DecisionGround): DecisionMeaning[] {
  const { coilNumber, specification } = ground;
  return DECISIONS.map((decision) => ({
    decision,
    statement: `I have examined the evaluation of coil ${coilNumber} against ${specification} and ${ENDINGS[decision]}`,
    notOpenBecause: decision === 'accept' ? whyNotAccepted(ground) : null,
  }));
}

function whyNotAccepted({ verdict, papers }: DecisionGround): string | null {
  if (verdict !== 'conforms') {
    return `the worst of its values is "${verdict}": accept under concession with its limit, hold, reject or return`;
  }
  const open = papers.filter(({ verification }) => verification.state !== 'verified');
  if (open.length === 0) return null;
  const said = open.map(({ certificate, verification }) => `${certificate.number} (${verification.state})`).join(', ');
  return `its papers were not verified by a second keying: ${said}`;
}
