import { Injectable } from '@nestjs/common';
import { run } from '#libs/persistence';
import { InspectionsService } from '../inspections/inspections.service.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { RecordDesk } from '../records/record-desk.js';

/** What a trace shows of an inspection entry. */
const OF_INSPECTIONS = [
  'id', 'version', 'span', 'fromUMm', 'toUMm', 'observedAt', 'enteredAt', 'doneBy', 'kind', 'characteristic', 'value',
  'unit', 'verdict', 'marks', 'surface', 'clockHours', 'viewing',
] as const satisfies readonly (keyof Inspection)[];
export type EvidentInspection = Pick<Inspection, (typeof OF_INSPECTIONS)[number]>;

/** What a trace shows of a nonconformance. */
const OF_NONCONFORMANCES = [
  'id', 'version', 'number', 'title', 'severity', 'stage', 'stringId', 'extent', 'coilExtents', 'coilIds',
] as const satisfies readonly (keyof Nonconformance)[];
export type EvidentNonconformance = Pick<Nonconformance, (typeof OF_NONCONFORMANCES)[number]>;

/** What is on record about stretches of pipe, and the string's revision at that very moment. */
export interface Evidence {
  readonly revision: string;
  readonly inspections: readonly EvidentInspection[];
  readonly nonconformances: readonly EvidentNonconformance[];
}

type Packed = readonly (readonly unknown[])[];

interface EvidenceRow {
  revision: string;
  inspections: Packed;
  nonconformances: Packed;
}

/** Fetches the evidence of a question in one journey to the database. */
@Injectable()
export class EvidenceReader {
  private now: string | null = null;
  private then: string | null = null;

  constructor(
    private readonly desk: RecordDesk,
    private readonly inspections: InspectionsService,
    private readonly nonconformances: NonconformancesService,
  ) {}

  /** The evidence on the footage (an int8multirange as text) of a string and on its coils, known at an instant or now. */
  async about(stringId: string, multirange: string, coilIds: readonly string[], asKnownAt: string | null): Promise<Evidence> {
    const parameters = [stringId, multirange, coilIds, ...(asKnownAt === null ? [] : [asKnownAt])];
    const text = asKnownAt === null ? (this.now ??= this.statement(null)) : (this.then ??= this.statement('$4'));
    const { rows } = await run<EvidenceRow>(this.desk.dataSource.manager, text, parameters);
    const [row] = rows;
    const { store } = this.desk;
    return {
      revision: row?.revision ?? '',
      inspections: store.unpack(this.inspections.entity, OF_INSPECTIONS, row?.inspections ?? []),
      nonconformances: store.unpack(this.nonconformances.entity, OF_NONCONFORMANCES, row?.nonconformances ?? []),
    };
  }

  private statement(known: string | null): string {
    return `select revision_of($1) as revision,
                   ${this.inspections.packedTouching(OF_INSPECTIONS, known)} as inspections,
                   ${this.nonconformances.packedAbout(OF_NONCONFORMANCES, known)} as nonconformances`;
  }
}
