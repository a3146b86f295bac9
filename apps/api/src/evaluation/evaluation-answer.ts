import { roundMm } from '#libs/length';
import { normalInstant } from '#libs/persistence';
import { COIL_CAUTIONS } from '#libs/reports';
import type { CoilStanding } from '../standing/coil-standing.js';
import { linkTo } from '../trace/record-link.js';
import type { CoilEvaluationAnswer, CoilStandingAnswer, EvaluationLineAnswer, EvaluationUnderAnswer } from './evaluation.dto.js';
import { lineText } from './evaluation-snapshot.js';
import { specificationText, type CoilEvaluation, type EvaluationUnder } from './evaluations.service.js';

/** A coil's evaluation as it is answered. */
export function evaluationAnswer(found: CoilEvaluation, asKnownAt: string | null): CoilEvaluationAnswer {
  const { knowledge, evaluation, underOther, checks, lengths, standing, snapshot, meanings, values, hasChangedSince } = found;
  return {
    coil: linkTo('coil', knowledge.coil, knowledge.coil.number),
    asKnownAt,
    evaluation: underAnswer(evaluation),
    underOther: underOther === null ? null : underAnswer(underOther),
    crossChecks: checks.map(({ severity, check, detail, records }) => ({ severity, check, detail: detail.slice(0, 2000), records: [...records] })),
    lengths: lengths.map(({ basis, length }) => ({ basis, lengthMm: roundMm(length.lengthMm), plusMinusMm: Math.ceil(2 * length.standardUMm) })),
    standing: standingAnswer(standing, hasChangedSince),
    sha256: snapshot.sha256,
    meanings: [...meanings],
    cautions: [...COIL_CAUTIONS],
    valueCount: values.length,
  };
}

function underAnswer({ specification, verdict, lines }: EvaluationUnder): EvaluationUnderAnswer {
  return {
    specification: linkTo('strip-specification', specification, specificationText(specification)),
    verdict,
    lines: lines.map((line): EvaluationLineAnswer => {
      const { name, limits, limitsFrom, printed, source, compared, margin, nearest, unit, rule, reason, looksLike } = line;
      return {
        name, limits, limitsFrom, printed, source: source?.label ?? null, record: source?.record ?? null, verdict: line.verdict, compared,
        margin, nearest, unit, conformanceProbability: lineText(line).conformanceProbability, rule, reason, looksLike,
      };
    }),
  };
}

function standingAnswer({ state, decision, validPermits, isUsable }: CoilStanding, hasChangedSince: boolean | null): CoilStandingAnswer {
  return {
    state, isUsable, decisionCount: decision?.sequence ?? 0, decisionId: decision?.id ?? null, signedBy: decision?.signerName ?? null, signedAt: decision?.knownFrom ?? null,
    hasChangedSince,
    permits: validPermits.map(({ id, departure, limitText, forStringId, validUntil }) => ({ id, departure, limit: limitText, forStringId, validUntil: normalInstant(validUntil) })),
  };
}
