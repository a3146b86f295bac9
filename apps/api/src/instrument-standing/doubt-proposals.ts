import type { DoubtfulSpan } from '#libs/validity';
import type { Instrument } from '../instruments/instrument.entity.js';
import type { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';
import type { MeasuredWith } from './measured-with.service.js';

/** The calibration by which an instrument was found out. */
export interface FoundOut {
  readonly instrument: Instrument;
  readonly span: DoubtfulSpan;
  readonly certificateNumber: string;
  /** Who entered the calibration. */
  readonly by: string;
}

/** A nonconformance names so many places at most; what is beyond is named in words. */
const MOST_EXTENTS = 50;

/**
 * Nonconformances to enter for what was measured in a span of doubt: one for each string with the footage of its inspections,
 * and one for the coils measured when they came in. They are proposals: a person reads, completes and enters them.
 */
export function proposedNonconformances({ inspections, checks }: MeasuredWith, foundOut: FoundOut): NonconformanceInput[] {
  const strings = [...new Set(inspections.map(({ stringId }) => stringId))];
  const onStrings = strings.map((stringId): NonconformanceInput => {
    const own = inspections.filter((one) => one.stringId === stringId);
    const extents = own.slice(0, MOST_EXTENTS).map(({ given }) => ({ from: given.from, to: given.to }));
    return { ...common(foundOut, own.length, own.length - extents.length), stringId, extents };
  });
  const coilIds = [...new Set(checks.map(({ coilId }) => coilId))];
  if (coilIds.length === 0) return onStrings;
  const coilExtents = coilIds.slice(0, MOST_EXTENTS).map((coilId) => ({ coilId, stripFromMm: null, stripToMm: null }));
  return [...onStrings, { ...common(foundOut, checks.length, coilIds.length - coilExtents.length), coilExtents }];
}

function common({ instrument, span, certificateNumber, by }: FoundOut, count: number, beyond: number): NonconformanceInput {
  const since = span.from === null ? 'before its first calibration' : `since ${span.from}`;
  const rest = beyond > 0 ? ` ${beyond} more places are not named here: see the list of records in doubt.` : '';
  return {
    observedAt: span.to, title: `Instrument ${instrument.number} found out of tolerance`, severity: 'major', origin: 'calibration', extentBasis: 'bracketed',
    requirement: { document: 'Calibration of instruments', revision: '-', clause: certificateNumber, limit: deviationsText(span, true) },
    found: {
      text: `${deviationsText(span, false)}. ${count} records measured ${since} and up to ${span.to} are in doubt.${rest}`,
      method: 'calibration, as found before adjustment', instrument: instrument.number, at: span.to, by,
    },
    stage: 'draft',
  };
}

/** What was found, or what was allowed, point by point. */
export function deviationsText({ deviations }: DoubtfulSpan, isLimit: boolean): string {
  const parts = deviations.map(({ when, point, deviation, min, max, unit }) =>
    (isLimit ? `${min} to ${max} ${unit} at ${point}` : `${when} ${deviation} ${unit} at ${point}, allowed ${min} to ${max}`));
  return [...new Set(parts)].join('; ').slice(0, isLimit ? 300 : 1500);
}
