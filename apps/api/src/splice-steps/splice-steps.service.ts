import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { demandFiles, photosOf } from '../files/named-files.js';
import { StoredFiles } from '../files/stored-files.service.js';
import { contradictory, malformed, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { READ_WITH, readWith } from '../instruments/read-with.js';
import { PeopleService } from '../people/people.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { demandInstruments } from '../welds/weld-readings.js';
import { SpliceStepInput, type ExaminationPart, type SpliceStepContent, type StepReadingPart } from './splice-step.dto.js';
import { SpliceStep, type Examination, type StepReading } from './splice-step.entity.js';
import { beyondLimits, contradictionsInStep, impossibleInStep } from './splice-step.rules.js';

@Injectable()
export class SpliceStepsService extends RecordsService<SpliceStep, SpliceStepInput, SpliceStepContent> {
  readonly kind = 'splice step';
  readonly entity = SpliceStep;
  readonly input = SpliceStepInput;
  protected override readonly filters = { stringId: 'string_id', spliceId: 'splice_id' };

  constructor(
    desk: RecordDesk,
    private readonly splices: SplicesService,
    private readonly instruments: InstrumentsService,
    private readonly people: PeopleService,
    private readonly files: StoredFiles,
  ) {
    super(desk);
  }

  /** The steps of a splice known at `asKnownAt`, in the order in which they were done. */
  async ofSplice(spliceId: string, asKnownAt: string | null): Promise<SpliceStep[]> {
    return this.desk.store.select(this.entity, "splice_id = $1 and state = 'active'", [spliceId], asKnownAt, 'order by observed_at, id');
  }

  /** The steps of all splices of a string known at `asKnownAt`, in the order in which they were done. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<SpliceStep[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** The steps of a string at which something was measured, known at `asKnownAt`, in the order in which they were done. */
  async withReading(stringId: string, measured: string, asKnownAt: string | null): Promise<SpliceStep[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and readings @> $2::jsonb and state = 'active'", [stringId, JSON.stringify([{ measured }])], asKnownAt, 'order by observed_at, id',
    );
  }

  /** The steps with a reading of any of some instruments, known at `asKnownAt`, by when they were done. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<SpliceStep[]> {
    return this.desk.store.select(this.entity, READ_WITH, [readWith(instrumentIds)], asKnownAt, 'order by observed_at, id');
  }

  /** The steps that a person did or examined at, known at `asKnownAt`, by when they were done. */
  async withPerson(personId: string, asKnownAt: string | null): Promise<SpliceStep[]> {
    const parameters = [personId, JSON.stringify([{ personId }])];
    return this.desk.store.select(
      this.entity, "(done_by = $1 or examinations @> $2::jsonb) and state = 'active'", parameters, asKnownAt, 'order by observed_at, id',
    );
  }

  /** The sightings of splices at stations on a string known at `asKnownAt`, in the order in which they were made. */
  async sightingsOn(stringId: string, asKnownAt: string | null): Promise<SpliceStep[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and stage = 'station-sighting' and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id',
    );
  }

  protected async content(tx: Transaction, input: SpliceStepInput): Promise<Content<SpliceStep>> {
    const impossible = impossibleInStep(input);
    if (impossible.length > 0) throw malformed(impossible);
    const faults = contradictionsInStep(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, spliceId, stage, outcome, coupons, photoSha256s } = input;
    const [readings, examinations] = [input.readings.map(keptReading), input.examinations.map(keptExamination)];
    await together([
      this.splices.namedOnString(tx, 'spliceId', spliceId, stringId), demandInstruments(tx, readings, this.instruments),
      ...examinations.map(({ personId }, index) => this.people.namedIfAny(tx, `examinations[${index}].personId`, personId)),
      demandFiles(tx, this.files, [...(input.chartSha256 == null ? [] : [{ field: 'chartSha256', sha256: input.chartSha256 }]), ...photosOf(photoSha256s)]),
    ]);
    return {
      stringId, spliceId, stage, outcome, station: input.station ?? null, readings, examinations, coupons, chartSha256: input.chartSha256 ?? null,
      photoSha256s, note: input.note ?? null,
    };
  }

  protected override findings(_input: SpliceStepInput, content: Content<SpliceStep>): Finding[] {
    return beyondLimits(content.readings);
  }

  protected present(row: SpliceStep): SpliceStepContent {
    const { stringId, spliceId, stage, outcome, station, readings, examinations, coupons, chartSha256, photoSha256s, note } = row;
    return {
      stringId, spliceId, stage, outcome, station, readings: [...readings], examinations: [...examinations], coupons: [...coupons], chartSha256,
      photoSha256s: [...photoSha256s], note,
    };
  }
}

const keptReading = ({ measured, printed, unit, min, max, instrumentId }: StepReadingPart): StepReading =>
  ({ measured, printed, unit, min: min ?? null, max: max ?? null, instrumentId: instrumentId ?? null });

const keptExamination = ({ method, technique, outcome, personId, seen }: ExaminationPart): Examination =>
  ({ method, technique, outcome, personId: personId ?? null, seen: seen ?? null });
