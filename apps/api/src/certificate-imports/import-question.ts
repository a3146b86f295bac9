import { isPrintable, isUuid } from '../http/fields.js';
import { QueryReader, type Query } from '../trace/trace-question.js';
import type { ImportOrder, ImportQuestion } from './certificate-imports.service.js';

const KEYINGS = ['1', '2'] as const;

/** How a file is to be read. Refuses with one entry for each wrong parameter. */
export function importQuestionOf(query: Query): ImportQuestion {
  const read = new QueryReader(query, ['keying', 'specificationId']);
  const question = questionOf(read);
  read.settle();
  return question;
}

/** A file's import. Refuses with one entry for each wrong parameter. */
export function importOrderOf(query: Query): ImportOrder {
  const read = new QueryReader(query, ['id', 'observedAt', 'keying', 'specificationId', 'confirm']);
  const question = questionOf(read);
  const { id, confirm } = query;
  const observedAt = read.instant('observedAt');
  if (!isUuid(id)) read.wrong('id', id, 'a UUID in lower case, so that a repeat does no harm');
  if (observedAt === null && !read.has('observedAt')) read.wrong('observedAt', null, 'when the papers were read, such as 2026-02-18T09:40:00Z');
  if (confirm !== undefined && !isPrintable(confirm, 1, 64)) read.wrong('confirm', confirm, 'the code of the preview');
  read.settle();
  return { ...question, id: id as string, observedAt: observedAt ?? '', confirm: (confirm as string | undefined) ?? null };
}

function questionOf(read: QueryReader): ImportQuestion {
  return { keying: read.choice('keying', KEYINGS, '1') === '2' ? 2 : 1, specificationId: read.id('specificationId') };
}
