import { COVERAGE_FACTOR } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';

/** A place at which the seam weld stopped: one point, the footage that stood at the weld point. */
export interface StopPlace {
  readonly name: string;
  readonly atMm: number;
  /** Expanded uncertainty (k = 2) of the footage, whole mm rounded up; null where only samples name the stop. */
  readonly plusMinusMm: number | null;
  /** When the first of the samples was taken that alone name it; null where it is recorded. */
  readonly namedAt: string | null;
  /** The records of the line stopping there; none where only samples name the stop. */
  readonly events: readonly SeamEvent[];
}

/**
 * The stops of a string, by footage: those that seam events record, and those that only samples name. A sample names a
 * recorded stop by its record, or by a footage that the doubt of the record (k = 2) takes in.
 */
export function stopPlaces(events: readonly SeamEvent[], samples: readonly TestSample[]): StopPlace[] {
  const recorded = recordedStops(events.filter(({ event }) => event === 'stop'));
  const named = samples.flatMap((sample) => (sample.stopFootageMm === null || stopOf(sample, recorded) !== null ? [] : [{ atMm: sample.stopFootageMm, takenAt: sample.observedAt }]));
  const unrecorded = [...new Set(named.map(({ atMm }) => atMm))].map((atMm): StopPlace => {
    const takenAt = named.filter((one) => one.atMm === atMm).map((one) => one.takenAt).sort((one, other) => microseconds(one) - microseconds(other));
    return { name: nameOf(atMm), atMm, plusMinusMm: null, namedAt: takenAt[0] ?? null, events: [] };
  });
  return [...recorded, ...unrecorded].sort((one, other) => one.atMm - other.atMm);
}

/** The stop that a sample names: that of its record, or else the nearest whose doubt takes its footage in, the lower of two as near; null when none does. */
export function stopOf({ seamEventId, stopFootageMm: footageMm }: Pick<TestSample, 'seamEventId' | 'stopFootageMm'>, stops: readonly StopPlace[]): StopPlace | null {
  const recorded = seamEventId === null ? undefined : stops.find(({ events }) => events.some(({ id }) => id === seamEventId));
  if (recorded !== undefined || footageMm === null) return recorded ?? null;
  const distance = ({ atMm }: StopPlace): number => Math.abs(atMm - footageMm);
  const meant = stops.filter((stop) => distance(stop) <= (stop.plusMinusMm ?? 0));
  return meant.sort((one, other) => distance(one) - distance(other) || one.atMm - other.atMm)[0] ?? null;
}

function recordedStops(stops: readonly SeamEvent[]): StopPlace[] {
  const places = new Set(stops.map(({ span }) => span.fromMm));
  return [...places].map((atMm) => {
    const events = stops.filter(({ span }) => span.fromMm === atMm);
    const plusMinusMm = Math.max(...events.map(({ fromUMm }) => Math.ceil(COVERAGE_FACTOR * Number(fromUMm))));
    return { name: nameOf(atMm), atMm, plusMinusMm, namedAt: null, events };
  });
}

const nameOf = (atMm: number): string => `at ${atMm} mm`;
