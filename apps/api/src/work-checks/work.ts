import type { EventVariable } from '#libs/validity';
import type { Examination } from '../examinations/examination.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { workOfWeld } from '../weld-checks/work-of-weld.js';
import { firstOfEach, type OpenPoint, type ReadWith } from '../work-standing/open-points.js';
import type { Work } from '../work-standing/work-standings.service.js';
import type { WORK_OPEN_ABOUT, WORK_ROLES } from './work-check.dto.js';

/** A part that somebody had in a piece of work. */
export interface PartInWork {
  readonly role: (typeof WORK_ROLES)[number];
  readonly did: string;
  readonly personId: string;
  readonly isNamed: boolean;
  /** What a qualification is held against; null where the record states no method. */
  readonly work: Work | null;
}

export type WorkOpen = OpenPoint<(typeof WORK_OPEN_ABOUT)[number]>;

/** What a record says of who did what with which instruments. */
export interface WorkDone {
  readonly parts: readonly PartInWork[];
  readonly readings: readonly ReadWith[];
  /** Open whatever people and instruments were. */
  readonly open: readonly WorkOpen[];
  readonly remarks: readonly string[];
}

/** Seeing is examined as visual testing (VT, as ISO 9712 abbreviates it). */
const SEEING = 'VT';

type Step = Pick<SpliceStep, 'stage' | 'outcome' | 'station' | 'readings' | 'examinations' | 'doneBy'>;

/**
 * A step of a splice: each examination has its examiner, by method and technique; a sighting was seen by who did it. What
 * else is done at a step has no method on record, so no qualification is held against its doer, and that is told.
 */
export function workOfStep(step: Step): WorkDone {
  const { stage, outcome, station, readings, examinations, doneBy } = step;
  const isSighting = stage === 'station-sighting';
  const seen: Work = { method: SEEING, level: null, variables: station === null ? [] : [{ name: 'station', value: station, unit: null }] };
  const doer: PartInWork = { role: 'doer', did: isSighting ? `seen at ${station ?? ''}` : stage, personId: doneBy, isNamed: true, work: isSighting ? seen : null };
  const examined = examinations.map((examination, index): PartInWork => ({
    role: 'examiner', did: `examinations[${index}], ${examination.method} by ${examination.technique}`, personId: examination.personId ?? doneBy,
    isNamed: examination.personId !== null, work: { method: examination.method, level: null, variables: examinedVariables(step, examination.technique) },
  }));
  const isEmpty = outcome === 'accepted' && !isSighting && readings.length + examinations.length === 0;
  return {
    parts: [doer, ...examined],
    readings: readings.map(({ instrumentId, measured }, index) => ({ instrumentId, name: `readings[${index}], ${measured}` })),
    open: [
      ...(isEmpty ? [{ about: 'record', words: `${stage} is accepted, and nothing examined or measured is on record of it` } as const] : []),
      ...examined.filter(({ isNamed }) => !isNamed).map(({ did }) => ({ about: 'person', words: `${did}, names no examiner; who did the step is taken to be, and was not named for it` } as const)),
    ],
    remarks: [
      ...(isSighting ? [] : [`${stage}: no method is on record for who did it, so no qualification was held against the person; examinations have their examiners, readings their instruments`]),
      ...[...(isSighting ? [doer] : []), ...examined].map(noLevel),
    ],
  };
}

function examinedVariables({ readings }: Step, technique: string): EventVariable[] {
  const measured = readings.map(({ measured: name, printed, unit }): EventVariable => ({ name, value: printed, unit }));
  return firstOfEach([{ name: 'technique', value: technique, unit: null }, ...measured]);
}

/** A seam event: its operator, by the process of the procedure. */
export function workOfSeamEvent({ event, readings, doneBy }: Pick<SeamEvent, 'event' | 'readings' | 'doneBy'>, process: string): WorkDone {
  const variables = firstOfEach(readings.map(({ variable, printed, unit }): EventVariable => ({ name: variable, value: printed, unit })));
  return {
    parts: [{ role: 'operator', did: `${event} of the seam weld, process ${process}`, personId: doneBy, isNamed: true, work: { method: process, level: null, variables } }],
    readings: readings.map(({ instrumentId, variable }, index) => ({ instrumentId, name: `readings[${index}], ${variable}` })),
    open: [],
    remarks: [],
  };
}

/** An inspection: seen, by visual testing; measured, by its instrument alone. */
export function workOfInspection(inspection: Pick<Inspection, 'kind' | 'characteristic' | 'surface' | 'instrumentId' | 'doneBy'>): WorkDone {
  const { kind, characteristic, surface, instrumentId, doneBy } = inspection;
  const isVisual = kind === 'visual';
  const stated: EventVariable[] = [{ name: 'characteristic', value: characteristic, unit: null }, ...(surface === null ? [] : [{ name: 'surface', value: surface, unit: null }])];
  const inspector: PartInWork = {
    role: 'inspector', did: `${kind}: ${characteristic}`, personId: doneBy, isNamed: true, work: isVisual ? { method: SEEING, level: null, variables: stated } : null,
  };
  return {
    parts: [inspector],
    readings: isVisual && instrumentId === null ? [] : [{ instrumentId, name: characteristic }],
    open: [],
    remarks: [isVisual ? noLevel(inspector) : `${characteristic} was measured: no method is on record that a qualification could be held against, so only the instrument was`],
  };
}

/** An examination: its examiner, by method, technique and the reflector that it had to show. */
export function workOfExamination(examination: Pick<Examination, 'method' | 'technique' | 'reflector' | 'reflectorSizeMm' | 'instrumentId' | 'doneBy'>): WorkDone {
  const { method, technique, reflector, reflectorSizeMm, instrumentId, doneBy } = examination;
  const did = `${method} by ${technique}`;
  const variables: EventVariable[] = [
    { name: 'technique', value: technique, unit: null },
    ...(reflector === null || reflectorSizeMm === null ? [] : [{ name: 'reflector', value: reflector, unit: null }, { name: 'reflector-size', value: reflectorSizeMm, unit: 'mm' }]),
  ];
  const examiner: PartInWork = { role: 'examiner', did, personId: doneBy, isNamed: true, work: { method, level: null, variables } };
  return { parts: [examiner], readings: instrumentId === null ? [] : [{ instrumentId, name: did }], open: [], remarks: [noLevel(examiner)] };
}

/** A repair: who welded it, by the process; what was ground or straightened has no method that a qualification could be held against. */
export function workOfRepair(repair: Pick<Repair, 'method' | 'readings' | 'chosen' | 'instrumentId' | 'depthRemovedMm' | 'remainingWallMm' | 'doneBy'>, procedure: { readonly process: string } | null): WorkDone {
  const { method, readings, instrumentId, depthRemovedMm, remainingWallMm, doneBy } = repair;
  const work = procedure === null ? null : workOfWeld(repair, procedure);
  const measured = depthRemovedMm === null && remainingWallMm === null ? [] : [{ instrumentId, name: 'the wall that was removed or left' }];
  return {
    parts: [{ role: 'doer', did: method, personId: doneBy, isNamed: true, work }],
    readings: [...measured, ...readings.map((one, index) => ({ instrumentId: one.instrumentId, name: `readings[${index}], ${one.variable}` }))],
    open: [],
    remarks: work === null ? [`${method}: no method is on record that a qualification could be held against, so only the instruments were`] : [],
  };
}

const noLevel = ({ did }: PartInWork): string => `${did}: no level is on record that it asks for, so a qualification of any level was taken to do`;
