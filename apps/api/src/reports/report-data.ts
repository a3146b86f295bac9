import { NONCONFORMANCE_CAUTIONS, type FoundValue, type NonconformanceReportData } from '#libs/reports';
import { commonAnswer } from '../records/record-answer.js';
import { digestOf } from '../records/write-request.js';
import { amendmentsOf, choiceInWords } from './amendment-words.js';
import { doubled } from './doubled.js';
import { extentsOf } from './report-extents.js';
import type { ReportKnowledge } from './report-knowledge.js';

/** When a report was made, and up to when it knows. */
export interface ReportTimes {
  readonly dataCutOff: string;
  readonly generatedAt: string;
}

/**
 * What the report of a nonconformance says, with a fingerprint of all of it but the time it was made: the same knowledge
 * has the same fingerprint, whenever it is printed. Pure.
 */
export function nonconformanceData(knowledge: ReportKnowledge, { dataCutOff, generatedAt }: ReportTimes): NonconformanceReportData {
  const content = contentOf(knowledge, dataCutOff);
  return { ...content, generatedAt, fingerprintSha256: digestOf(content) };
}

function contentOf(knowledge: ReportKnowledge, dataCutOff: string): Omit<NonconformanceReportData, 'generatedAt' | 'fingerprintSha256'> {
  const { row, history } = knowledge;
  const { containment } = row;
  const person = personNames(knowledge);
  const extents = extentsOf(knowledge);
  const withdrawn = row.state === 'void' ? ['this nonconformance was withdrawn'] : [];
  return {
    identity: identityOf(knowledge),
    requirement: row.requirement,
    found: foundOf(knowledge),
    extents: extents.map((extent) => ({ ...extent, marks: [...withdrawn, ...extent.marks] })),
    containment: containment === null ? [] : [
      { text: containment.action, footageMm: containment.footageMm, takenBy: person(containment.by), takenAt: containment.at },
    ],
    disposition: dispositionOf(knowledge),
    note: row.note,
    amendments: amendmentsOf(history, (id) => knowledge.coils.get(id)?.number ?? person(id)),
    dataCutOff,
    cautions: NONCONFORMANCE_CAUTIONS,
  };
}

function identityOf(knowledge: ReportKnowledge): NonconformanceReportData['identity'] {
  const { row, label, strings } = knowledge;
  const concerned = [...strings.values()];
  const names = (all: readonly string[]): string => [...new Set(all)].sort().join(', ');
  const stage = choiceInWords(row.stage);
  return {
    number: label,
    title: row.title,
    classification: row.severity,
    source: choiceInWords(row.origin),
    state: row.state === 'void' ? `withdrawn (was ${stage})` : stage,
    version: row.version,
    well: names(concerned.map(({ ground }) => ground.well.name)) || 'none: strip only',
    string: names(concerned.map(({ model }) => model.string.name)) || 'none: strip only',
    observedAt: row.observedAt,
    recordedAt: row.knownFrom,
    recordedBy: personNames(knowledge)(row.keyedBy),
    isLate: commonAnswer(row).late,
  };
}

function foundOf(knowledge: ReportKnowledge): FoundValue {
  const { value, text, unit, uncertainty, method, instrument, at, by } = knowledge.row.found;
  return {
    valueText: value,
    uncertaintyText: uncertainty === null ? null : doubled(uncertainty),
    unit: unit ?? '',
    words: text,
    method, instrument,
    foundBy: personNames(knowledge)(by),
    foundAt: at,
  };
}

function dispositionOf(knowledge: ReportKnowledge): NonconformanceReportData['disposition'] {
  const { disposition } = knowledge.row;
  if (disposition === null) return null;
  const roles = knowledge.people.get(disposition.approvedBy)?.roles ?? [];
  return {
    kind: choiceInWords(disposition.kind).replace('as is under', 'as is, under'),
    text: disposition.text,
    approvals: [
      {
        approvedBy: personNames(knowledge)(disposition.approvedBy),
        role: roles.map(choiceInWords).join(' and ') || 'role not known then',
        approvedAt: disposition.approvedAt,
      },
    ],
  };
}

/** A person not known then is named by id. */
const personNames = ({ people }: ReportKnowledge) => (id: string): string => people.get(id)?.name ?? id;
