import { isPrintable } from '../http/fields.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** Whose coils are asked about. */
export interface SupplierQuestion {
  /** As orders spell it. */
  readonly mill: string;
  /** As specifications spell it; null for every grade. */
  readonly grade: string | null;
  /** Ordered thickness, decimal text; null for every thickness. */
  readonly thicknessMm: string | null;
  readonly asKnownAt: string | null;
}

export const LONGEST_MILL = 120;
export const LONGEST_GRADE = 60;
const THICKNESS = /^\d{1,2}(\.\d{1,9})?$/;
export const THICKNESS_LIMIT = { min: 0.5, max: 30 } as const;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function supplierQuestionOf(query: Query): SupplierQuestion {
  const read = new QueryReader(query, ['mill', 'grade', 'thicknessMm', 'asKnownAt']);
  const mill = textOf(read, query, 'mill', LONGEST_MILL);
  if (!read.has('mill')) read.wrong('mill', null, 'the mill, as orders spell it');
  const grade = textOf(read, query, 'grade', LONGEST_GRADE);
  const thicknessMm = thicknessOf(read, query['thicknessMm']);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { mill: mill ?? '', grade, thicknessMm, asKnownAt };
}

function textOf(read: QueryReader, query: Query, field: 'mill' | 'grade', longest: number): string | null {
  const value = query[field];
  if (value === undefined || isPrintable(value, 1, longest)) return value ?? null;
  read.wrong(field, value, `text of 1 to ${longest} printable characters`);
  return null;
}

function thicknessOf(read: QueryReader, value: unknown): string | null {
  if (value === undefined) return null;
  const { min, max } = THICKNESS_LIMIT;
  if (typeof value === 'string' && THICKNESS.test(value) && Number(value) >= min && Number(value) <= max) return value;
  read.wrong('thicknessMm', value, `the ordered thickness in mm as decimal text, ${min} to ${max}`);
  return null;
}
