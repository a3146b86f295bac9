import { microseconds } from '#libs/persistence';
import type { Finding } from '../records/plausibility.js';
import type { Shift } from '../shifts/shift.entity.js';
import { inWords, isOn } from '../shifts/shift.rules.js';

type OneShift = Pick<Shift, 'name' | 'observedAt' | 'until' | 'crew'>;

/** Who gives what, at which time. */
export interface Given {
  readonly doneBy: string;
  readonly observedAt: string;
  readonly nextShiftId: string | null;
}

/**
 * Who was not on the shift and hands it over is marked: the handover was given, and who refuses it gets none. Times that go
 * backwards are asked about.
 */
export function handoverFindings({ doneBy, observedAt, nextShiftId }: Given, shift: OneShift, next: OneShift | null): Finding[] {
  const isEarly = microseconds(observedAt) < microseconds(shift.observedAt);
  const isBackwards = next !== null && microseconds(next.observedAt) < microseconds(shift.observedAt);
  return [
    ...(isOn(doneBy, shift) ? [] : [{ tier: 'noted', field: 'doneBy', value: doneBy, limit: 'given by one of the crew of the shift' } as const]),
    ...(isEarly ? [{ tier: 'implausible', field: 'observedAt', value: observedAt, limit: `not before its shift: ${inWords(shift)}` } as const] : []),
    ...(isBackwards ? [{ tier: 'implausible', field: 'nextShiftId', value: nextShiftId ?? '', limit: `a shift that did not begin before this one, ${shift.observedAt}` } as const] : []),
  ];
}
