/** One thing wrong with what was sent: where, what was seen there, and what would be allowed. */
export interface FieldProblem {
  readonly field: string;
  readonly value: unknown;
  readonly limit: string;
  /** Only for an implausible value: repeat the request with this code in `confirm` to say that it is true. */
  readonly confirm?: string;
}

/** A refusal that the caller can understand and act on; answered as RFC 9457 problem details by the one filter. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    /** A stable name of our own for the kind of refusal; the last part of the problem's `type`. */
    readonly code: string,
    detail: string,
    readonly errors: readonly FieldProblem[] = [],
    /** Members beside the standard ones, such as the version now open. */
    readonly members: Readonly<Record<string, unknown>> = {},
  ) {
    super(detail);
  }
}

/** The body or query is not what the route takes: 400, one entry for each wrong field. */
export const malformed = (errors: readonly FieldProblem[]): Refused =>
  new Refused(400, 'malformed', 'The request does not have the form this route takes.', errors);

/** What the request rests on does not allow it: 422. */
export const refusedField = (code: string, field: string, value: unknown, limit: string): Refused =>
  new Refused(422, code, limit, [{ field, value, limit }]);

/** Fields that do not go together: 422, one entry for each. */
export const contradictory = (errors: readonly FieldProblem[]): Refused =>
  new Refused(422, 'contradiction', 'What was sent does not go together.', errors);

/**
 * In which order what is wrong with an entry is told: what cannot be (400), what does not go together (422), references
 * that lead nowhere (422), unlikely values (422), and last what is taken already or has changed (409).
 */
function rank({ status, code }: Refused): number {
  if (status === 400) return 0;
  if (status !== 422) return 4;
  return code === 'unknown-reference' ? 2 : code === 'implausible' ? 3 : 1;
}

/** Several errors as one: a fault of ours as it is; of refusals those that are told first, with all that they name. */
export function merged(errors: readonly unknown[]): unknown {
  const refusals = errors.filter((error) => error instanceof Refused);
  if (refusals.length < errors.length) return errors.find((error) => !(error instanceof Refused));
  const [first, ...others] = refusals.filter((one) => rank(one) === Math.min(...refusals.map(rank)));
  if (first === undefined || others.length === 0) return first;
  return new Refused(first.status, first.code, first.message, [first, ...others].flatMap((one) => one.errors), first.members);
}

/** As `Promise.all`, but what several of them refuse is refused in one go. */
export async function together<T extends readonly unknown[]>(works: { readonly [K in keyof T]: T[K] | Promise<T[K]> }): Promise<T> {
  const outcomes = await Promise.allSettled(works);
  const errors = outcomes.flatMap((outcome): unknown[] => (outcome.status === 'rejected' ? [outcome.reason] : []));
  if (errors.length > 0) throw merged(errors);
  return outcomes.map((outcome) => (outcome.status === 'fulfilled' ? outcome.value : null)) as unknown as T;
}

/** Nothing of this kind under this id, or not yet known then: 404. */
export const notFound = (kind: string, id: string): Refused =>
  new Refused(404, 'not-found', `There is no ${kind} ${id}, or it was not known at that time.`);

const TITLES: Readonly<Record<number, string>> = {
  400: 'Bad request',
  401: 'Sign in first',
  403: 'Not allowed',
  404: 'Not found',
  405: 'Method not allowed',
  408: 'Too slow',
  409: 'Conflict',
  412: 'The record has changed',
  413: 'Too large',
  415: 'Unsupported media type',
  422: 'Refused',
  428: 'A version is needed',
  429: 'Too many requests',
  500: 'Internal error',
  503: 'Not available now',
  507: 'No space left',
};

/** RFC 9457 problem details. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly instance: string;
  readonly requestId: string;
  readonly errors: readonly FieldProblem[];
  readonly [member: string]: unknown;
}

/** Problem details of a refusal met while serving `path`. */
export function problemOf(refused: Refused, path: string, requestId: string): Problem {
  return {
    ...refused.members,
    type: `urn:everymetre:problem:${refused.code}`,
    title: TITLES[refused.status] ?? 'Refused',
    status: refused.status,
    detail: refused.message,
    instance: path,
    requestId,
    errors: refused.errors.map((error) => ({ ...error, value: shown(error.value) })),
  };
}

const LONGEST_SHOWN = 200;

/** The value seen, cut short, so that a problem stays readable however large the request was. */
function shown(value: unknown): unknown {
  if (value === undefined) return null;
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  if (text.length <= LONGEST_SHOWN) return value;
  return `${text.slice(0, LONGEST_SHOWN).toWellFormed()} …`;
}
