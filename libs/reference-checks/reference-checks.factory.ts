import { interval, IntervalSet } from '#libs/intervals';
import type { InspectionRun, ReferenceCheck } from '#libs/reference-checks';

export const HOUR_US = 3_600_000_000;

export const atHour = (hour: number): number => Math.round(hour * HOUR_US);

export const check = (hour: number, outcome: ReferenceCheck['outcome'] = 'passed', id = `check ${hour}`): ReferenceCheck => ({
  id, atUs: atHour(hour), footageMm: 0, outcome, reason: 'interval',
});

/** From hour to hour and millimetre to millimetre, all of it valid. */
export const run = (fromHour: number, toHour: number, fromMm: number, toMm: number, rest: Partial<InspectionRun> = {}): InspectionRun => ({
  id: `run ${fromHour}`, ended: true, pieces: [{ fromUs: atHour(fromHour), toUs: atHour(toHour), fromMm, toMm }],
  valid: IntervalSet.of(interval(-1_000_000, 1_000_000)), ...rest,
});
