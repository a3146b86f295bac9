import type { Transaction } from '#libs/persistence';
import { malformed } from '../http/problem.js';
import type { InstrumentsService } from '../instruments/instruments.service.js';
import type { WeldReadingPart } from './weld.dto.js';
import type { WeldReading } from './weld.entity.js';
import { impossibleReadings } from './weld.rules.js';

/**
 * Readings as they are kept. Refuses, with 400, what no weld has, one entry for each; and with 422 an instrument that is
 * not on record.
 */
export async function takenReadings(tx: Transaction, parts: readonly WeldReadingPart[], instruments: InstrumentsService): Promise<WeldReading[]> {
  const readings = parts.map(({ variable, printed, unit, instrumentId }) => ({ variable, printed, unit, instrumentId: instrumentId ?? null }));
  const faults = impossibleReadings(readings);
  if (faults.length > 0) throw malformed(faults);
  for (const [index, { instrumentId }] of readings.entries()) {
    if (instrumentId !== null) await instruments.named(tx, `readings[${index}].instrumentId`, instrumentId);
  }
  return readings;
}
