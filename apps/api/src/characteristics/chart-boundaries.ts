import type { CutOutVersion } from '../line/cut-out.entity.js';
import { CUT_OUTS, INSPECTION_RUNS, LINE_SETUPS, linkOf, REFERENCE_CHECKS, REJOINS, SEAM_EVENTS, SEGMENTS, SPLICES } from '../recall/record-kinds.js';
import type { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import type { LineSetup } from '../line/line-setup.entity.js';
import type { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { BoundaryKind, ChartBoundary } from './chart-ground.js';

/** Something that happened to the line, and the footage from which on pipe is another for it. */
export interface PlacedChange<R> {
  readonly row: R;
  readonly atMm: number;
}

/** The records of a string that a row of points can break at. */
export interface BreakingRecords {
  readonly segments: readonly CoilSegmentVersion[];
  readonly splices: readonly SpliceVersion[];
  readonly coilNumbers: ReadonlyMap<string, string>;
  readonly cutOuts: readonly CutOutVersion[];
  readonly rejoins: readonly Rejoin[];
  readonly events: readonly SeamEvent[];
  readonly setups: readonly PlacedChange<LineSetup>[];
  readonly checks: readonly ReferenceCheck[];
  readonly runs: readonly PlacedChange<InspectionRun>[];
}

/** Where a row breaks, of some kinds, in rising order. What begins the string is no boundary. */
export function boundariesOf(records: BreakingRecords, kinds: readonly BoundaryKind[]): ChartBoundary[] {
  const all = [...ofJoints(records), ...ofEvents(records), ...ofChannels(records)];
  return all.filter(({ kind, atMm }) => kinds.includes(kind) && atMm > 0).sort((one, other) => one.atMm - other.atMm);
}

/** A coil that begins at a splice is told by the splice alone. */
function ofJoints({ segments, splices, coilNumbers, cutOuts, rejoins }: BreakingRecords): ChartBoundary[] {
  const isAtSplice = (mm: number): boolean => splices.some(({ span }) => span.fromMm <= mm && mm <= span.toMm);
  const coils = segments.filter(({ span }) => !isAtSplice(span.fromMm)).map((row) => boundary('coil', row.span.fromMm, `coil ${coilNumbers.get(row.coilId) ?? ''}`, linkOf(SEGMENTS, row)));
  const cuts = cutOuts.flatMap((row) => {
    const rejoin = rejoins.find(({ cutOutId }) => cutOutId === row.id);
    const end = rejoin === undefined ? boundary('cut-out', row.span.toMm, 'a cut-out', linkOf(CUT_OUTS, row)) : boundary('re-join', row.span.toMm, 'a re-join', linkOf(REJOINS, rejoin));
    return [boundary('cut-out', row.span.fromMm, 'a cut-out', linkOf(CUT_OUTS, row)), end];
  });
  return [...coils, ...splices.map((row) => boundary('splice', row.span.fromMm, `splice ${row.number}`, linkOf(SPLICES, row))), ...cuts];
}

function ofEvents({ events, setups }: BreakingRecords): ChartBoundary[] {
  const ofSeam = events.map((row) => boundary(row.event === 'set-up-change' ? 'set-up change' : 'stop', row.span.fromMm, SEAM_EVENTS.label(row), linkOf(SEAM_EVENTS, row)));
  return [...ofSeam, ...setups.map(({ row, atMm }) => boundary('set-up change', atMm, `line set-up ${LINE_SETUPS.label(row)}`, linkOf(LINE_SETUPS, row)))];
}

function ofChannels({ checks, runs }: BreakingRecords): ChartBoundary[] {
  const ofChecks = checks.map((row) => boundary('check', row.span.fromMm, `check ${REFERENCE_CHECKS.label(row)}`, linkOf(REFERENCE_CHECKS, row)));
  return [...ofChecks, ...runs.map(({ row, atMm }) => boundary('inspection run', atMm, `inspection run ${INSPECTION_RUNS.label(row)}`, linkOf(INSPECTION_RUNS, row)))];
}

const boundary = (kind: BoundaryKind, atMm: number, label: string, record: ChartBoundary['record']): ChartBoundary => ({ kind, atMm, label, record });
