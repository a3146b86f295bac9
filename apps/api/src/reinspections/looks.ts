import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Look, Outcome, RepairEvent, Sensitivity } from '#libs/reinspection';
import type { Examination } from '../examinations/examination.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { Weld } from '../welds/weld.entity.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';

/** A look with the record it was taken from. */
export interface RecordedLook extends Look {
  readonly record: RecordLink;
  readonly observedAt: string;
  readonly doneBy: string;
  /** Why it stands in for other methods, as its record says; null where it does not. */
  readonly standIn: string | null;
}

/** Pipe that was changed, with the record that says so: a repair, or a weld of a splice or re-join. */
export interface RecordedChange extends RepairEvent {
  readonly record: RecordLink;
}

export interface RecordedRepair extends RecordedChange {
  readonly row: Repair;
}

/** Where each re-join is, by its id. */
export type Joints = ReadonlyMap<string, IntervalSet>;

/**
 * The pipe of a re-join: what was cut out and a millimetre to both sides. The weld closes the pipe at one place, whichever of
 * its two footages is given for it; once what was cut out is left away, the two ends remain.
 */
export const jointOf = ({ fromMm, toMm }: Interval): IntervalSet => IntervalSet.of(interval(Math.max(0, fromMm - 1), toMm + 1));

/** The place given, and the whole joint of what is of a re-join. */
const placeOf = ({ span, rejoinId }: Pick<Repair, 'span' | 'rejoinId'>, joints: Joints): IntervalSet =>
  IntervalSet.of(span).union(joints.get(rejoinId ?? '') ?? IntervalSet.empty);

export const repairOf = (row: Repair, joints: Joints): RecordedRepair =>
  ({ row, record: linkTo('repair', row, `${row.method} at ${row.span.fromMm} mm`), on: placeOf(row, joints), atUs: microseconds(row.observedAt) });

/** What a weld changed: all of its splice, or of its joint. What was seen before it says nothing of it. */
export const weldOf = (row: Weld, on: IntervalSet): RecordedChange => ({ record: linkTo('weld', row, `of ${row.observedAt}`), on, atUs: microseconds(row.observedAt) });

export function examinationLook(row: Examination, joints: Joints): RecordedLook {
  const { method, technique, outcome, observedAt, doneBy } = row;
  return {
    record: linkTo('examination', row, `${method}, ${technique}`), on: placeOf(row, joints), atUs: microseconds(observedAt), observedAt, doneBy,
    method, standsInFor: row.standsInFor, standIn: row.standInReason, technique: technique.trim(), sensitivity: sensitivityOf(row), outcome, seesFlaws: true,
  };
}

const sensitivityOf = ({ reflector, reflectorSizeMm }: Examination): Sensitivity | null =>
  (reflector === null || reflectorSizeMm === null ? null : { reflector, sizeMm: reflectorSizeMm });

const OUTCOMES: Readonly<Record<Inspection['verdict'], Outcome>> = { accepted: 'accepted', rejected: 'rejected', 'for-evaluation': 'held' };

/** An inspection is repeated by one of its kind and characteristic; it has no sensitivity to compare. */
export function inspectionLook(row: Inspection): RecordedLook {
  const { kind, characteristic, verdict, observedAt, doneBy, span } = row;
  return {
    record: linkTo('inspection', row, `${kind}: ${characteristic}`), on: IntervalSet.of(span), atUs: microseconds(observedAt), observedAt, doneBy,
    method: `${kind}: ${characteristic.trim().toLowerCase()}`, standsInFor: [], standIn: null, technique: null, sensitivity: null, outcome: OUTCOMES[verdict], seesFlaws: kind === 'visual',
  };
}

/** The examinations of a step of a splice, over the pipe of the splice. Those of its preparation are of the ends, before there was a weld. */
export function stepLooks(step: SpliceStep, span: Interval): RecordedLook[] {
  if (step.stage === 'preparation') return [];
  return step.examinations.map(({ method, technique, outcome, personId }): RecordedLook => ({
    record: linkTo('splice-step', step, `${step.stage}: ${step.outcome}`), on: IntervalSet.of(span), atUs: microseconds(step.observedAt), observedAt: step.observedAt,
    doneBy: personId ?? step.doneBy, method, standsInFor: [], standIn: null, technique: technique.trim(), sensitivity: null, outcome, seesFlaws: true,
  }));
}
