import { compare, decimal } from '#libs/exact';
import { microseconds, normalInstant } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import type { TimeLeft } from '../time-left/time-left.js';
import type { IndicationEvaluationInput } from './indication-evaluation.dto.js';
import type { IndicationEvaluation } from './indication-evaluation.entity.js';

type Said = Omit<IndicationEvaluationInput, 'observedAt' | 'stringId' | 'indicationId' | 'level'>;
type Measured = Pick<Said, 'measuredDepthMm' | 'remainingWallMm' | 'limitMinWallMm' | 'limitMaxDepthMm'>;

/** What of an evaluation does not go together, field by field. */
export function evaluationFaults(said: Said): FieldProblem[] {
  return [...relevanceFaults(said), ...measurementFaults(said), ...acceptanceFaults(said)];
}

function relevanceFaults({ relevant, cause = null, causeWords = null, verdict }: Said): FieldProblem[] {
  return [
    ...(relevant === (cause !== null) ? [{ field: 'cause', value: cause, limit: relevant ? 'only where it is not relevant' : 'what else it is of' }] : []),
    ...(cause === 'other' && causeWords === null ? [{ field: 'causeWords', value: null, limit: 'needed beside another cause' }] : []),
    ...(causeWords !== null && cause === null ? [{ field: 'causeWords', value: causeWords, limit: 'only beside a cause' }] : []),
    ...(!relevant && (verdict === 'repair' || verdict === 'cut-out') ? [{ field: 'verdict', value: verdict, limit: 'nothing is taken out of the pipe that is not of it' }] : []),
  ];
}

function measurementFaults(said: Said): FieldProblem[] {
  const { method = null, technique = null, instrumentId = null, measuredDepthMm = null, measuredLengthMm = null, remainingWallMm = null } = said;
  const { limitText = null, limitMinWallMm = null, limitMaxDepthMm = null } = said;
  const isMeasured = measuredDepthMm !== null || measuredLengthMm !== null || remainingWallMm !== null;
  const hasLimit = limitMinWallMm !== null || limitMaxDepthMm !== null;
  return [
    ...(technique !== null && method === null ? [{ field: 'technique', value: technique, limit: 'only beside a method' }] : []),
    ...(instrumentId !== null && !isMeasured ? [{ field: 'instrumentId', value: instrumentId, limit: 'an instrument only beside what was measured with it' }] : []),
    ...(limitMinWallMm !== null && remainingWallMm === null ? [{ field: 'limitMinWallMm', value: limitMinWallMm, limit: 'only beside the wall that is left' }] : []),
    ...(limitMaxDepthMm !== null && measuredDepthMm === null ? [{ field: 'limitMaxDepthMm', value: limitMaxDepthMm, limit: 'only beside a depth' }] : []),
    ...(hasLimit === (limitText === null) ? [{ field: 'limitText', value: limitText, limit: hasLimit ? 'what sets the limit' : 'only beside a limit' }] : []),
  ];
}

/** Nothing is accepted beside a limit that the record itself states and that it does not meet. */
function acceptanceFaults({ verdict, ...measured }: Said): FieldProblem[] {
  if (verdict !== 'accept') return [];
  return beyondLimits(measured).slice(0, 1).map(({ field, value, limit }) => ({ field: 'verdict', value: verdict, limit: `no acceptance of ${field} ${value}: ${limit}` }));
}

/** Measured values beyond the limits that stand beside them. */
function beyondLimits({ measuredDepthMm = null, remainingWallMm = null, limitMinWallMm = null, limitMaxDepthMm = null }: Measured): Finding[] {
  const tier = 'out-of-specification';
  return [
    ...(remainingWallMm !== null && limitMinWallMm !== null && compare(decimal(remainingWallMm), decimal(limitMinWallMm)) < 0
      ? [{ tier, field: 'remainingWallMm', value: remainingWallMm, limit: `at least ${limitMinWallMm} mm` } as const] : []),
    ...(measuredDepthMm !== null && limitMaxDepthMm !== null && compare(decimal(measuredDepthMm), decimal(limitMaxDepthMm)) > 0
      ? [{ tier, field: 'measuredDepthMm', value: measuredDepthMm, limit: `at most ${limitMaxDepthMm} mm` } as const] : []),
  ];
}

type Figures = Pick<IndicationEvaluation, 'measuredDepthMm' | 'remainingWallMm' | 'limitMinWallMm' | 'limitMaxDepthMm' | 'level'>;

/**
 * A value beyond its limit is taken and marked; walls that no such pipe has, and depths beyond the wall that the string began
 * with, are asked about once. Level 1 does not assess (ISO 9712, from memory): taken and marked.
 */
export function evaluationFindings(figures: Figures, nominalWallMm: string): Finding[] {
  const { measuredDepthMm, remainingWallMm, level } = figures;
  return [
    ...(measuredDepthMm === null ? [] : outside('implausible', 'measuredDepthMm', measuredDepthMm, { max: Number(nominalWallMm), unit: 'mm, the wall of the string' })),
    ...(remainingWallMm === null ? [] : outside('implausible', 'remainingWallMm', remainingWallMm, { min: 0.3, max: 40, unit: 'mm' })),
    ...beyondLimits(figures),
    ...(level === '1' ? [{ tier: 'noted' as const, field: 'level', value: level, limit: 'level 2 or 3: level 1 does not assess results' }] : []),
  ];
}

/** The moment of decision was corrected: what was left was taken for the one before, and stays. */
export function takenFor({ at }: Pick<TimeLeft, 'at'>, observedAt: string): Finding[] {
  if (microseconds(at) === microseconds(observedAt)) return [];
  return [{ tier: 'noted', field: 'observedAt', value: normalInstant(observedAt), limit: `${at}, for which the time left was taken` }];
}
