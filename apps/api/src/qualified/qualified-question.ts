import type { EventVariable, QualifiedEvent } from '#libs/validity';
import { isPrintable } from '../http/fields.js';
import { QueryReader, type Query } from '../trace/trace-question.js';
import { momentParameter } from './moment-parameter.js';

export const LONGEST_METHOD = 40;
export const LONGEST_VARIABLES = 1000;

/** Who was asked about, doing what, as known when. */
export interface QualifiedQuestion {
  readonly event: QualifiedEvent;
  readonly at: string;
  readonly asKnownAt: string | null;
}

/** A question from the query of a request. Refuses with 400 and everything that is wrong with it. */
export function qualifiedQuestionOf(query: Query): QualifiedQuestion {
  const read = new QueryReader(query, ['at', 'method', 'level', 'variables', 'asKnownAt']);
  const { text: at, ...moment } = momentParameter(read);
  const event = { ...moment, method: methodOf(query, read), level: levelOf(query, read), variables: variablesOf(query, read) };
  const question = { event, at, asKnownAt: read.instant('asKnownAt') };
  read.settle();
  return question;
}

function methodOf({ method }: Query, read: QueryReader): string | null {
  if (method === undefined) return null;
  if (isPrintable(method, 1, LONGEST_METHOD)) return method;
  read.wrong('method', method, `a process or method of 1 to ${LONGEST_METHOD} characters`);
  return null;
}

function levelOf({ level }: Query, read: QueryReader): number | null {
  if (level === undefined) return null;
  if (typeof level === 'string' && /^[1-5]$/.test(level)) return Number(level);
  read.wrong('level', level, 'a level from 1 to 5');
  return null;
}

const VARIABLE = /^\s*([^=;]{1,60}?)\s*=\s*([^=;]{1,60}?)\s*$/;
const QUANTITY = /^(-?\d+(?:\.\d+)?)\s+(\S{1,20})$/;

/** `thickness=6.00 mm; product=strip`: a number with a unit is a quantity, anything else one of listed values. */
function variablesOf({ variables }: Query, read: QueryReader): EventVariable[] {
  const limit = 'variables such as thickness=6.00 mm; product=strip, each once';
  if (variables === undefined) return [];
  if (!isPrintable(variables, 1, LONGEST_VARIABLES)) {
    read.wrong('variables', variables, limit);
    return [];
  }
  const parts = variables.split(';').filter((part) => part.trim() !== '').map((part) => VARIABLE.exec(part));
  const found = parts.flatMap((part): EventVariable[] => {
    const [, name, text] = part ?? [];
    if (name === undefined || text === undefined) return [];
    const [, value, unit] = QUANTITY.exec(text) ?? [];
    return [value === undefined || unit === undefined ? { name, value: text, unit: null } : { name, value, unit }];
  });
  if (found.length < parts.length || new Set(found.map(({ name }) => name)).size < found.length) read.wrong('variables', variables, limit);
  return found;
}
