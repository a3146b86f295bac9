import { NoTurn, sqlRefusal, type SqlRefusal } from '#libs/persistence';
import { Refused } from './problem.js';

type Answer = (refusal: SqlRefusal) => Refused;

const conflict = (detail: string) => (refusal: SqlRefusal) =>
  new Refused(409, 'conflict', detail, [{ field: refusal.constraint ?? '', value: null, limit: detail }]);

const busy: Answer = () =>
  new Refused(503, 'busy', 'The database could not do this just now. Send the same request again.', [], {
    retryAfterSeconds: 1,
  });

/** What each SQLSTATE that a write can meet means to the caller. Any other is a fault of ours. */
const ANSWERS: Readonly<Record<string, Answer>> = {
  '23505': conflict('Another record already holds this place or name.'),
  '23P01': conflict('This overlaps a record that stands there.'),
  '23503': (refusal) =>
    new Refused(422, 'unknown-reference', 'The request names a record that does not exist.', [
      { field: refusal.constraint ?? '', value: null, limit: 'the id of an existing record of the right kind' },
    ]),
  '23514': (refusal) =>
    new Refused(422, 'refused-by-database', `The database refuses this: ${refusal.constraint ?? refusal.message}.`),
  '22003': () => new Refused(422, 'out-of-range', 'A number is outside the range that can be kept.'),
  '22P02': () => new Refused(400, 'malformed', 'A value does not have the form of its type.'),
  '22008': () => new Refused(400, 'malformed', 'A time is outside the range that can be kept.'),
  '22021': () => new Refused(400, 'malformed', 'A text holds characters that cannot be kept.'),
  '40001': busy,
  '40P01': busy,
  '53100': () => new Refused(507, 'no-space', 'The database has no space left; nothing was written.'),
  '53300': busy,
  '55P03': () => new Refused(409, 'in-progress', 'Another write holds this record just now. Send the request again.'),
  '57014': busy,
  '57P01': busy,
  '57P02': busy,
  '57P03': busy,
  '08006': busy,
  '08003': busy,
  EM003: () => new Refused(422, 'other-string', 'A record stays with its string; make a new one there.'),
  EM004: () => new Refused(409, 'void', 'A void record is not amended.'),
  EM007: (refusal) => new Refused(409, 'held', `It cannot be withdrawn: ${refusal.message}. Withdraw that first.`),
  EM008: (refusal) => new Refused(409, 'frozen', `This revision is frozen: ${refusal.message}. Make the next revision.`),
  EM009: () => new Refused(409, 'same-keyer', "The second keying is another person's: somebody else has to key it.", [
    { field: 'keying', value: null, limit: 'first and second keying by different people' },
  ]),
  EM011: (refusal) => new Refused(409, 'unfit-decision', `The decision is not taken: ${refusal.message}.`),
  EM012: (refusal) => new Refused(409, 'accepted-handover', `A handover is accepted as it was given, by another person, and stays so: ${refusal.message}. Give another one.`),
  EM020: (refusal) => new Refused(409, 'unfit-release', `The release is not taken: ${refusal.message}.`),
  EM021: (refusal) => new Refused(409, 'unfit-limits', `The limits are not taken: ${refusal.message}.`),
  EM006: (refusal) => new Refused(422, 'outside-string', refusal.message),
};

/** Connection faults that pg reports with Node's own codes. */
const CONNECTION_FAULTS = new Set(['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT']);

/** The refusal to answer for an error of the database, or null when it is none that a caller can act on. */
export function refusalOfDatabase(error: unknown): Refused | null {
  const refusal = sqlRefusal(error);
  if (error instanceof NoTurn) return busy({} as SqlRefusal);
  const { code, message } = (error ?? {}) as { code?: unknown; message?: unknown };
  // First, since EPIPE has the form of an SQLSTATE.
  if (CONNECTION_FAULTS.has(String(code))) return busy({} as SqlRefusal);
  if (refusal !== null) return ANSWERS[refusal.sqlState]?.(refusal) ?? null;
  const lost = typeof message === 'string' && /timeout exceeded when trying to connect|Connection terminated|is not queryable/.test(message);
  return lost ? busy({} as SqlRefusal) : null;
}
