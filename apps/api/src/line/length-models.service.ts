import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { LengthModel, footageAtReading, type HangOffPath, type StringLengths, type WeldFootage } from '#libs/length';
import { microseconds } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import type { CasingString } from '../strings/casing-string.entity.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { CounterReading } from './counter-reading.entity.js';
import { HangOffVersion } from './hang-off.entity.js';
import { cutOutOf, knowledgeOf, loadLine, pathOf, recordRef, type LineRecords } from './line-loader.js';
import type { LineKnowledge } from './line-knowledge.js';
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
  readonly readings: readonly CounterReading[];
}

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
    const model = await this.load(stringId, asKnownAt, 'settled');
    if (settled) this.kept.set(key, model);
    return model;
  }

  private async current(stringId: string, revision: string): Promise<StringModel> {
    const kept = this.kept.get(stringId);
    if (kept?.revision === revision) return kept;
    // Read after its revision: a write in between makes the model newer than its label, never older.
    const model = await this.load(stringId, null, revision);
    this.kept.set(stringId, model);
    return model;
  }

  private async load(stringId: string, asKnownAt: string | null, revision: string): Promise<StringModel> {
    const string = await this.strings.row(stringId, asKnownAt);
    const { store, dataSource } = this.desk;
    const onString = "string_id = $1 and state = 'active'";
    const order = 'order by observed_at, id';
    const { records } = await loadLine(store, dataSource.manager, stringId, asKnownAt);
    const ties = await store.select(ShoeTieVersion, onString, [stringId], asKnownAt, order);
    const hangOffs = await store.select(HangOffVersion, onString, [stringId], asKnownAt, order);
    const readings = await store.select(
      CounterReading, `${onString} and counter = $2`, [stringId, string.masterCounter], asKnownAt, order,
    );
    const line = knowledgeOf(string.masterCounter, records);
    const hangOff = hangOffs[0] ?? null;
    const parts = { string, line, records, ties, hangOff, readings };
    return { ...parts, revision, lengths: new LengthModel(stringLengths(parts)) };
  }
}

type Parts = Omit<StringModel, 'lengths' | 'revision'>;

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
