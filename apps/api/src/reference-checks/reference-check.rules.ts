import { parseReading } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import type { FieldProblem } from '../http/problem.js';
import { placeFaults } from '../line/given-place.js';
import type { Finding } from '../records/plausibility.js';
import type { CheckOutcome, CheckResultPart, ReferenceCheckInput } from './reference-check.dto.js';
import type { CheckResult, ReferenceCheck } from './reference-check.entity.js';

type Counted = Pick<ReferenceCheck, 'results' | 'voidReason'>;

/** Results as columns. */
export const checkResults = (results: readonly CheckResultPart[]): CheckResult[] =>
  results.map(({ channelId, reflector, size, amplitude, threshold, sense }) => ({ channelId, reflector, size: size ?? null, amplitude, threshold, sense }));

/** Digits that are none. */
export function unreadableAmplitudes(results: readonly CheckResult[]): FieldProblem[] {
  return results.flatMap(({ amplitude }, index): FieldProblem[] => {
    const read = boundsOf(amplitude);
    return 'fault' in read ? [{ field: `results[${index}].amplitude`, value: amplitude, limit: read.fault }] : [];
  });
}

/** What does not go together in a check: a reflector of a channel twice, and no result though it counts. */
export function checkFaults({ from, results, voidReason }: Pick<ReferenceCheckInput, 'from' | 'results' | 'voidReason'>): FieldProblem[] {
  const keys = results.map(({ channelId, reflector }) => `${channelId} ${reflector}`);
  return [
    ...placeFaults('from', from),
    ...(results.length === 0 && voidReason == null ? [{ field: 'results', value: results, limit: 'at least one, of a check that counts' }] : []),
    ...keys.flatMap((key, index): FieldProblem[] =>
      (keys.indexOf(key) === index ? [] : [{ field: `results[${index}].reflector`, value: results[index]?.reflector ?? null, limit: 'each reflector of a channel once' }])),
  ];
}

/** What a check came to for a channel; null where it says nothing of it. A void check says it of none but the channels it names. */
export function outcomeOf({ results, voidReason }: Counted, channelId: string): CheckOutcome | null {
  const own = results.filter((result) => result.channelId === channelId);
  if (own.length === 0) return null;
  if (voidReason !== null) return 'void';
  return own.every(isReached) ? 'passed' : 'failed';
}

/** The channels of a check, in order, with what it came to. */
export function outcomesOf(check: Counted): { channelId: string; outcome: CheckOutcome }[] {
  const channelIds = [...new Set(check.results.map(({ channelId }) => channelId))];
  return channelIds.flatMap((channelId) => {
    const outcome = outcomeOf(check, channelId);
    return outcome === null ? [] : [{ channelId, outcome }];
  });
}

/** True when all that the amplitude can be reaches the threshold; on it is reached. Of a bound that leaves it open nobody knows, so it is not. */
export function isReached({ amplitude, threshold, sense }: Pick<CheckResult, 'amplitude' | 'threshold' | 'sense'>): boolean {
  const read = boundsOf(amplitude);
  if ('fault' in read) throw new RangeError(`not an amplitude: ${amplitude}`);
  const level = decimal(threshold);
  return sense === 'above' ? read.low !== null && compare(read.low, level) >= 0 : read.high !== null && compare(read.high, level) <= 0;
}

const boundsOf = (printed: string) => parseReading({ printed, unit: '', multiplier: '1', expandedU: null });

/** A reflector that did not show is taken and marked; of a void check it is only noted. */
export function checkFindings({ results, voidReason }: Counted): Finding[] {
  return results.flatMap((result, index): Finding[] => {
    if (isReached(result)) return [];
    const { amplitude, threshold, sense, reflector } = result;
    const limit = `${reflector}: ${sense === 'above' ? 'at least' : 'at most'} ${threshold}`;
    return [{ tier: voidReason === null ? 'out-of-specification' : 'noted', field: `results[${index}].amplitude`, value: amplitude, limit }];
  });
}
