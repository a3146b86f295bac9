import type { EvaluationLine, SourcedValue } from '#libs/strip';
import { lengthChecks } from './coil-lengths.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import type { CrossCheck } from './cross-check.js';
import { heatAnalysisChecks } from './heat-analysis-checks.js';
import { massChecks } from './mass-checks.js';
import { dateChecks, revisionChecks } from './order-checks.js';
import { keyingChecks, namingChecks, nearNumberChecks, usedTwiceChecks } from './paper-checks.js';
import { equivalentChecks, receiptChecks, slipChecks } from './value-checks.js';

/** Everything about a coil that does not fit together, what matters first. */
export function crossChecks(knowledge: CoilKnowledge, values: readonly SourcedValue[], lines: readonly EvaluationLine[]): CrossCheck[] {
  const all = [
    ...namingChecks(knowledge), ...receiptChecks(knowledge), ...heatAnalysisChecks(knowledge), ...usedTwiceChecks(knowledge),
    ...keyingChecks(knowledge), ...slipChecks(lines), ...massChecks(knowledge), ...dateChecks(knowledge), ...revisionChecks(knowledge),
    ...equivalentChecks(values), ...lengthChecks(knowledge), ...nearNumberChecks(knowledge),
  ];
  return [...all.filter(({ severity }) => severity === 'warning'), ...all.filter(({ severity }) => severity === 'note')];
}
