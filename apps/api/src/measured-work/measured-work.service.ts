import { Injectable } from '@nestjs/common';
import { procedureChecker, type ProcedureLine } from '#libs/welding';
import type { Examination } from '../examinations/examination.entity.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import type { Repair } from '../repairs/repair.entity.js';
import { RepairsService } from '../repairs/repairs.service.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { linkTo } from '../trace/record-link.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import type { Weld } from '../welds/weld.entity.js';
import { actualWeld } from '../welds/weld.rules.js';
import { WeldsService } from '../welds/welds.service.js';
import type { MarginedReading, MeasuredRecord, WorkPlace } from './measured-record.js';
import { inspectionReadings, repairReadings, stepReadings, weldReadings } from './readings.js';

/** What was measured with instruments, on pipe, welds and strip. */
@Injectable()
export class MeasuredWork {
  constructor(
    private readonly inspections: InspectionsService,
    private readonly checks: IncomingChecksService,
    private readonly welds: WeldsService,
    private readonly steps: SpliceStepsService,
    private readonly seamEvents: SeamEventsService,
    private readonly repairs: RepairsService,
    private readonly examinations: ExaminationsService,
    private readonly procedures: WeldProceduresService,
  ) {}

  /** The records with a reading of any of some instruments, known at `asKnownAt`, by when they were taken. */
  async with(instrumentIds: readonly string[], asKnownAt: string | null): Promise<MeasuredRecord[]> {
    const [inspections, checks, welds, steps, seamEvents, repairs, examinations] = await Promise.all([
      this.inspections.withInstruments(instrumentIds, asKnownAt), this.checks.withInstruments(instrumentIds, asKnownAt),
      this.welds.withInstruments(instrumentIds, asKnownAt), this.steps.withInstruments(instrumentIds, asKnownAt),
      this.seamEvents.withInstruments(instrumentIds, asKnownAt), this.repairs.withInstruments(instrumentIds, asKnownAt),
      this.examinations.withInstruments(instrumentIds, asKnownAt),
    ]);
    return [
      ...inspections.map(ofInspection), ...checks.map((check) => this.ofCheck(check, asKnownAt)), ...welds.map((weld) => this.ofWeld(weld, asKnownAt)),
      ...steps.map(ofStep), ...seamEvents.map((event) => this.ofSeamEvent(event, asKnownAt)),
      ...repairs.map((repair) => this.ofRepair(repair, asKnownAt)), ...examinations.map(ofExamination),
    ].sort((one, other) => (one.at < other.at ? -1 : Number(one.at > other.at)));
  }

  private ofCheck(row: IncomingCheck, asKnownAt: string | null): MeasuredRecord {
    const said = `${row.characteristic} ${row.readings.map(({ printed }) => printed).join(', ').slice(0, 300)} ${row.unit}`;
    return {
      record: linkTo('incoming-check', row, `${row.characteristic}, ${row.instrument}`), at: row.observedAt, instrumentIds: named([row]), place: { on: 'coil', coilId: row.coilId },
      readingsWith: async () => {
        const margins = await this.checks.marginsOf(row, asKnownAt);
        return margins.length === 0 ? [{ said, margin: null }] : margins.map((margin) => ({ said, margin }));
      },
    };
  }

  private ofWeld(row: Weld, asKnownAt: string | null): MeasuredRecord {
    return {
      record: linkTo('weld', row, `of ${row.observedAt}`), at: row.observedAt, instrumentIds: named(row.readings), place: placeOfWeld(row),
      readingsWith: async (instrumentId) => weldReadings(row.readings, await this.lines(row, asKnownAt), instrumentId),
    };
  }

  private ofSeamEvent(row: SeamEvent, asKnownAt: string | null): MeasuredRecord {
    return {
      record: linkTo('seam-event', row, `${row.event} at ${row.span.fromMm} mm`), at: row.observedAt, instrumentIds: named(row.readings), place: placeOnPipe(row),
      readingsWith: async (instrumentId) => weldReadings(row.readings, await this.lines({ ...row, chosen: [] }, asKnownAt), instrumentId),
    };
  }

  private ofRepair(row: Repair, asKnownAt: string | null): MeasuredRecord {
    const { weldProcedureId, readings, chosen } = row;
    return {
      record: linkTo('repair', row, `${row.method} of ${row.observedAt}`), at: row.observedAt, instrumentIds: named([row, ...readings]), place: placeOnPipe(row),
      readingsWith: async (instrumentId) => {
        const lines = weldProcedureId === null ? [] : await this.lines({ readings, chosen, weldProcedureId }, asKnownAt);
        return [...repairReadings(row, instrumentId), ...weldReadings(readings, lines, instrumentId)];
      },
    };
  }

  private async lines(weld: Pick<Weld, 'readings' | 'chosen' | 'weldProcedureId'>, asKnownAt: string | null): Promise<readonly ProcedureLine[]> {
    const procedure = weldProcedureOf(await this.procedures.row(weld.weldProcedureId, asKnownAt));
    return procedureChecker(procedure)(actualWeld(weld, procedure)).lines;
  }
}

function ofInspection(row: Inspection): MeasuredRecord {
  const readings: readonly MarginedReading[] = inspectionReadings(row);
  return {
    record: linkTo('inspection', row, `${row.kind}: ${row.characteristic}`), at: row.observedAt, instrumentIds: named([row]), place: placeOnPipe(row),
    readingsWith: () => Promise.resolve(readings),
  };
}

function ofStep(row: SpliceStep): MeasuredRecord {
  return {
    record: linkTo('splice-step', row, `${row.stage}: ${row.outcome}`), at: row.observedAt, instrumentIds: named(row.readings),
    place: { on: 'splice', stringId: row.stringId, spliceId: row.spliceId },
    readingsWith: (instrumentId) => Promise.resolve(stepReadings(row.readings, instrumentId)),
  };
}

/** What an examination showed is no number. */
function ofExamination(row: Examination): MeasuredRecord {
  return {
    record: linkTo('examination', row, `${row.method} of ${row.observedAt}`), at: row.observedAt, instrumentIds: named([row]), place: placeOnPipe(row),
    readingsWith: () => Promise.resolve([{ said: `${row.method} by ${row.technique}: ${row.outcome}`, margin: null }]),
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
