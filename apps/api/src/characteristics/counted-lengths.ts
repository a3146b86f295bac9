import { interval, type Interval } from '#libs/intervals';
import { Exclusions, lengthsOf, type CountedLength } from '#libs/subgroups';
import type { RecordLink } from '../trace/trace.dto.js';
import type { CharacteristicReading, CharacteristicReadings, LeftOutReading } from './characteristic-source.js';
import { coilAt, STILL_TO_BE_MADE, type ChartGround } from './chart-ground.js';

/** Something that is counted where it begins. */
export interface CountedEvent {
  readonly span: Interval;
  readonly record: RecordLink;
}

/** What a length comes to by the events that begin on it; in words why to nothing. */
type Count<E> = (length: CountedLength, events: readonly E[]) => { readonly count: number; readonly of: number } | string;

/**
 * Counts over lengths of the ground. Events that begin on pipe that is left out count nowhere, and are told. On pipe that is still to
 * be made nothing was found: none would be a count of nothing.
 * @param events in rising order of their beginnings
 */
export function countedOn<E extends CountedEvent>(ground: ChartGround, windowMm: number | null, events: readonly E[], countOf: Count<E>): CharacteristicReadings {
  const { made, toCome } = partedAt(ground, events);
  const { lengths, leftOut } = made === null ? { lengths: [], leftOut: [] } : lengthsOf(made, ground.boundaries, ground.exclusions, windowMm ?? 0);
  const [readings, without]: [CharacteristicReading[], LeftOutReading[]] = [[], leftOut.map(({ place, because }) => ({ place, because, records: [] }))];
  for (const length of lengths) {
    const own = events.filter(({ span }) => length.pipe.contains(span.fromMm));
    const counted = countOf(length, own);
    const records = own.map(({ record }) => record);
    if (typeof counted === 'string') without.push({ place: length.place, because: counted, records });
    else readings.push({ place: length.place, values: [counted.count], of: counted.of, observedAt: null, records, label: '', coil: coilAt(ground, length.place) });
  }
  return { readings, leftOut: [...without, ...toCome, ...excludedEvents(ground, events)] };
}

/** Pipe that was made as far as the counter says, or something was found on it; and what is to come. */
function partedAt({ interval: asked, madeMm }: Pick<ChartGround, 'interval' | 'madeMm'>, events: readonly CountedEvent[]): { readonly made: Interval | null; readonly toCome: readonly LeftOutReading[] } {
  const endMm = events.reduce((most, { span }) => (span.fromMm < asked.toMm ? Math.max(most, span.fromMm + 1) : most), madeMm);
  if (endMm >= asked.toMm) return { made: asked, toCome: [] };
  const fromMm = Math.max(asked.fromMm, endMm);
  return { made: fromMm === asked.fromMm ? null : interval(asked.fromMm, fromMm), toCome: [{ place: interval(fromMm, asked.toMm), because: STILL_TO_BE_MADE, records: [] }] };
}

/** Events that begin on pipe that is left out, each with the reason. */
export function excludedEvents({ interval: asked, exclusions }: Pick<ChartGround, 'interval' | 'exclusions'>, events: readonly CountedEvent[]): LeftOutReading[] {
  const excluded = new Exclusions(exclusions);
  return events.flatMap(({ span, record }) => {
    const because = excluded.reasonAt({ fromMm: span.fromMm, toMm: span.fromMm + 1 });
    return because === null || span.fromMm < asked.fromMm || span.fromMm >= asked.toMm ? [] : [{ place: span, because, records: [record] }];
  });
}

/** How many began on so much pipe, in m, or in lengths of so many m each. */
export const perLength = (lengthM = 1): Count<CountedEvent> => ({ pipe }, events) => ({ count: events.length, of: pipe.totalLengthMm / 1000 / lengthM });
