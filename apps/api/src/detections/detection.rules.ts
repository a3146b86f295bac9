import { microseconds, normalInstant } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { DetectionInput } from './detection.dto.js';
import type { Detection } from './detection.entity.js';

type Said = Pick<DetectionInput, 'ruleId' | 'fromMm' | 'toMm' | 'asKnownAt'>;

/** What of a detection cannot be: an interval that ends before it begins, or knowledge of a time that has not come. */
export function detectionFaults({ fromMm, toMm, asKnownAt }: Said, now: string): FieldProblem[] {
  return [
    ...(toMm != null && toMm <= (fromMm ?? 0) ? [{ field: 'toMm', value: toMm, limit: `a footage above ${fromMm ?? 0} mm: the interval is half-open` }] : []),
    ...(asKnownAt != null && microseconds(asKnownAt) > microseconds(now) ? [{ field: 'asKnownAt', value: asKnownAt, limit: `not later than now, ${now}` }] : []),
  ];
}

/** What an amendment would change of a detection: nothing of what it was run with. */
export function changedRun(input: Said, stands: Pick<Detection, 'ruleId' | 'fromMm' | 'toMm' | 'asKnownAt'>): FieldProblem[] {
  const asked = { ruleId: input.ruleId, fromMm: input.fromMm ?? null, toMm: input.toMm ?? null, asKnownAt: input.asKnownAt == null ? null : normalInstant(input.asKnownAt) };
  return (['ruleId', 'fromMm', 'toMm', 'asKnownAt'] as const).filter((field) => asked[field] !== stands[field]).map((field) => ({
    field, value: input[field] ?? null, limit: `stays ${stands[field] ?? 'absent'}: enter another detection`,
  }));
}
