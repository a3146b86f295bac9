import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import type { Evaluation, EvaluationLine } from '#libs/strip';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import type { CrossCheck } from './cross-check.js';

/** What a decision on a coil is made on, frozen with it: canonical JSON (RFC 8785) of texts, whole numbers and nulls. */
export interface EvaluationSnapshot {
  readonly text: string;
  /** SHA-256 of the text, hexadecimal. */
  readonly sha256: string;
}

/** The snapshot of an evaluation; the same knowledge always gives the same text. */
export function snapshotOf(
  { coil, heat, order }: Pick<CoilKnowledge, 'coil' | 'heat' | 'order'>,
  specification: StripSpecification,
  evaluation: Evaluation,
  checks: readonly CrossCheck[],
): EvaluationSnapshot {
  const said = {
    coil: { id: coil.id, version: coil.version, number: coil.number },
    heat: { id: heat.id, version: heat.version, number: heat.number },
    order: order === null ? null : { id: order.id, version: order.version, number: order.number },
    specification: {
      id: specification.id, version: specification.version, number: specification.number, revision: specification.revision,
      rounding: specification.rounding, decisionRule: specification.decision, guardFactor: specification.guardFactor,
    },
    verdict: evaluation.verdict,
    lines: evaluation.lines.map(lineText),
    crossChecks: checks,
  };
  const text = canonicalize(said) ?? '';
  return { text, sha256: createHash('sha256').update(text).digest('hex') };
}

/** A line with its only fraction as text. */
export function lineText({ conformanceProbability, ...line }: EvaluationLine): Omit<EvaluationLine, 'conformanceProbability'> & { conformanceProbability: string | null } {
  return { ...line, conformanceProbability: conformanceProbability === null ? null : conformanceProbability.toFixed(4) };
}

/**
 * Whether two snapshots say something different of the coil. Records that were amended without changing what is said of it,
 * such as a coil whose crop was filled in, make no difference.
 */
export function saysOtherwise(one: string, other: string): boolean {
  return one !== other && substanceOf(one) !== substanceOf(other);
}

function substanceOf(text: string): string {
  return canonicalize(JSON.parse(text, (name, value: unknown) => (name === 'version' ? undefined : value))) ?? '';
}
