import type { Transaction } from '#libs/persistence';
import { malformed, together } from '../http/problem.js';
import type { InstrumentsService } from '../instruments/instruments.service.js';
import type { WeldReadingPart } from './weld.dto.js';
import type { WeldReading } from './weld.entity.js';
import { impossibleReadings } from './weld.rules.js';

/** Readings as they are kept. */
export const keptReadings = (parts: readonly WeldReadingPart[]): WeldReading[] =>
  parts.map(({ variable, printed, unit, instrumentId }) => ({ variable, printed, unit, instrumentId: instrumentId ?? null }));

/** The same. Refuses, with 400, what no weld has, one entry for each. */
export function takenReadings(parts: readonly WeldReadingPart[]): WeldReading[] {
  const readings = keptReadings(parts);
  const faults = impossibleReadings(readings);
  if (faults.length > 0) throw malformed(faults);
  return readings;
}

/** Refuses, with 422, instruments that are not on record. */
export function demandInstruments(tx: Transaction, readings: readonly { readonly instrumentId: string | null }[], instruments: InstrumentsService): Promise<unknown> {
  return together(readings.map(({ instrumentId }, index) => instruments.namedIfAny(tx, `readings[${index}].instrumentId`, instrumentId)));
}
