import type { RecordLink } from '../trace/trace.dto.js';
import type { CharacteristicReading } from './characteristic-source.js';
import type { ChartGround } from './chart-ground.js';

export const link = (id: string, kind = 'inspection'): RecordLink => ({ kind, id, version: 1, label: id.toUpperCase() });

/** A reading of a millimetre at a footage, but for what a test changes; null for no pipe. */
export const readingAt = (fromMm: number | null, value: number, changes: Partial<CharacteristicReading> = {}): CharacteristicReading => ({
  place: fromMm === null ? null : { fromMm, toMm: fromMm + 1 }, values: [value], of: null, observedAt: null, records: [link(`r${fromMm ?? ''}`)], label: '', coil: null, ...changes,
});

/** Pipe of 100 m with nothing that breaks a row, but for what a test changes. Its length model is none: pure parts ask it nothing. */
export const groundOf = (changes: Partial<Omit<ChartGround, 'model'>> = {}): Omit<ChartGround, 'model'> => ({
  stringId: 's', asKnownAt: null, interval: { fromMm: 0, toMm: 100_000 }, madeMm: 100_000, segments: [], splices: [], coilNumbers: new Map(), boundaries: [], exclusions: [], ...changes,
});

export const boundaryAt = (atMm: number, label = `splice at ${atMm}`): ChartGround['boundaries'][number] => ({ atMm, kind: 'splice', label, record: link(label, 'splice') });
