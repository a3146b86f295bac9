import { atLeast, type EvaluationLine } from '#libs/strip';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { CoilPaper } from './coil-knowledge.js';

/** The demand for a type of inspection document, held against the best paper of the coil. */
export function documentLine({ documentType }: Pick<StripSpecification, 'documentType'>, papers: readonly CoilPaper[]): EvaluationLine {
  const best = papers.reduce<CoilPaper | null>(
    (found, paper) => (found === null || !atLeast(found.certificate.documentType, paper.certificate.documentType) ? paper : found), null,
  );
  const line = {
    requirement: null, name: 'inspection document', limits: `at least type ${documentType} of EN 10204`, limitsFrom: 'the specification',
    compared: null, margin: null, nearest: null, unit: '1', conformanceProbability: null, looksLike: null,
  } as const;
  if (best === null) {
    return { ...line, printed: null, source: null, verdict: 'not-reported', rule: 'the best document counts', reason: 'the coil has no certificate' };
  }
  const { id, version, number, documentType: type } = best.certificate;
  const conforms = atLeast(type, documentType);
  return {
    ...line, printed: `type ${type}`, source: { label: `certificate ${number}`, record: { kind: 'certificate', id, version } }, compared: type,
    verdict: conforms ? 'conforms' : 'does-not-conform', rule: `type ${type} ${conforms ? 'is' : 'is not'} at least ${documentType} (EN 10204:2004)`,
    reason: conforms ? null : `type ${documentType} or better is asked for`,
  };
}
