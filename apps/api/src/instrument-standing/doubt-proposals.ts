import type { UncertainSegment } from '#libs/length';
import type { FoundDeviation, TimeSpan } from '#libs/validity';
import type { Instrument } from '../instruments/instrument.entity.js';
import type { MeasuredRecord } from '../measured-work/measured-record.js';
import type { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';

/** A time in which nobody can be sure of an instrument, and the calibration that shows it. */
export interface DoubtOverInstrument extends TimeSpan {
  readonly calibrationId: string;
  /** When that was: at the end of the span where it found the instrument out, at its beginning where it left it out. */
  readonly at: string;
  readonly deviations: readonly FoundDeviation[];
}

/** The calibration by which an instrument was found out, or left out of tolerance. */
export interface FoundOut {
  readonly instrument: Instrument;
  readonly doubt: DoubtOverInstrument;
  readonly certificateNumber: string;
  /** Who entered the calibration. */
  readonly by: string;
}

/** A record in doubt with the pipe that it lies on. */
export interface PlacedMeasurement {
  readonly measured: MeasuredRecord;
  readonly pipe: readonly UncertainSegment[];
}

type Extent = NonNullable<NonconformanceInput['extents']>[number];

/** A nonconformance names so many places at most; more make further ones. */
const MOST_EXTENTS = 50;

/**
 * Nonconformances to enter for what was measured in a span of doubt: for each string with the footage, and for the coils
 * measured when they came in. They are proposals: a person reads, completes and enters them.
 */
export function proposedNonconformances(placed: readonly PlacedMeasurement[], foundOut: FoundOut): NonconformanceInput[] {
  const stringIds = new Set(placed.flatMap(({ measured: { place } }) => (place.on === 'coil' ? [] : [place.stringId])));
  const onStrings = [...stringIds].flatMap((stringId): NonconformanceInput[] => {
    const own = placed.filter(({ measured: { place } }) => place.on !== 'coil' && place.stringId === stringId);
    return parts(distinct(own.flatMap(extentsOf))).map((extents, index, all) => ({ ...common(foundOut, own.length, partOf(index, all.length)), stringId, extents }));
  });
  const onCoils = placed.flatMap(({ measured: { place } }) => (place.on === 'coil' ? [place.coilId] : []));
  const ofCoils = parts([...new Set(onCoils)]).map((coilIds, index, all): NonconformanceInput => ({
    ...common(foundOut, onCoils.length, partOf(index, all.length)), coilExtents: coilIds.map((coilId) => ({ coilId, stripFromMm: null, stripToMm: null })),
  }));
  return [...onStrings, ...ofCoils];
}

/** The footage as it is derived by now: what a counter showed would be taken for its reading at the time of the nonconformance. */
const extentsOf = ({ pipe }: PlacedMeasurement): Extent[] => pipe.map(({ fromMm, toMm }) => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } }));

/** What was measured twice at one place is one place. */
const distinct = (extents: readonly Extent[]): Extent[] => [...new Map(extents.map((extent) => [JSON.stringify(extent), extent])).values()];

function parts<T>(all: readonly T[]): T[][] {
  return Array.from({ length: Math.ceil(all.length / MOST_EXTENTS) }, (_, index) => all.slice(index * MOST_EXTENTS, (index + 1) * MOST_EXTENTS));
}

const partOf = (index: number, count: number): string => (count === 1 ? '' : ` Part ${index + 1} of ${count}.`);

function common({ instrument, doubt, certificateNumber, by }: FoundOut, count: number, part: string): NonconformanceInput {
  const since = doubt.from === null ? 'before its first calibration' : `since ${doubt.from}`;
  const until = doubt.to === null ? '' : ` and up to ${doubt.to}`;
  return {
    observedAt: doubt.at, title: `Instrument ${instrument.number} found out of tolerance`, severity: 'major', origin: 'calibration', extentBasis: 'bracketed',
    requirement: { document: 'Calibration of instruments', revision: '-', clause: certificateNumber, limit: deviationsText(doubt, true) },
    found: {
      text: `${deviationsText(doubt, false)}. ${count} records measured ${since}${until} are in doubt.${part}`,
      method: 'calibration', instrument: instrument.number, at: doubt.at, by,
    },
    stage: 'draft',
  };
}

/** What was found, or what was allowed, point by point. */
export function deviationsText({ deviations }: Pick<DoubtOverInstrument, 'deviations'>, isLimit: boolean): string {
  const texts = deviations.map(({ when, point, deviation, min, max, unit }) =>
    (isLimit ? `${min} to ${max} ${unit} at ${point}` : `${when} ${deviation} ${unit} at ${point}, allowed ${min} to ${max}`));
  return [...new Set(texts)].join('; ').slice(0, isLimit ? 300 : 1500);
}
