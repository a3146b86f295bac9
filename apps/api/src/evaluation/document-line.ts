import { atLeast, type EvaluationLine } from '#libs/strip';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilPaper } from './coil-knowledge.js';
import { linesAbout } from './coil-values.js';

/**
 * The demand for a type of inspection document, held against the best of the coil's papers that speak of it: a certificate
 * certifies what it names, this coil or its heat as a whole, in every keying.
 */
export function documentLine({ documentType }: Pick<StripSpecification, 'documentType'>, papers: readonly CoilPaper[], heatNumber: string): EvaluationLine {
  const best = bestOf(papers.filter((paper) => whySilent(paper, heatNumber) === null));
  const line = {
    requirement: null, name: 'inspection document', limits: `at least type ${documentType} of EN 10204`, limitsFrom: 'the specification',
    compared: null, margin: null, nearest: null, unit: '1', conformanceProbability: null, looksLike: null,
  } as const;
  const silent = bestOf(papers);
  if (silent === null) return { ...line, printed: null, source: null, verdict: 'not-reported', rule: 'the best document counts', reason: 'the coil has no certificate' };
  if (best === null) {
    const { documentType: type } = silent.certificate;
    const rule = 'a document counts for what it names';
    return { ...line, printed: `type ${type}`, source: sourceOf(silent), verdict: 'not-comparable', rule, reason: whySilent(silent, heatNumber) };
  }
  const { documentType: type } = best.certificate;
  const conforms = atLeast(type, documentType);
  return {
    ...line, printed: `type ${type}`, source: sourceOf(best), compared: type,
    verdict: conforms ? 'conforms' : 'does-not-conform', rule: `type ${type} ${conforms ? 'is' : 'is not'} at least ${documentType} (EN 10204:2004)`,
    reason: conforms ? null : `type ${documentType} or better is asked for`,
  };
}

function bestOf(papers: readonly CoilPaper[]): CoilPaper | null {
  return papers.reduce<CoilPaper | null>((found, paper) => (found === null || !atLeast(found.certificate.documentType, paper.certificate.documentType) ? paper : found), null);
}

const sourceOf = ({ certificate: { id, version, number } }: CoilPaper): EvaluationLine['source'] => ({ label: `certificate ${number}`, record: { kind: 'certificate', id, version } });

/** Why a paper cannot be said to speak of the coil; null when it does. */
function whySilent({ certificate: { number }, keyings, namedAs }: CoilPaper, heatNumber: string): string | null {
  if (keyings.length === 0) return `certificate ${number} was not keyed: whether it names the coil is not known`;
  const speaks = keyings.every((keying) => linesAbout(linesOf(keying), namedAs, heatNumber).length > 0);
  return speaks ? null : `certificate ${number} names neither the coil, as ${namedAs}, nor its heat ${heatNumber} as a whole`;
}
