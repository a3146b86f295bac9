import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import type { EntityManager } from 'typeorm';
import { LengthModel, footageAtReading, type HangOffPath, type StringLengths, type WeldFootage } from '#libs/length';
import { instantFromDatabase, microseconds, onOneConnection, run } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import type { CasingString } from '../strings/casing-string.entity.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { CounterReading } from './counter-reading.entity.js';
import { HangOffVersion } from './hang-off.entity.js';
import { cutOutOf, knowledgeOf, loadLine, pathOf, recordRef, type LineRecords } from './line-loader.js';
import type { LineKnowledge } from './line-knowledge.js';
import { readingsToAppend } from './readings-since.js';
import { ShoeTieVersion } from './shoe-tie.entity.js';

/** Everything about the lengths of one string as known at one instant, ready to be asked. */
export interface StringModel {
  readonly string: CasingString;
  readonly revision: string;
  readonly line: LineKnowledge;
  readonly lengths: LengthModel;
  readonly records: LineRecords;
  readonly ties: readonly ShoeTieVersion[];
  readonly hangOff: HangOffVersion | null;
  /** Those of the master counter, in the order of time. */
  readonly readings: readonly CounterReading[];
  /** When the last reading that it knows, of any counter, became known; null without one, and of an earlier knowledge. */
  readonly readingsKnownFrom: string | null;
}

const ON_STRING = "string_id = $1 and state = 'active'";
const IN_TIME = 'order by observed_at, id';

const KEPT_MODELS = 300;
/** A transaction older than this cannot still commit: what was known before is settled for ever. */
const SETTLED_AFTER_MS = 60_000;

/** Length models of strings, kept while the string's revision stands still. */
@Injectable()
export class LengthModels {
  private readonly kept = new LRUCache<string, StringModel>({ max: KEPT_MODELS });

  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
  ) {}

  /** The revision of the string's model as committed now. */
  revision(stringId: string): Promise<string> {
    return this.desk.changes.revision(this.desk.dataSource.manager, stringId);
  }

  /** The model kept for the string as known now, however old it may be; null when none is kept. */
  keptModel(stringId: string): StringModel | null {
    return this.kept.get(stringId) ?? null;
  }

  /** The model as known at an instant, or now; `seen` is a revision that was seen just now. Throws 404 when the string was not known then. */
  async of(stringId: string, asKnownAt: string | null, seen: string | null = null): Promise<StringModel> {
    if (asKnownAt === null) return this.current(stringId, seen ?? await this.revision(stringId));
    const key = `${stringId}@${asKnownAt}`;
    const settled = Date.parse(asKnownAt) < Date.now() - SETTLED_AFTER_MS;
    const kept = settled ? this.kept.get(key) : undefined;
    if (kept !== undefined) return kept;
    const model = await this.load(stringId, asKnownAt);
    if (settled) this.kept.set(key, model);
    return model;
  }

  private async current(stringId: string, revision: string): Promise<StringModel> {
    const kept = this.kept.get(stringId);
    if (kept?.revision === revision) return kept;
    const model = (kept === undefined ? null : await this.grown(kept)) ?? await this.loadNow(stringId);
    this.kept.set(stringId, model);
    return model;
  }

  /** The model with the readings that were entered since; null where more than that moved. A line sends several a second. */
  private async grown(model: StringModel): Promise<StringModel | null> {
    const { store, dataSource } = this.desk;
    const { string, line, readings, readingsKnownFrom } = model;
    const since = store.packedWhole(CounterReading, { condition: 'string_id = $1 and known_from > $2', order: 'observed_at, id', known: null });
    // In one statement, so that they are of one moment.
    const { rows: [row] } = await run<{ revision: string; since: readonly (readonly unknown[])[] }>(
      dataSource.manager, `select revision_of($1) as revision, ${since} as since`, [string.id, readingsKnownFrom ?? '-infinity'],
    );
    if (row === undefined) return null;
    const entered = store.unpackWhole(CounterReading, row.since);
    const known = { revision: model.revision, knownFrom: readingsKnownFrom, last: readings.at(-1) ?? null };
    const appended = readingsToAppend(string.id, string.masterCounter, known, { revision: row.revision, since: entered });
    if (appended === null) return null;
    const grown = { ...model, revision: row.revision, readingsKnownFrom: lastKnown(entered) ?? readingsKnownFrom };
    if (appended.length === 0) return grown;
    const { lengths } = model.lengths;
    const weldFootage = [...lengths.weldFootage, ...weldFootages(string, line, appended)];
    return { ...grown, readings: [...readings, ...appended], lengths: new LengthModel({ ...lengths, weldFootage }) };
  }

  /** All of it as committed at one moment, with the revision of that moment. */
  private async loadNow(stringId: string): Promise<StringModel> {
    const { dataSource } = this.desk;
    const string = await this.strings.row(stringId, null);
    const parts = await onOneConnection(dataSource, async (manager) => {
      await run(manager, 'begin isolation level repeatable read read only', []);
      try {
        const { rows: [known] } = await run<{ revision: string; last: string | null }>(
          manager, 'select revision_of($1) as revision, (select max(known_from) from counter_reading where string_id = $1) as last', [stringId],
        );
        return { ...(await this.read(manager, string, null)), revision: known?.revision ?? '', readingsKnownFrom: known?.last == null ? null : instantFromDatabase(known.last) };
      } finally {
        await run(manager, 'commit', []).catch(() => undefined);
      }
    });
    // The string itself may have moved before that moment.
    const { version } = await this.strings.row(stringId, null);
    return version === string.version ? withLengths(string, parts) : this.loadNow(stringId);
  }

  private async load(stringId: string, asKnownAt: string): Promise<StringModel> {
    const string = await this.strings.row(stringId, asKnownAt);
    const parts = await this.read(this.desk.dataSource.manager, string, asKnownAt);
    return withLengths(string, { ...parts, revision: 'settled', readingsKnownFrom: null });
  }

  private async read(manager: EntityManager, { id, masterCounter }: CasingString, asKnownAt: string | null): Promise<Read> {
    const { store } = this.desk;
    const { records } = await loadLine(store, manager, id, asKnownAt);
    const ties = await store.select(ShoeTieVersion, ON_STRING, [id], asKnownAt, IN_TIME, manager);
    const hangOffs = await store.select(HangOffVersion, ON_STRING, [id], asKnownAt, IN_TIME, manager);
    const readings = await store.select(CounterReading, `${ON_STRING} and counter = $2`, [id, masterCounter], asKnownAt, IN_TIME, manager);
    return { records, ties, hangOff: hangOffs[0] ?? null, readings };
  }
}

type Read = Pick<StringModel, 'records' | 'ties' | 'hangOff' | 'readings'>;

function withLengths(string: CasingString, parts: Read & Pick<StringModel, 'revision' | 'readingsKnownFrom'>): StringModel {
  const model = { ...parts, string, line: knowledgeOf(string.masterCounter, parts.records) };
  return { ...model, lengths: new LengthModel(stringLengths(model)) };
}

/** The latest instant at which one of them became known; null without any. */
const lastKnown = (rows: readonly CounterReading[]): string | null =>
  rows.reduce<string | null>((last, { knownFrom }) => (last === null || microseconds(knownFrom) > microseconds(last) ? knownFrom : last), null);

type Parts = Omit<StringModel, 'lengths' | 'revision' | 'readingsKnownFrom'>;

function stringLengths({ string, line, records, ties, hangOff, readings }: Parts): StringLengths {
  return {
    cutOuts: records.cutOuts.map(cutOutOf),
    hangOff:
      hangOff === null
        ? null
        : {
            record: recordRef('hang-off', hangOff),
            footageMm: hangOff.span.fromMm,
            mdMm: hangOff.mdMm,
            uFootageMm: Number(hangOff.fromUMm),
            uMdMm: Number(hangOff.mdUMm),
            atUs: microseconds(hangOff.observedAt),
          },
    hangOffPath: hangOffPaths(records),
    defaultRatio: {
      record: recordRef('casing-string', string),
      lambda: Number(string.lengthRatio),
      u: Number(string.lengthRatioU),
    },
    shoeTies: ties.map((tie) => ({
      record: recordRef('shoe-tie', tie),
      atUs: microseconds(tie.observedAt),
      weldFootageMm: tie.weldFootageMm,
      shoeMdMm: tie.shoeMdMm,
      uShoeMm: Number(tie.shoeUMm),
    })),
    weldFootage: weldFootages(string, line, readings),
    scaleRelativeU: Math.max(0, ...records.periods.map((period) => Number(period.scaleRelativeU))),
    kappa: string.diameterRatio === null ? null : Number(string.diameterRatio),
  };
}

function hangOffPaths({ setups }: LineRecords): HangOffPath[] {
  return setups.flatMap((setup) => {
    const station = setup.stations.find(({ role }) => role === 'hang-off');
    if (station === undefined) return [];
    const { minMm, maxMm, uMm } = pathOf(station);
    const path = { pathMm: (minMm + maxMm) / 2, uPathMm: uMm };
    return [{ record: recordRef('line-setup', setup), validFromUs: microseconds(setup.observedAt), ...path }];
  });
}

/** A reading outside every period of its counter has no footage; reconciliation lists it, the model leaves it out. */
function weldFootages(string: CasingString, line: LineKnowledge, readings: readonly CounterReading[]): WeldFootage[] {
  return readings.flatMap((row) => {
    const atUs = microseconds(row.observedAt);
    const period = line.periodAt(string.masterCounter, atUs);
    if (period === null) return [];
    const reading = Number(row.reading);
    const footageMm = footageAtReading(period, reading);
    return [{ record: recordRef('counter-reading', row), atUs, footageMm, readIn: { period, reading } }];
  });
}
