import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { demandFiles, impossibleFiles, photosOf } from '../files/named-files.js';
import { StoredFiles } from '../files/stored-files.service.js';
import { contradictory, malformed, together } from '../http/problem.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { readWith } from '../instruments/read-with.js';
import { intervalFaults } from '../line/given-place.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { demandInstruments, keptReadings } from '../welds/weld-readings.js';
import { impossibleReadings } from '../welds/weld.rules.js';
import { RepairInput, type RepairContent } from './repair.dto.js';
import { Repair } from './repair.entity.js';
import { liesElsewhere, liesOffJoint, repairFaults, repairWeldFindings, wallFindings } from './repair.rules.js';

@Injectable()
export class RepairsService extends PlacedRecordsService<Repair, RepairInput, RepairContent> {
  readonly kind = 'repair';
  readonly entity = Repair;
  readonly input = RepairInput;
  protected override readonly filters = {
    stringId: 'string_id', spliceId: 'splice_id', rejoinId: 'rejoin_id', inspectionId: 'inspection_id', nonconformanceId: 'nonconformance_id',
    instrumentId: 'instrument_id', weldProcedureId: 'weld_procedure_id',
  };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly strings: CasingStringsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly inspections: InspectionsService,
    private readonly nonconformances: NonconformancesService,
    private readonly instruments: InstrumentsService,
    private readonly procedures: WeldProceduresService,
    private readonly files: StoredFiles,
  ) {
    super(desk, places);
  }

  /** The repairs of a string known at `asKnownAt`, in the order in which they were made. */
  async inOrder(stringId: string, asKnownAt: string | null): Promise<Repair[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** The repairs at which one of some instruments was used, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<Repair[]> {
    const used = "(instrument_id = any($2::uuid[]) or readings @> any($1::jsonb[])) and state = 'active'";
    return this.desk.store.select(this.entity, used, [readWith(instrumentIds), instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: RepairInput, current: Repair | null): Promise<Content<Repair>> {
    const photos = photosOf(input.photoSha256s);
    const readings = keptReadings(input.readings);
    const impossible = [...impossibleReadings(readings), ...impossibleFiles(photos)];
    if (impossible.length > 0) throw malformed(impossible);
    const faults = [...repairFaults(input), ...intervalFaults(input)];
    if (faults.length > 0) throw contradictory(faults);
    await together([
      demandInstruments(tx, readings, this.instruments), ...this.onString(tx, input),
      this.instruments.namedIfAny(tx, 'instrumentId', input.instrumentId),
      this.procedures.namedIfAny(tx, 'weldProcedureId', input.weldProcedureId),
      demandFiles(tx, this.files, photos),
    ]);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, {
      method: input.method,
      found: input.found,
      spliceId: input.spliceId ?? null,
      rejoinId: input.rejoinId ?? null,
      inspectionId: input.inspectionId ?? null,
      nonconformanceId: input.nonconformanceId ?? null,
      depthRemovedMm: input.depthRemovedMm ?? null,
      remainingWallMm: input.remainingWallMm ?? null,
      wallLimitMm: input.wallLimitMm ?? null,
      instrumentId: input.instrumentId ?? null,
      weldProcedureId: input.weldProcedureId ?? null,
      readings,
      chosen: input.chosen.map(({ choice, value }) => ({ choice, value })),
      fillerBatch: input.fillerBatch ?? null,
      photoSha256s: input.photoSha256s,
      note: input.note ?? null,
    });
  }

  protected override async findings(_input: RepairInput, content: Content<Repair>, tx: Transaction): Promise<readonly Finding[]> {
    const { stringId, span, spliceId, rejoinId, inspectionId, weldProcedureId } = content;
    const { wallThicknessMm } = await this.strings.named(tx, 'stringId', stringId);
    const procedure = weldProcedureId === null ? null : await this.procedures.named(tx, 'weldProcedureId', weldProcedureId);
    const splice = spliceId === null ? null : await this.splices.named(tx, 'spliceId', spliceId);
    const joint = rejoinId === null ? null : await this.rejoins.jointNamed(tx, 'rejoinId', rejoinId);
    const inspection = inspectionId === null ? null : await this.inspections.named(tx, 'inspectionId', inspectionId);
    return [
      ...wallFindings(content, wallThicknessMm),
      ...(procedure === null ? [] : repairWeldFindings(content, weldProcedureOf(procedure), procedure.purpose)),
      ...(splice === null ? [] : liesElsewhere('spliceId', splice.id, span, splice.span)),
      ...(rejoinId === null || joint === null ? [] : liesOffJoint(rejoinId, span, joint)),
      ...(inspection === null ? [] : liesElsewhere('inspectionId', inspection.id, span, inspection.span)),
    ];
  }

  protected present(row: Repair): RepairContent {
    const { method, found, spliceId, rejoinId, inspectionId, nonconformanceId, depthRemovedMm, remainingWallMm, wallLimitMm, instrumentId } = row;
    const { weldProcedureId, readings, chosen, fillerBatch, photoSha256s, note } = row;
    return Object.assign(this.presentPlace(row), {
      method, found, spliceId, rejoinId, inspectionId, nonconformanceId, depthRemovedMm, remainingWallMm, wallLimitMm, instrumentId,
      weldProcedureId, readings: [...readings], chosen: [...chosen], fillerBatch, photoSha256s: [...photoSha256s], note,
    });
  }

  /** What it names is of its own string; a nonconformance of strip only is of none. */
  private onString(tx: Transaction, input: RepairInput): Promise<unknown>[] {
    const kinds = { spliceId: this.splices, rejoinId: this.rejoins, inspectionId: this.inspections, nonconformanceId: this.nonconformances };
    return (['spliceId', 'rejoinId', 'inspectionId', 'nonconformanceId'] as const).map(async (field) => {
      const id = input[field];
      return id == null ? null : kinds[field].namedOnString(tx, field, id, input.stringId);
    });
  }
}
