import { Injectable } from '@nestjs/common';
import { procedureChecker, type ProcedureLine } from '#libs/welding';
import type { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import { ChartReactionsService } from '../chart-reactions/chart-reactions.service.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import type { Examination } from '../examinations/examination.entity.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import type { IndicationEvaluation } from '../indication-evaluations/indication-evaluation.entity.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import type { Indication } from '../indications/indication.entity.js';
import { IndicationsService } from '../indications/indications.service.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import { CHART_REACTIONS, CHECKS, EXAMINATIONS, INDICATION_EVALUATIONS, INSPECTIONS, linkOf, REFERENCE_CHECKS, REPAIRS, SEAM_EVENTS, SPLICE_STEPS, WELDS } from '../recall/record-kinds.js';
import type { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { ReferenceChecksService } from '../reference-checks/reference-checks.service.js';
import type { Repair } from '../repairs/repair.entity.js';
import { RepairsService } from '../repairs/repairs.service.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import type { Weld } from '../welds/weld.entity.js';
import { actualWeld } from '../welds/weld.rules.js';
import { WeldsService } from '../welds/welds.service.js';
import type { MarginedReading, MeasuredRecord, WorkPlace } from './measured-record.js';
import { checkReadings, evaluationReadings, inspectionReadings, repairReadings, repeatedReadings, stepReadings, weldReadings } from './readings.js';

/** What was measured with instruments, on pipe, welds and strip. */
@Injectable()
export class MeasuredWork {
  constructor(
    private readonly instruments: InstrumentsService,
    private readonly inspections: InspectionsService,
    private readonly checks: IncomingChecksService,
    private readonly welds: WeldsService,
    private readonly steps: SpliceStepsService,
    private readonly seamEvents: SeamEventsService,
    private readonly repairs: RepairsService,
    private readonly examinations: ExaminationsService,
    private readonly referenceChecks: ReferenceChecksService,
    private readonly evaluations: IndicationEvaluationsService,
    private readonly indications: IndicationsService,
    private readonly procedures: WeldProceduresService,
    private readonly reactions: ChartReactionsService,
    private readonly charts: ControlChartsService,
  ) {}

  /** The records with a reading of any of some instruments, known at `asKnownAt`, by when they were taken. */
  async with(instrumentIds: readonly string[], asKnownAt: string | null): Promise<MeasuredRecord[]> {
    const [inspections, checks, numbered, welds, steps, seamEvents, repairs, examinations, referenceChecks, evaluations, reactions] = await Promise.all([
      this.inspections.withInstruments(instrumentIds, asKnownAt), this.checks.withInstruments(instrumentIds, asKnownAt), this.numbered(instrumentIds, asKnownAt),
      this.welds.withInstruments(instrumentIds, asKnownAt), this.steps.withInstruments(instrumentIds, asKnownAt), this.seamEvents.withInstruments(instrumentIds, asKnownAt),
      this.repairs.withInstruments(instrumentIds, asKnownAt), this.examinations.withInstruments(instrumentIds, asKnownAt),
      this.referenceChecks.withInstruments(instrumentIds, asKnownAt), this.evaluated(instrumentIds, asKnownAt), this.reacted(instrumentIds, asKnownAt),
    ]);
    return [
      ...inspections.map(ofInspection), ...checks.map((check) => ofCheck(check, named([check]), true)), ...numbered, ...welds.map(ofWeld), ...steps.map(ofStep),
      ...seamEvents.map(ofSeamEvent), ...repairs.map(ofRepair), ...examinations.map(ofExamination), ...referenceChecks.map(ofReferenceCheck), ...evaluations, ...reactions,
    ].sort((one, other) => (one.at < other.at ? -1 : Number(one.at > other.at)));
  }

  /** The readings that some records have of an instrument, with their margins by what was known at `asKnownAt`; by the records' ids. */
  async readings(records: readonly MeasuredRecord[], instrumentId: string, asKnownAt: string | null): Promise<ReadonlyMap<string, readonly MarginedReading[]>> {
    const procedureIds = records.flatMap(({ source }) => (source.limits === 'procedure' ? [source.weldProcedureId] : []));
    const checks = records.flatMap(({ source }) => (source.limits === 'order' ? [source.check] : []));
    const [procedures, margins] = await Promise.all([this.procedures.rowsByIds(procedureIds, asKnownAt), this.checks.marginsOf(checks, asKnownAt)]);
    const judges = new Map([...procedures.values()].map((row) => [row.id, weldJudge(row)]));
    return new Map(records.map(({ record, source }) => {
      if (source.limits === 'own') return [record.id, source.readingsWith(instrumentId)];
      if (source.limits === 'order') return [record.id, checkReadings(source.check, margins.get(source.check.id) ?? [])];
      const lines = judges.get(source.weldProcedureId)?.(source.weld) ?? [];
      return [record.id, [...source.readingsBeside(instrumentId), ...weldReadings(source.weld.readings, lines, instrumentId)]];
    }));
  }

  /** Evaluations lie where their indications do. */
  private async evaluated(instrumentIds: readonly string[], asKnownAt: string | null): Promise<MeasuredRecord[]> {
    const rows = await this.evaluations.withInstruments(instrumentIds, asKnownAt);
    const indications = await this.indications.rowsByIds(rows.map(({ indicationId }) => indicationId), asKnownAt);
    return rows.flatMap((row) => {
      const indication = indications.get(row.indicationId);
      return indication === undefined ? [] : [ofEvaluation(row, indication)];
    });
  }

  /** Readings of charts that were taken again lie where their signals do. */
  private async reacted(instrumentIds: readonly string[], asKnownAt: string | null): Promise<MeasuredRecord[]> {
    const rows = await this.reactions.withInstruments(instrumentIds, asKnownAt);
    const charts = await this.charts.rowsByIds(rows.map(({ chartId }) => chartId), asKnownAt);
    return rows.flatMap((row) => {
      const chart = charts.get(row.chartId);
      return chart === undefined ? [] : [ofReaction(row, chart)];
    });
  }

  /** Checks that name no instrument on record, but write the number of one of these. */
  private async numbered(instrumentIds: readonly string[], asKnownAt: string | null): Promise<MeasuredRecord[]> {
    const instruments = [...(await this.instruments.rowsByIds(instrumentIds, asKnownAt)).values()];
    const checks = await this.checks.withNumbers(instruments.map(({ number }) => number), asKnownAt);
    return checks.map((check) => {
      const meant = instruments.filter(({ number }) => number.toUpperCase() === check.instrument.toUpperCase());
      return ofCheck(check, meant.map(({ id }) => id), false);
    });
  }
}

/** Holds welds against a procedure. */
function weldJudge(row: WeldProcedureVersion): (weld: Pick<Weld, 'readings' | 'chosen'>) => readonly ProcedureLine[] {
  const procedure = weldProcedureOf(row);
  const check = procedureChecker(procedure);
  return (weld) => check(actualWeld(weld, procedure)).lines;
}

const nothing = (): readonly MarginedReading[] => [];

function ofInspection(row: Inspection): MeasuredRecord {
  return {
    record: linkOf(INSPECTIONS, row), at: row.observedAt, instrumentIds: named([row]), isNamedById: true, place: placeOnPipe(row),
    source: { limits: 'own', readingsWith: () => inspectionReadings(row) },
  };
}

function ofCheck(check: IncomingCheck, instrumentIds: readonly string[], isNamedById: boolean): MeasuredRecord {
  return {
    record: linkOf(CHECKS, check), at: check.observedAt, instrumentIds, isNamedById,
    place: { on: 'coil', coilId: check.coilId }, source: { limits: 'order', check },
  };
}

function ofWeld(row: Weld): MeasuredRecord {
  return {
    record: linkOf(WELDS, row), at: row.observedAt, instrumentIds: named(row.readings), isNamedById: true, place: placeOfWeld(row),
    source: { limits: 'procedure', weldProcedureId: row.weldProcedureId, weld: row, readingsBeside: nothing },
  };
}

function ofStep(row: SpliceStep): MeasuredRecord {
  const { stringId, spliceId } = row;
  return {
    record: linkOf(SPLICE_STEPS, row), at: row.observedAt, instrumentIds: named(row.readings), isNamedById: true,
    place: { on: 'splice', stringId, spliceId }, source: { limits: 'own', readingsWith: (instrumentId) => stepReadings(row.readings, instrumentId) },
  };
}

function ofSeamEvent(row: SeamEvent): MeasuredRecord {
  return {
    record: linkOf(SEAM_EVENTS, row), at: row.observedAt, instrumentIds: named(row.readings), isNamedById: true, place: placeOnPipe(row),
    source: { limits: 'procedure', weldProcedureId: row.weldProcedureId, weld: { readings: row.readings, chosen: [] }, readingsBeside: nothing },
  };
}

function ofRepair(row: Repair): MeasuredRecord {
  const { weldProcedureId } = row;
  const ofWall = (instrumentId: string): MarginedReading[] => repairReadings(row, instrumentId);
  return {
    record: linkOf(REPAIRS, row), at: row.observedAt, instrumentIds: named([row, ...row.readings]), isNamedById: true, place: placeOnPipe(row),
    source: weldProcedureId === null ? { limits: 'own', readingsWith: ofWall } : { limits: 'procedure', weldProcedureId, weld: row, readingsBeside: ofWall },
  };
}

function ofEvaluation(row: IndicationEvaluation, indication: Indication): MeasuredRecord {
  return {
    record: linkOf(INDICATION_EVALUATIONS, row), at: row.observedAt, instrumentIds: named([row]), isNamedById: true, place: placeOnPipe(indication),
    source: { limits: 'own', readingsWith: () => evaluationReadings(row) },
  };
}

function ofReaction(row: ChartReaction, chart: ControlChart): MeasuredRecord {
  return {
    record: linkOf(CHART_REACTIONS, row), at: row.observedAt, instrumentIds: named([{ instrumentId: row.repeatedWithInstrumentId }]), isNamedById: true, place: placeOfSignals(row),
    source: { limits: 'own', readingsWith: () => repeatedReadings(row, chart) },
  };
}

/** From the first to the last of the signals that have a place on the pipe. */
function placeOfSignals({ stringId, answers }: ChartReaction): WorkPlace {
  const [froms, tos] = [answers.flatMap(({ fromMm }) => fromMm ?? []), answers.flatMap(({ toMm }) => toMm ?? [])];
  if (froms.length === 0) return { on: 'string', stringId };
  const [fromMm, toMm] = [Math.min(...froms), Math.max(...tos)];
  return { on: 'pipe', stringId, span: { fromMm, toMm, uFromMm: 0, uToMm: 0 }, given: { from: { footageMm: fromMm }, to: { footageMm: toMm } } };
}

/** What an examination showed is no number. */
function ofExamination(row: Examination): MeasuredRecord {
  return {
    record: linkOf(EXAMINATIONS, row), at: row.observedAt, instrumentIds: named([row]), isNamedById: true, place: placeOnPipe(row),
    source: { limits: 'own', readingsWith: () => [{ said: `${row.method} by ${row.technique}: ${row.outcome}`, margin: null }] },
  };
}

/** What channels showed of a standard is held against the standard, which another instrument may have measured. */
function ofReferenceCheck(row: ReferenceCheck): MeasuredRecord {
  return {
    record: linkOf(REFERENCE_CHECKS, row), at: row.observedAt, instrumentIds: [row.standardId], isNamedById: true, place: placeOnPipe(row),
    source: { limits: 'own', readingsWith: () => row.results.map(({ reflector, amplitude }) => ({ said: `${reflector}: ${amplitude}`, margin: null })) },
  };
}

/** Where a weld lies: it is of a splice or of a re-join. */
export function placeOfWeld({ stringId, spliceId, rejoinId }: Pick<Weld, 'stringId' | 'spliceId' | 'rejoinId'>): WorkPlace {
  return spliceId === null ? { on: 'rejoin', stringId, rejoinId: rejoinId ?? '' } : { on: 'splice', stringId, spliceId };
}

/** The place of a record that has its own. */
export function placeOnPipe({ stringId, span, fromUMm, toUMm, given }: PlacedVersion): WorkPlace {
  return { on: 'pipe', stringId, given, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) } };
}

function named(parts: readonly { readonly instrumentId: string | null }[]): string[] {
  return [...new Set(parts.map(({ instrumentId }) => instrumentId).filter((id) => id !== null))];
}
