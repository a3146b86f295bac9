import type { EntityManager } from 'typeorm';
import type { RecordRef } from '#libs/explanation';
import type { CutOut, PathDistance } from '#libs/length';
import { microseconds, run, type RecordStore, type RecordVersion } from '#libs/persistence';
import { CounterPeriodVersion } from './counter-period.entity.js';
import { CutOutVersion } from './cut-out.entity.js';
import { LineKnowledge, type TimedPeriod, type TimedSetup } from './line-knowledge.js';
import { LineSetup, type StationColumn } from './line-setup.entity.js';

const ACTIVE_ON_STRING = "string_id = $1 and state = 'active'";

/** What a period's place in the chain rests on. */
export type PeriodColumns = Pick<
  CounterPeriodVersion,
  'counter' | 'during' | 'startReading' | 'previousEndReading' | 'startGivenMm' | 'scaleMmPerCount' | 'scaleRelativeU'
>;

export function recordRef(kind: string, row: RecordVersion): RecordRef {
  return { kind, id: row.id, version: row.version };
}

export function pathOf({ pathMinMm, pathMaxMm, uMm }: StationColumn): PathDistance {
  return { minMm: pathMinMm, maxMm: pathMaxMm, uMm: Number(uMm) };
}

/** A counter period as the chain of periods takes it. */
export function timedPeriod(row: PeriodColumns, record: RecordRef): TimedPeriod {
  return {
    record,
    counter: row.counter,
    during: row.during,
    startReading: Number(row.startReading),
    start:
      row.previousEndReading === null
        ? { kind: 'established', footageMm: row.startGivenMm ?? 0 }
        : { kind: 'continues', previousEndReading: Number(row.previousEndReading) },
    scaleMmPerCount: Number(row.scaleMmPerCount),
    scaleRelativeU: Number(row.scaleRelativeU),
  };
}

function timedSetup(row: LineSetup): TimedSetup {
  return {
    id: row.id,
    validFrom: row.observedAt,
    stations: row.stations.map((station) => ({ name: station.name, role: station.role, path: pathOf(station) })),
  };
}

export function cutOutOf(row: CutOutVersion): CutOut {
  return { record: recordRef('cut-out', row), ...row.span, atUs: microseconds(row.observedAt) };
}

/** The records that positions on a string rest on, as known at an instant, or now. */
export interface LineRecords {
  readonly periods: readonly CounterPeriodVersion[];
  readonly setups: readonly LineSetup[];
  readonly cutOuts: readonly CutOutVersion[];
}

interface LineRow {
  readonly master_counter: string | null;
  readonly periods: readonly (readonly unknown[])[];
  readonly setups: readonly (readonly unknown[])[];
  readonly cut_outs: readonly (readonly unknown[])[];
}

/** They are read in one statement, with the string's master counter as known now; null when no such string is in use. */
export async function loadLine(
  store: RecordStore, manager: EntityManager, stringId: string, asKnownAt: string | null,
): Promise<{ readonly masterCounter: string | null; readonly records: LineRecords }> {
  const of = { condition: ACTIVE_ON_STRING, order: 'observed_at, id', known: asKnownAt === null ? null : '$2' };
  const { rows: [row] } = await run<LineRow>(
    manager,
    `select (select master_counter from casing_string where id = $1 and known_until is null and state = 'active') as master_counter,
            ${store.packedWhole(CounterPeriodVersion, of)} as periods,
            ${store.packedWhole(LineSetup, of)} as setups,
            ${store.packedWhole(CutOutVersion, of)} as cut_outs`,
    asKnownAt === null ? [stringId] : [stringId, asKnownAt],
  );
  return {
    masterCounter: row?.master_counter ?? null,
    records: {
      periods: store.unpackWhole(CounterPeriodVersion, row?.periods ?? []),
      setups: store.unpackWhole(LineSetup, row?.setups ?? []),
      cutOuts: store.unpackWhole(CutOutVersion, row?.cut_outs ?? []),
    },
  };
}

export function knowledgeOf(masterCounter: string, { periods, setups, cutOuts }: LineRecords): LineKnowledge {
  return new LineKnowledge({
    masterCounter,
    periods: periods.map((row) => timedPeriod(row, recordRef('counter-period', row))),
    setups: setups.map(timedSetup),
    cutOuts: cutOuts.map(cutOutOf),
  });
}
