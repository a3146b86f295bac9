import { v7 as uuidv7 } from 'uuid';
import type { Wire, WireRequest } from '../setup/wire.js';
import type { Effect, Entry } from './journal.js';

const OBSERVED_AT = '2026-03-02T08:15:00Z';
const BATCH = 12;

export interface WriterOptions {
  readonly nth: number;
  readonly personId: string;
}

/** Somebody who writes one request after another and notes each in the journal before it is sent. */
export class Writer {
  private well = { id: uuidv7(), version: 0 };
  private count = 0;
  private readonly stringId = uuidv7();

  private constructor(
    private readonly journal: Entry[],
    private readonly random: () => number,
    private readonly options: WriterOptions,
  ) {}

  /** A writer with a well and a string of its own. Throws when they cannot be made. */
  static async on(wire: Wire, journal: Entry[], random: () => number, options: WriterOptions): Promise<Writer> {
    const writer = new Writer(journal, random, options);
    await writer.sent(wire, writer.newWell());
    const string = {
      id: writer.stringId, observedAt: OBSERVED_AT, wellId: writer.well.id, name: 'Lindmoor 2 main string', footageLimitMm: 4_000_000,
      outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
    };
    const { status, body } = await wire.post('casing-strings', string);
    if (status !== 201) throw new Error(`no string: ${JSON.stringify(body)}`);
    return writer;
  }

  /** Writes until a request is not answered as it should be: the program or its database is gone. */
  async writeUntilCut(wire: Wire): Promise<void> {
    for (;;) {
      if (!(await this.sent(wire, this.next()))) return;
    }
  }

  private async sent(wire: Wire, entry: Entry): Promise<boolean> {
    this.journal.push(entry);
    try {
      const answer = await wire.send(entry.request);
      if (answer.status >= 300 && answer.status < 500) throw new WrongAnswer(JSON.stringify([entry.request, answer]));
      // An answer of 5xx says that it is not known whether the write stands.
      if (answer.status >= 500) return false;
      entry.answer = answer;
      return true;
    } catch (error) {
      if (error instanceof WrongAnswer) throw error;
      return false;
    }
  }

  private next(): Entry {
    const drawn = this.random();
    if (drawn < 0.1) return this.newWell();
    if (drawn < 0.4) return this.amendedWell();
    if (drawn < 0.6) return this.inspection();
    if (drawn < 0.8) return this.nonconformance();
    return this.readings();
  }

  private word(): string {
    this.count += 1;
    return `writer ${this.options.nth}, write ${this.count}`;
  }

  private newWell(): Entry {
    const word = this.word();
    this.well = { id: uuidv7(), version: 1 };
    const body = { id: this.well.id, observedAt: OBSERVED_AT, name: `Well of ${word}`, datum: 'Guide frame', note: word };
    return entered('wells', body, [{ table: 'well', ...this.well, word }]);
  }

  private amendedWell(): Entry {
    const word = this.word();
    const { id, version } = this.well;
    this.well = { id, version: version + 1 };
    const headers = { 'if-match': `"${version}"`, 'idempotency-key': uuidv7() };
    const request: WireRequest = { method: 'PATCH', path: `/api/wells/${id}`, body: { reason: 'Read again', note: word }, headers };
    return { request, effects: [{ table: 'well', ...this.well, word }], answer: null };
  }

  private inspection(): Entry {
    const effect: Effect = { table: 'inspection', id: uuidv7(), version: 1, word: this.word() };
    const from = { footageMm: Math.trunc(this.random() * 3_000_000) };
    return entered('inspections', {
      id: effect.id, observedAt: OBSERVED_AT, stringId: this.stringId, from, kind: 'visual', characteristic: 'seam', verdict: 'accepted', note: effect.word,
    }, [effect]);
  }

  private nonconformance(): Entry {
    const effect: Effect = { table: 'nonconformance', id: uuidv7(), version: 1, word: this.word() };
    const fromMm = Math.trunc(this.random() * 3_000_000);
    return entered('nonconformances', {
      id: effect.id, observedAt: OBSERVED_AT, title: effect.word, severity: 'major', origin: 'line', stringId: this.stringId,
      extents: [{ from: { footageMm: fromMm }, to: { footageMm: fromMm + 600 } }], extentBasis: 'measured',
      requirement: { document: 'Pipe inspection plan', revision: '2', clause: '4.3', limit: 'wall at least 4.75 mm' },
      found: { value: '4.610', unit: 'mm', method: 'ultrasonic', instrument: 'UT-04', at: OBSERVED_AT, by: this.options.personId },
      stage: 'open',
    }, [effect]);
  }

  private readings(): Entry {
    const effects = Array.from({ length: BATCH }, (): Effect => ({ table: 'counter_reading', id: uuidv7(), version: 1, word: this.word() }));
    const readings = effects.map(({ id, word }, nth) => ({
      id, observedAt: OBSERVED_AT, stringId: this.stringId, reading: String(1000 * nth), source: 'paper', note: word,
    }));
    return entered('counter-readings/batch', { readings }, effects);
  }
}

class WrongAnswer extends Error {}

function entered(path: string, body: object, effects: readonly Effect[]): Entry {
  return { request: { method: 'POST', path: `/api/${path}`, body }, effects, answer: null };
}
