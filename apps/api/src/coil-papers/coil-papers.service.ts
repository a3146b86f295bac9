import { Injectable } from '@nestjs/common';
import { microseconds, normalInstant } from '#libs/persistence';
import { Configuration } from '../configuration.js';
import { Evaluations } from '../evaluation/evaluations.service.js';
import { PeopleService } from '../people/people.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { ReportPress } from '../reports/report-press.js';
import type { Report } from '../reports/reports.service.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { coilSheetData, coilTagData, type PaperKnowledge } from './coil-paper-data.js';
import type { SheetQuestion, TagQuestion } from './coil-paper-question.js';

/** Prints what is known of a coil. */
@Injectable()
export class CoilPapersService {
  constructor(
    private readonly desk: RecordDesk,
    private readonly evaluations: Evaluations,
    private readonly standings: CoilStandings,
    private readonly people: PeopleService,
    private readonly strings: CasingStringsService,
    private readonly press: ReportPress,
    private readonly configuration: Configuration,
  ) {}

  /** The sheet of a coil, as the question says. Refuses as the evaluation and the press do. */
  async sheet(coilId: string, { paper, ...question }: SheetQuestion): Promise<Report> {
    const bytes = await this.press.draw({ report: 'coil-sheet', data: coilSheetData(await this.knowledge(coilId, question)), paper });
    return { fileName: `coil-${coilId.slice(-12)}-sheet.pdf`, bytes };
  }

  /** The tag of a coil, as the question says. Refuses as the evaluation and the press do. */
  async tag(coilId: string, question: TagQuestion): Promise<Report> {
    const bytes = await this.press.draw({ report: 'coil-tag', data: coilTagData(await this.knowledge(coilId, question)) });
    return { fileName: `coil-${coilId.slice(-12)}-tag.pdf`, bytes };
  }

  /** Everything printed is read as known at one instant, the cut-off: the one asked about, or the database's now. */
  private async knowledge(coilId: string, { specificationId, asKnownAt }: TagQuestion): Promise<PaperKnowledge> {
    const now = await this.desk.databaseNow();
    const dataCutOff = asKnownAt !== null && microseconds(asKnownAt) <= microseconds(now) ? normalInstant(asKnownAt) : now;
    const found = await this.evaluations.ofCoil(coilId, specificationId, dataCutOff);
    const { permits } = found.standing;
    const stringIds = permits.map(({ forStringId }) => forStringId).filter((id) => id !== null);
    const [decisions, people, strings] = await Promise.all([
      this.standings.decisionsOn([coilId], dataCutOff),
      this.people.rowsByIds(permits.map(({ doneBy }) => doneBy), dataCutOff),
      this.strings.rowsByIds(stringIds, dataCutOff),
    ]);
    return {
      found, decisions, dataCutOff, generatedAt: now,
      nameOf: (personId) => people.get(personId)?.name ?? personId,
      stringNameOf: (stringId) => strings.get(stringId)?.name ?? stringId,
      link: `${this.configuration.publicUrl}/api/coils/${coilId}`,
    };
  }
}
