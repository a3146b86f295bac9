import type { Client } from './bench-string.js';
import { anotherDiameter, anotherPointKept, type EvidenceString } from './evidence-string.js';
import { asked } from './signal-string.js';
import { percentiles, type Percentiles } from './views.js';

const ROUNDS = 30;
const WARM_UPS = 5;

/** Times of one question, ms. */
export interface EvidenceFigures {
  /** Rows of records that the bare handler gives. */
  readonly records: number;
  readonly bytes: number;
  readonly bare: Percentiles;
  /** Nothing is kept: as known at an instant of the last minute. */
  readonly whole: Percentiles;
  /** After one more inspection, on which half of what a plan asks for rests. */
  readonly afterInspection: Percentiles;
  /** After one more attendance, on which one item rests. */
  readonly afterAttendance: Percentiles;
  readonly unchanged: Percentiles;
}

/** The evidence for all pipe of a string of 10 km, by turns with a bare handler that reads the same records and returns them. */
export async function compareEvidence(client: Client, bareUrl: string, string: EvidenceString): Promise<EvidenceFigures> {
  const { stringId } = string;
  const question = `/api/casing-strings/${stringId}/evidence`;
  const turn = async (nth: number): Promise<Turn> => {
    const { ms: bare, bytes: rows } = await asked({ ...client, url: bareUrl }, `/string-rows?stringId=${stringId}`);
    const { ms: whole, bytes } = await asked(client, `${question}?asKnownAt=${new Date().toISOString()}`);
    const after = async (enter: Enter): Promise<number> => {
      await enter(client, string, nth);
      return (await asked(client, question)).ms;
    };
    return { records: rowsOf(rows), bytes: bytes.length, bare, whole, afterInspection: await after(anotherDiameter), afterAttendance: await after(anotherPointKept), unchanged: (await asked(client, question)).ms };
  };
  for (let nth = 0; nth < WARM_UPS; nth += 1) await turn(nth);
  const turns: Turn[] = [];
  for (let nth = 0; nth < ROUNDS; nth += 1) turns.push(await turn(WARM_UPS + nth));
  const of = (what: keyof Turn): Percentiles => percentiles(turns.map((one) => one[what]));
  return {
    records: turns.at(-1)?.records ?? 0, bytes: turns.at(-1)?.bytes ?? 0, bare: of('bare'), whole: of('whole'), afterInspection: of('afterInspection'), afterAttendance: of('afterAttendance'), unchanged: of('unchanged'),
  };
}

type Enter = (client: Client, string: EvidenceString, nth: number) => Promise<unknown>;
type Turn = Readonly<Record<'records' | 'bytes' | 'bare' | 'whole' | 'afterInspection' | 'afterAttendance' | 'unchanged', number>>;

const rowsOf = (answer: Buffer): number => (JSON.parse(answer.toString()) as unknown[][]).reduce((sum, rows) => sum + rows.length, 0);
