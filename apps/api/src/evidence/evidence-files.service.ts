import { Injectable } from '@nestjs/common';
import { LengthModels } from '../line/length-models.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { WellsService } from '../wells/wells.service.js';
import { evidenceCsv } from './evidence-csv.js';
import { evidenceLas } from './evidence-las.js';
import type { EvidenceLasQuestion, EvidenceQuestion } from './evidence-question.js';
import { Evidences } from './evidences.service.js';

/** The evidence as files for an auditor's own tools. */
@Injectable()
export class EvidenceFiles {
  constructor(
    private readonly desk: RecordDesk,
    private readonly evidences: Evidences,
    private readonly models: LengthModels,
    private readonly wells: WellsService,
  ) {}

  /** Throws as `Evidences.of`. */
  async csv(stringId: string, question: EvidenceQuestion): Promise<Iterable<string>> {
    const knownAt = question.asKnownAt ?? await this.desk.databaseNow();
    return evidenceCsv(await this.evidences.of(stringId, question), knownAt);
  }

  /** Throws as `Evidences.of`; refuses with 422 where nothing of the wall was asked about. */
  async las(stringId: string, { wall, ...question }: EvidenceLasQuestion): Promise<AsyncIterable<string>> {
    const knownAt = question.asKnownAt ?? await this.desk.databaseNow();
    const [answer, { string }] = await Promise.all([this.evidences.of(stringId, question), this.models.of(stringId, question.asKnownAt)]);
    const { name, datum } = await this.wells.row(string.wellId, question.asKnownAt);
    return evidenceLas(answer, wall, { wellName: name, datum, stringName: string.name, knownAt });
  }
}
