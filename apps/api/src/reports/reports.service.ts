import { Injectable } from '@nestjs/common';
import { microseconds, normalInstant } from '#libs/persistence';
import type { Paper } from '#libs/reports';
import { CoilsService } from '../coils/coils.service.js';
import { LengthModels } from '../line/length-models.service.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import { PeopleService } from '../people/people.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { Grounds } from '../trace/grounds.service.js';
import { coilsIn, peopleIn } from './amendment-words.js';
import { nonconformanceData } from './report-data.js';
import type { ReportKnowledge, StringKnowledge } from './report-knowledge.js';
import { ReportPress } from './report-press.js';

/** A report ready to be sent. */
export interface Report {
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

/** Records that a report on a string rests on. */
const ON_STRING = [
  'counter_period', 'line_setup', 'cut_out', 'counter_reading', 'hang_off', 'shoe_tie', 'coil_segment', 'splice',
] as const;

/** Assembles reports from what was known at a time, and has them drawn. */
@Injectable()
export class ReportsService {
  constructor(
    private readonly desk: RecordDesk,
    private readonly nonconformances: NonconformancesService,
    private readonly segments: CoilSegmentsService,
    private readonly coils: CoilsService,
    private readonly people: PeopleService,
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly press: ReportPress,
  ) {}

  /**
   * The report of a nonconformance as known at an instant, or now. Refuses with 404 when there was none then, and as
   * the press does.
   */
  async nonconformance(id: string, paper: Paper, asKnownAt: string | null): Promise<Report> {
    const generatedAt = new Date().toISOString();
    const isPast = asKnownAt !== null && microseconds(asKnownAt) <= microseconds(generatedAt);
    const dataCutOff = isPast ? normalInstant(asKnownAt) : await this.newest(await this.knowledge(id, null));
    // Read as of the cut-off even for now: a later print of the same knowledge then says the same.
    const knowledge = await this.knowledge(id, dataCutOff);
    const data = nonconformanceData(knowledge, { dataCutOff, generatedAt });
    const bytes = await this.press.draw({ report: 'nonconformance', data, paper });
    return { fileName: `${knowledge.label}-v${knowledge.row.version}.pdf`, bytes };
  }

  private async knowledge(id: string, asKnownAt: string | null): Promise<ReportKnowledge> {
    const row = await this.nonconformances.row(id, asKnownAt);
    const { versions } = await this.nonconformances.history(id);
    const history = versions.filter(({ version }) => version <= row.version);
    const coilSegments = await this.segments.ofCoils(row.coilIds, asKnownAt);
    const stringIds = new Set([...(row.stringId === null ? [] : [row.stringId]), ...coilSegments.map(({ stringId }) => stringId)]);
    const strings = new Map<string, StringKnowledge>();
    for (const stringId of stringIds) {
      const model = await this.models.of(stringId, asKnownAt);
      strings.set(stringId, { model, ground: await this.grounds.of(model, asKnownAt) });
    }
    const personIds = [row.keyedBy, row.found.by, row.containment?.by, row.disposition?.approvedBy, ...peopleIn(history)];
    const [coils, people] = await Promise.all([
      this.coils.rowsByIds([...row.coilIds, ...coilsIn(history)], asKnownAt),
      this.people.rowsByIds(personIds.filter((personId) => personId !== undefined), asKnownAt),
    ]);
    const { label } = this.nonconformances.answer(row);
    return { row, label, history, strings, coils, coilSegments, people };
  }

  /** When the newest of the records that the knowledge of now rests on became known; withdrawn ones count. */
  private async newest({ row, strings, coils, people }: ReportKnowledge): Promise<string> {
    const rows = [
      row, ...coils.values(), ...people.values(),
      ...[...strings.values()].flatMap(({ model, ground }) => [
        model.string, ground.well, ...ground.pipe.segments.map(({ coil }) => coil),
      ]),
    ];
    const kinds = ON_STRING.map((table) => `select max(known_from) as at from ${table} where string_id = any($1::uuid[])`);
    const answers: { at: string | null }[] = await this.desk.dataSource.query(
      `select to_char(max(at) at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as at
         from (${kinds.join(' union all ')}) as kinds`,
      [[...strings.keys()]],
    );
    const instants = [...rows.map(({ knownFrom }) => knownFrom), ...answers.flatMap(({ at }) => (at === null ? [] : [at]))];
    return instants.map(normalInstant).sort().at(-1) ?? row.knownFrom;
  }
}
