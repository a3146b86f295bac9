import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Look, Outcome, RepairEvent, Sensitivity } from '#libs/reinspection';
import type { Examination } from '../examinations/examination.entity.js';
import { examinationLabel } from '../examinations/examination-label.js';
import { inspectionLabel } from '../inspections/inspection-label.js';
import type { SeenInspection } from '../inspections/seen-inspection.js';
import { isAtJoint } from '../rejoins/joint.js';
import type { Repair } from '../repairs/repair.entity.js';
import { repairLabel } from '../repairs/repair-label.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { stepLabel } from '../splice-steps/splice-step-label.js';
import type { Weld } from '../welds/weld.entity.js';
import { weldLabel } from '../welds/weld-label.js';
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

/** A weld of a splice or re-join. */
export interface RecordedWeld extends RecordedChange {
  readonly observedAt: string;
}

export interface RecordedRepair extends RecordedChange {
  readonly row: Repair;
}

/** Where each re-join is, by its id. */
export type Joints = ReadonlyMap<string, IntervalSet>;

/** The place given, and the whole joint of what is of a re-join and lies at it: who names a re-join and was elsewhere saw nothing of it. */
function placeOf({ span, rejoinId }: Pick<Repair, 'span' | 'rejoinId'>, joints: Joints): IntervalSet {
  const joint = joints.get(rejoinId ?? '') ?? IntervalSet.empty;
  return isAtJoint(span, joint) ? joint.union(span) : IntervalSet.of(span);
}

export const repairOf = (row: Repair, joints: Joints): RecordedRepair =>
  ({ row, record: linkTo('repair', row, repairLabel(row)), on: placeOf(row, joints), atUs: microseconds(row.observedAt) });

/** What a weld changed: all of its splice, or of its joint. What was seen before it says nothing of it. */
export const weldOf = (row: Weld, on: IntervalSet): RecordedWeld =>
  ({ record: linkTo('weld', row, weldLabel(row)), on, observedAt: row.observedAt, atUs: microseconds(row.observedAt) });

export function examinationLook(row: Examination, joints: Joints): RecordedLook {
  const { method, technique, outcome, observedAt, doneBy } = row;
  return {
    record: linkTo('examination', row, examinationLabel(row)), on: placeOf(row, joints), atUs: microseconds(observedAt), observedAt, doneBy,
    method, standsInFor: row.standsInFor, standIn: row.standInReason, technique: technique.trim(), sensitivity: sensitivityOf(row), outcome, seesFlaws: true,
  };
}

const sensitivityOf = ({ reflector, reflectorSizeMm }: Examination): Sensitivity | null =>
  (reflector === null || reflectorSizeMm === null ? null : { reflector, sizeMm: reflectorSizeMm });

const OUTCOMES: Readonly<Record<SeenInspection['verdict'], Outcome>> = { accepted: 'accepted', rejected: 'rejected', 'for-evaluation': 'held' };

/** An inspection is repeated by one of its kind and characteristic; it has no sensitivity to compare. */
export function inspectionLook(row: SeenInspection): RecordedLook {
  const { kind, characteristic, verdict, observedAt, doneBy, span } = row;
  return {
    record: linkTo('inspection', row, inspectionLabel(row)), on: IntervalSet.of(span), atUs: microseconds(observedAt), observedAt, doneBy,
    method: `${kind}: ${characteristic.trim().toLowerCase()}`, standsInFor: [], standIn: null, technique: null, sensitivity: null, outcome: OUTCOMES[verdict], seesFlaws: kind === 'visual',
  };
}

/** The examinations of a step of a splice, over the pipe of the splice. Those of its preparation are of the ends, before there was a weld. */
export function stepLooks(step: SpliceStep, span: Interval): RecordedLook[] {
  if (step.stage === 'preparation') return [];
  return step.examinations.map(({ method, technique, outcome, personId }): RecordedLook => ({
    record: linkTo('splice-step', step, stepLabel(step)), on: IntervalSet.of(span), atUs: microseconds(step.observedAt), observedAt: step.observedAt,
    doneBy: personId ?? step.doneBy, method, standsInFor: [], standIn: null, technique: technique.trim(), sensitivity: null, outcome, seesFlaws: true,
  }));
}

/** Records of looks at the pipe of a string, those at other pipe too. */
export interface LookRows {
  readonly examinations: readonly Examination[];
  /** By footage. */
  readonly inspections: readonly SeenInspection[];
  /** By footage. */
  readonly splices: readonly Pick<SpliceVersion, 'id' | 'span'>[];
  /** In the order in which they were done. */
  readonly steps: readonly SpliceStep[];
}

/** The looks at some pipe: examinations by when they were made, then inspections and steps of splices by footage. */
export function looksAmong({ examinations, inspections, splices, steps }: LookRows, pipe: IntervalSet, joints: Joints): RecordedLook[] {
  const isThere = ({ span }: { readonly span: Interval }): boolean => pipe.overlaps(span);
  const isAtJointThere = ({ rejoinId }: Examination): boolean => joints.get(rejoinId ?? '')?.overlaps(pipe) === true;
  return [
    ...examinations.filter((row) => isThere(row) || isAtJointThere(row)).sort(inTime).map((row) => examinationLook(row, joints)),
    ...inspections.filter(isThere).map(inspectionLook),
    ...splices.filter(isThere).flatMap(({ id, span }) => steps.filter(({ spliceId }) => spliceId === id).flatMap((step) => stepLooks(step, span))),
  ];
}

const inTime = (one: Examination, other: Examination): number => microseconds(one.observedAt) - microseconds(other.observedAt) || (one.id < other.id ? -1 : 1);
