import type { FieldProblem } from '../http/problem.js';
import type { IndicationContent, IndicationInput } from './indication.dto.js';

type Said = Pick<IndicationInput, 'channelIds' | 'method' | 'peak' | 'peakUnit' | 'peakIsBound'>;

/** What of an indication does not go together; one that no detection opened names the method it was seen by. */
export function indicationFaults({ channelIds, method, peak, peakUnit, peakIsBound }: Said, isDetected: boolean): FieldProblem[] {
  const isPeak = peak != null;
  const unsaid = (field: string, value: unknown): FieldProblem[] =>
    (isPeak === (value != null) ? [] : [{ field, value: value ?? null, limit: isPeak ? 'needed beside a peak' : 'only beside a peak' }]);
  return [
    ...(method == null && !isDetected ? [{ field: 'method', value: null, limit: 'the method that it was seen by' }] : []),
    ...unsaid('peakUnit', peakUnit), ...unsaid('peakIsBound', peakIsBound),
    ...(new Set(channelIds).size < channelIds.length ? [{ field: 'channelIds', value: channelIds, limit: 'each channel once' }] : []),
  ];
}

/** Of an indication that a detection opened these say what it found; people add the rest. */
const AS_DETECTED = ['from', 'to', 'channelIds', 'method', 'peak', 'peakUnit', 'peakIsBound'] as const;

/** Fields that an amendment of a detected indication would change, though they stay. */
export function changedAsDetected(input: Pick<IndicationInput, (typeof AS_DETECTED)[number]>, stands: Pick<IndicationContent, (typeof AS_DETECTED)[number]>): FieldProblem[] {
  return AS_DETECTED.filter((field) => textOf(input[field]) !== textOf(stands[field])).map((field) => ({
    field, value: input[field] ?? null, limit: 'as it was detected: enter an indication of your own beside it',
  }));
}

/** What two fields say, whatever is left out or null in them. */
function textOf(value: unknown): string {
  return JSON.stringify(value ?? null, (_, part: unknown) =>
    (typeof part === 'object' && part !== null && !Array.isArray(part) ? Object.fromEntries(Object.entries(part).filter(([, one]) => one != null).sort()) : part));
}
