import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import type { Interval } from '#libs/intervals';
import { QueryReader, type Query } from '../trace/trace-question.js';

export const WALLS = ['outer', 'inner'] as const;
export const EVIDENCE_AXES = ['footage', 'md'] as const;

/** What is asked: all pipe, footage, or a depth, which means pipe of both walls. */
export interface EvidenceQuestion {
  readonly by: (typeof EVIDENCE_AXES)[number];
  /** Half-open, mm; null: all of it. */
  readonly interval: Interval | null;
  readonly asKnownAt: string | null;
}

export interface EvidenceLasQuestion extends EvidenceQuestion {
  readonly wall: (typeof WALLS)[number];
}

const DEEPEST_MM = 100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function evidenceQuestionOf(query: Query): EvidenceQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const question = askedOf(read, query);
  read.settle();
  return question;
}

/** The same for one wall as LAS. */
export function evidenceLasQuestionOf(query: Query): EvidenceLasQuestion {
  const read = new QueryReader(query, [...PARAMETERS, 'wall']);
  if (!read.has('wall')) read.wrong('wall', null, `one of ${WALLS.join(', ')}`);
  const question = { ...askedOf(read, query), wall: read.choice('wall', WALLS, 'outer') };
  read.settle();
  return question;
}

const PARAMETERS = ['by', 'fromM', 'toM', 'asKnownAt'] as const;

function askedOf(read: QueryReader, query: Query): EvidenceQuestion {
  const by = read.choice('by', EVIDENCE_AXES, 'footage');
  const [leastMm, mostMm] = by === 'md' ? [-DEEPEST_MM, DEEPEST_MM] : [0, FOOTAGE_LIMIT_MM];
  const [fromMm, toMm] = [read.metres('fromM', leastMm), read.metres('toM', leastMm)];
  if (toMm !== null && toMm <= (fromMm ?? leastMm)) read.wrong('toM', query['toM'], 'above fromM: the interval is half-open');
  for (const [field, mm] of [['fromM', fromMm], ['toM', toMm]] as const) if (mm !== null && mm > mostMm) read.wrong(field, query[field], `at most ${mostMm / 1000} m`);
  if (fromMm !== null && fromMm === mostMm) read.wrong('fromM', query['fromM'], `below ${mostMm / 1000} m`);
  return { by, interval: fromMm === null && toMm === null ? null : { fromMm: fromMm ?? leastMm, toMm: toMm ?? mostMm }, asKnownAt: read.instant('asKnownAt') };
}
