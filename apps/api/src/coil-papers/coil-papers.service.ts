import { Injectable } from '@nestjs/common';
import { microseconds, normalInstant } from '#libs/persistence';
import type { Paper } from '#libs/reports';
import { Configuration } from '../configuration.js';
import { Evaluations } from '../evaluation/evaluations.service.js';
import { PeopleService } from '../people/people.service.js';
import { ReportPress } from '../reports/report-press.js';
import type { Report } from '../reports/reports.service.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { coilSheetData, coilTagData, type PaperKnowledge } from './coil-paper-data.js';

/** Prints what is known of a coil. */
@Injectable()
export class CoilPapersService {
  constructor(
    private readonly evaluations: Evaluations,
    private readonly standings: CoilStandings,
    private readonly people: PeopleService,
    private readonly press: ReportPress,
    private readonly configuration: Configuration,
  ) {}

  /** The sheet of a coil as known at an instant, or now. Refuses as the evaluation and the press do. */
  async sheet(coilId: string, paper: Paper, asKnownAt: string | null): Promise<Report> {
    const knowledge = await this.knowledge(coilId, asKnownAt);
    const bytes = await this.press.draw({ report: 'coil-sheet', data: coilSheetData(knowledge), paper });
    return { fileName: `coil-${coilId.slice(-12)}-sheet.pdf`, bytes };
  }

  /** The tag of a coil as known at an instant, or now. */
  async tag(coilId: string, asKnownAt: string | null): Promise<Report> {
    const knowledge = await this.knowledge(coilId, asKnownAt);
    const bytes = await this.press.draw({ report: 'coil-tag', data: coilTagData(knowledge) });
    return { fileName: `coil-${coilId.slice(-12)}-tag.pdf`, bytes };
  }

  private async knowledge(coilId: string, asKnownAt: string | null): Promise<PaperKnowledge> {
    const generatedAt = new Date().toISOString();
    const found = await this.evaluations.ofCoil(coilId, null, asKnownAt);
    const decisions = await this.standings.decisionsOn([coilId], asKnownAt);
    const people = await this.people.rowsByIds(found.standing.permits.map(({ doneBy }) => doneBy), asKnownAt);
    const isPast = asKnownAt !== null && microseconds(asKnownAt) <= microseconds(generatedAt);
    return {
      found, decisions, generatedAt,
      dataCutOff: isPast ? normalInstant(asKnownAt) : normalInstant(newest(found, decisions)),
      nameOf: (personId) => people.get(personId)?.name ?? personId,
      link: `${this.configuration.publicUrl}/api/coils/${coilId}`,
    };
  }
}

/** When the newest of the records that the print rests on became known. */
function newest({ knowledge, standing, evaluation }: PaperKnowledge['found'], decisions: PaperKnowledge['decisions']): string {
  const { coil, heat, order, papers, receipts, checks, segments } = knowledge;
  const rows = [
    coil, heat, ...(order === null ? [] : [order]), evaluation.specification, ...papers.flatMap(({ certificate, keyings }) => [certificate, ...keyings]),
    ...receipts, ...checks, ...segments, ...standing.permits, ...decisions,
  ];
  return rows.map(({ knownFrom }) => normalInstant(knownFrom)).sort().at(-1) ?? coil.knownFrom;
}
