import type { UncertainSegment } from '#libs/length';
import type { DoubtfulSpan } from '#libs/validity';
import type { Instrument } from '../instruments/instrument.entity.js';
import type { MeasuredRecord } from '../measured-work/measured-record.js';
import type { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';

/** The calibration by which an instrument was found out. */
export interface FoundOut {
  readonly instrument: Instrument;
  readonly span: DoubtfulSpan;
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

/** A place as it was given, so that it follows a correction of its counter; else its footage. */
function extentsOf({ measured: { place }, pipe }: PlacedMeasurement): Extent[] {
  if (place.on === 'pipe') return [{ from: place.given.from, to: place.given.to }];
  return pipe.map(({ fromMm, toMm }) => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } }));
}

/** What was measured twice at one place is one place. */
const distinct = (extents: readonly Extent[]): Extent[] => [...new Map(extents.map((extent) => [JSON.stringify(extent), extent])).values()];

function parts<T>(all: readonly T[]): T[][] {
  return Array.from({ length: Math.ceil(all.length / MOST_EXTENTS) }, (_, index) => all.slice(index * MOST_EXTENTS, (index + 1) * MOST_EXTENTS));
}

const partOf = (index: number, count: number): string => (count === 1 ? '' : ` Part ${index + 1} of ${count}.`);

function common({ instrument, span, certificateNumber, by }: FoundOut, count: number, part: string): NonconformanceInput {
  const since = span.from === null ? 'before its first calibration' : `since ${span.from}`;
  return {
    observedAt: span.to, title: `Instrument ${instrument.number} found out of tolerance`, severity: 'major', origin: 'calibration', extentBasis: 'bracketed',
    requirement: { document: 'Calibration of instruments', revision: '-', clause: certificateNumber, limit: deviationsText(span, true) },
    found: {
      text: `${deviationsText(span, false)}. ${count} records measured ${since} and up to ${span.to} are in doubt.${part}`,
      method: 'calibration, as found before adjustment', instrument: instrument.number, at: span.to, by,
    },
    stage: 'draft',
  };
}

/** What was found, or what was allowed, point by point. */
export function deviationsText({ deviations }: DoubtfulSpan, isLimit: boolean): string {
  const texts = deviations.map(({ when, point, deviation, min, max, unit }) =>
    (isLimit ? `${min} to ${max} ${unit} at ${point}` : `${when} ${deviation} ${unit} at ${point}, allowed ${min} to ${max}`));
  return [...new Set(texts)].join('; ').slice(0, isLimit ? 300 : 1500);
}
