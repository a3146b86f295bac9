import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { demandFiles, impossibleFiles, photosOf } from '../files/named-files.js';
import { StoredFiles } from '../files/stored-files.service.js';
import { contradictory, malformed, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { intervalFaults } from '../line/given-place.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import { PeopleService } from '../people/people.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { liesElsewhere, liesOffJoint } from '../repairs/repair.rules.js';
import { RepairsService } from '../repairs/repairs.service.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { SplicesService } from '../splices/splices.service.js';
import { ExaminationInput, type ExaminationContent } from './examination.dto.js';
import { Examination } from './examination.entity.js';
import { examinationFaults, notAfter } from './examination.rules.js';

@Injectable()
export class ExaminationsService extends PlacedRecordsService<Examination, ExaminationInput, ExaminationContent> {
  readonly kind = 'examination';
  readonly entity = Examination;
  readonly input = ExaminationInput;
  protected override readonly filters = {
    stringId: 'string_id', spliceId: 'splice_id', rejoinId: 'rejoin_id', repairId: 'repair_id', instrumentId: 'instrument_id',
  };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly repairs: RepairsService,
    private readonly instruments: InstrumentsService,
    private readonly people: PeopleService,
    private readonly files: StoredFiles,
  ) {
    super(desk, places);
  }

  /** Those of a string known at `asKnownAt` that touch footage (an int8multirange as text) or are of one of the re-joins, by when they were made. */
  async about(stringId: string, multirange: string, rejoinIds: readonly string[], asKnownAt: string | null): Promise<Examination[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and (span && $2::int8multirange or rejoin_id = any($3::uuid[]))",
      [stringId, multirange, rejoinIds], asKnownAt, 'order by observed_at, id',
    );
  }

  /** Those of a splice, or over its pipe, known at `asKnownAt`, by when they were made. */
  async ofSplice({ id, stringId, span }: Pick<SpliceVersion, 'id' | 'stringId' | 'span'>, asKnownAt: string | null): Promise<Examination[]> {
    return this.desk.store.select(
      this.entity, "state = 'active' and (splice_id = $1 or (string_id = $2 and span && int8range($3, $4)))",
      [id, stringId, span.fromMm, span.toMm], asKnownAt, 'order by observed_at, id',
    );
  }

  /** The examinations made with one of some instruments, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<Examination[]> {
    return this.desk.store.select(this.entity, "instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: ExaminationInput, current: Examination | null): Promise<Content<Examination>> {
    const photos = photosOf(input.photoSha256s);
    const impossible = impossibleFiles(photos);
    if (impossible.length > 0) throw malformed(impossible);
    const faults = [...examinationFaults(input, input.doneBy ?? current?.doneBy ?? tx.actor.personId), ...intervalFaults(input)];
    if (faults.length > 0) throw contradictory(faults);
    await together([
      ...this.onString(tx, input), this.instruments.namedIfAny(tx, 'instrumentId', input.instrumentId),
      this.people.namedIfAny(tx, 'standInBy', input.standInBy), demandFiles(tx, this.files, photos),
    ]);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, {
      method: input.method,
      technique: input.technique,
      reflector: input.reflector ?? null,
      reflectorSizeMm: input.reflectorSizeMm ?? null,
      outcome: input.outcome,
      seen: input.seen ?? null,
      standsInFor: input.standsInFor,
      standInReason: input.standInReason ?? null,
      standInBy: input.standInBy ?? null,
      spliceId: input.spliceId ?? null,
      rejoinId: input.rejoinId ?? null,
      repairId: input.repairId ?? null,
      instrumentId: input.instrumentId ?? null,
      photoSha256s: input.photoSha256s,
      note: input.note ?? null,
    });
  }

  protected override async findings({ observedAt }: ExaminationInput, { span, spliceId, rejoinId, repairId }: Content<Examination>, tx: Transaction): Promise<readonly Finding[]> {
    const splice = spliceId === null ? null : await this.splices.named(tx, 'spliceId', spliceId);
    const joint = rejoinId === null ? null : await this.rejoins.jointNamed(tx, 'rejoinId', rejoinId);
    const repair = repairId === null ? null : await this.repairs.named(tx, 'repairId', repairId);
    return [
      ...(splice === null ? [] : liesElsewhere('spliceId', splice.id, span, splice.span)),
      ...(rejoinId === null || joint === null ? [] : liesOffJoint(rejoinId, span, joint)),
      ...(repair === null ? [] : [...notAfter(observedAt, repair.observedAt), ...liesElsewhere('repairId', repair.id, span, repair.span)]),
    ];
  }

  protected present(row: Examination): ExaminationContent {
    const { method, technique, reflector, reflectorSizeMm, outcome, seen, spliceId, rejoinId, repairId, instrumentId, photoSha256s, note } = row;
    const { standsInFor, standInReason, standInBy } = row;
    return Object.assign(this.presentPlace(row), {
      method, technique, reflector, reflectorSizeMm, outcome, seen, standsInFor: [...standsInFor], standInReason, standInBy, spliceId, rejoinId, repairId, instrumentId,
      photoSha256s: [...photoSha256s], note,
    });
  }

  private onString(tx: Transaction, input: ExaminationInput): Promise<unknown>[] {
    const kinds = { spliceId: this.splices, rejoinId: this.rejoins, repairId: this.repairs };
    return (['spliceId', 'rejoinId', 'repairId'] as const).map(async (field) => {
      const id = input[field];
      return id == null ? null : kinds[field].namedOnString(tx, field, id, input.stringId);
    });
  }
}
