import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { inTransaction, RecordStore, type NewVersion, type RecordClass, type RecordVersion } from '#libs/persistence';
import { StringChanges } from '../../apps/api/src/records/string-changes.js';
import type { Answer, SignedIn, TestApi } from './api.js';
import { permitted } from './string-builder.js';

export type Fields = Record<string, unknown>;

/** When everything happened that says nothing else. */
export const AT = '2026-03-02T08:15:00.000000Z';

/** A well, strings and coils to enter records on, as one person. */
export class StringBench {
  private drawn = 0;

  private constructor(
    readonly api: TestApi,
    readonly who: SignedIn,
    readonly wellId: string,
    readonly heatId: string,
  ) {}

  static async on(api: TestApi): Promise<StringBench> {
    const who = await api.signIn('materials-engineer');
    const first = new StringBench(api, who, '', '');
    const well = await first.made('wells', { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame' });
    const heat = await first.made('heats', { number: 'H40711', grade: 'S420MC' });
    return new StringBench(api, who, well, heat);
  }

  /** Sends a new record; an id is given to it unless `content` has one. */
  enter(path: string, content: Fields): Promise<Answer> {
    return this.who.send('POST', `/api/${path}`, { body: { id: uuidv7(), observedAt: AT, ...content } });
  }

  /** The id of a record just entered. */
  async made(path: string, content: Fields): Promise<string> {
    const answer = await this.enter(path, content);
    expect(answer).toMatchObject({ status: 201 });
    return String(answer.body['id']);
  }

  get(path: string): Promise<Answer> {
    return this.who.send('GET', `/api/${path}`);
  }

  /** How many records a list shows. */
  async count(path: string): Promise<number> {
    const { body } = await this.get(path);
    return (body['items'] as unknown[]).length;
  }

  amend(path: string, version: number, changes: Fields): Promise<Answer> {
    return this.who.send('PATCH', `/api/${path}`, { body: { reason: 'Read again', ...changes }, headers: { 'if-match': `"${version}"` } });
  }

  withdraw(path: string, version: number): Promise<Answer> {
    return this.who.send('POST', `/api/${path}/void`, { body: { reason: 'Entered twice' }, headers: { 'if-match': `"${version}"` } });
  }

  /** A string of 4 km. */
  string(changes: Fields = {}): Promise<string> {
    return this.made('casing-strings', {
      wellId: this.wellId, name: this.another('Lindmoor 2 string'), footageLimitMm: 4_000_000, outsideDiameterMm: '127.0',
      wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', ...changes,
    });
  }

  /** A coil of 7,850 kg of 400 mm by 5 mm strip: 500 m. Its use is permitted. */
  async coil(changes: Fields = {}): Promise<string> {
    const id = await this.unpermittedCoil(changes);
    await permitted(this.who, id);
    return id;
  }

  /** The same, on which nobody decided. */
  unpermittedCoil(changes: Fields = {}): Promise<string> {
    return this.made('coils', {
      number: this.another('LM'), heatId: this.heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850',
      lengthMm: 500_000, ...changes,
    });
  }

  /** Writes a first version past the routes, for what a test only needs to stand there. */
  async stand<R extends RecordVersion>(type: RecordClass<R>, columns: Fields): Promise<string> {
    const id = uuidv7();
    const common = {
      id, observedAt: AT, state: 'active', doneBy: this.who.personId, source: 'keyed', reason: null, marks: [], digest: '',
    };
    await this.write((store, tx) => store.append(tx, type, { ...common, ...columns } as unknown as NewVersion<R>));
    return id;
  }

  /** Changes a record past the routes and has the positions on the string derived again. */
  async correct<R extends RecordVersion>(type: RecordClass<R>, stringId: string, id: string, columns: Fields): Promise<void> {
    await this.write(async (store, tx) => {
      const row = await store.find(type, id, null, tx.manager);
      if (row === null) throw new Error(`nothing under ${id}`);
      await store.amend(tx, type, row.version, Object.assign(new type(), row, { reason: 'Corrected' }, columns));
      await this.api.app.get(StringChanges).announce(tx, stringId, 'the counter was corrected');
    });
  }

  private another(prefix: string): string {
    this.drawn += 1;
    return `${prefix}-${String(this.drawn).padStart(2, '0')}`;
  }

  private async write(work: (store: RecordStore, tx: Parameters<Parameters<typeof inTransaction>[3]>[0]) => Promise<unknown>): Promise<void> {
    const { dataSource } = this.api;
    const actor = { personId: this.who.personId, via: 'test', requestId: uuidv7(), deviceId: null };
    await inTransaction(dataSource, actor, null, (tx) => work(new RecordStore(dataSource), tx));
  }
}

/** The columns of a counter period from 1 March on, in which footage is the reading in counts of 1 mm. */
export const countsOfOneMm = (stringId: string): Fields => ({
  stringId, counter: 'main', during: { from: '2026-03-01T00:00:00.000000Z', until: null }, startReading: '0',
  previousEndReading: null, startGivenMm: 0, startFootageMm: '0', scaleMmPerCount: '1', scaleRelativeU: '0.0005',
  wheel: null, note: null,
});

/** One field of each object in a list of an answer. */
export function each(answer: Answer, list: 'items' | 'errors' | 'versions', field: string): unknown[] {
  return (answer.body[list] as Fields[]).map((entry) => entry[field]);
}
