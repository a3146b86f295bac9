import type { Paper } from '#libs/reports';
import { PAPERS } from '../reports/report-question.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** As known when, and beside which revision where the coil has no order; null for now, and for the one it was decided under. */
export interface TagQuestion {
  readonly specificationId: string | null;
  readonly asKnownAt: string | null;
}

export interface SheetQuestion extends TagQuestion {
  readonly paper: Paper;
}

/** The question of a tag's query string. Refuses with one entry for each wrong parameter. */
export function tagQuestionOf(query: Query): TagQuestion {
  const read = new QueryReader(query, ['specificationId', 'asKnownAt']);
  const question = { specificationId: read.id('specificationId'), asKnownAt: read.instant('asKnownAt') };
  read.settle();
  return question;
}

/** The question of a sheet's query string; A4 when no paper is named. Refuses with one entry for each wrong parameter. */
export function sheetQuestionOf(query: Query): SheetQuestion {
  const read = new QueryReader(query, ['paper', 'specificationId', 'asKnownAt']);
  const question = { paper: read.choice('paper', PAPERS, 'A4'), specificationId: read.id('specificationId'), asKnownAt: read.instant('asKnownAt') };
  read.settle();
  return question;
}
