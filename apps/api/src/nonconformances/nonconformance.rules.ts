import { normalInstant } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { CoilExtentInput, ContainmentInput, DispositionInput, FoundInput } from './nonconformance-parts.dto.js';
import type { NonconformanceInput } from './nonconformance.dto.js';
import { CONCESSION, type CoilExtent, type Containment, type Disposition, type Found, type Nonconformance } from './nonconformance.entity.js';

type Said = Pick<
  NonconformanceInput, 'stringId' | 'extents' | 'coilExtents' | 'found' | 'stage' | 'disposition'
>;

/**
 * Refuses with 422 a nonconformance that concerns nothing, pipe of no string or no strip at all, that says half of
 * what was found, that the finder approved, or that is closed without a disposition.
 */
export function refuseIncomplete(said: Said): void {
  refuseNoExtent(said);
  said.coilExtents?.forEach(refuseEmptyStrip);
  refuseHalfFound(said.found);
  if (said.stage === 'closed' && said.disposition == null) {
    throw refusedField('no-disposition', 'disposition', null, 'what was decided, before it is closed');
  }
  if (said.disposition?.approvedBy === said.found.by) {
    throw refusedField('own-approval', 'disposition.approvedBy', said.found.by, 'another person than the one who found it');
  }
}

function refuseNoExtent({ stringId, extents: given, coilExtents: strip }: Said): void {
  const [extents, coilExtents] = [given ?? [], strip ?? []];
  if (extents.length === 0 && coilExtents.length === 0) {
    throw refusedField('no-extent', 'extents', extents, 'at least one extent of pipe or of a coil');
  }
  if (extents.length > 0 && stringId == null) {
    throw refusedField('no-string', 'stringId', null, 'the id of the casing string that the extents are on');
  }
}

function refuseEmptyStrip({ stripFromMm, stripToMm }: CoilExtentInput, index: number): void {
  if (stripToMm == null || stripToMm > (stripFromMm ?? 0)) return;
  const limit = `a strip position above ${stripFromMm ?? 0} mm: the interval is half-open`;
  throw refusedField('empty-interval', `coilExtents[${index}].stripToMm`, stripToMm, limit);
}

function refuseHalfFound({ value, text, unit, uncertainty }: FoundInput): void {
  if (value == null && text == null) {
    throw refusedField('half-said', 'found.value', null, 'a value, or text that says what was found');
  }
  if ((value == null) !== (unit == null)) {
    throw refusedField('half-said', 'found.unit', unit ?? null, 'the unit of the value');
  }
  if (value == null && uncertainty != null) {
    throw refusedField('half-said', 'found.uncertainty', uncertainty, 'an uncertainty only beside a value');
  }
}

/** True where it was decided to use what does not conform as it is, under concession. */
export const isConceded = ({ disposition }: Pick<Nonconformance, 'disposition'>): boolean => disposition?.kind === CONCESSION;

export function coilExtentOf({ coilId, stripFromMm, stripToMm }: CoilExtentInput): CoilExtent {
  return { coilId, stripFromMm: stripFromMm ?? null, stripToMm: stripToMm ?? null };
}

export function foundOf({ value, text, unit, uncertainty, method, instrument, at, by }: FoundInput): Found {
  return {
    value: value ?? null,
    text: text ?? null,
    unit: unit ?? null,
    uncertainty: uncertainty ?? null,
    method,
    instrument,
    at: normalInstant(at),
    by,
  };
}

export function containmentOf({ action, footageMm, at, by }: ContainmentInput): Containment {
  return { action, footageMm: footageMm ?? null, at: normalInstant(at), by };
}

export function dispositionOf({ kind, text, approvedBy, approvedAt }: DispositionInput): Disposition {
  return { kind, text, approvedBy, approvedAt: normalInstant(approvedAt) };
}
