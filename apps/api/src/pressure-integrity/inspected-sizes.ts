import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { PipeKnowledge, Standing } from '#libs/ratings';
import type { Inspection } from '../inspections/inspection.entity.js';
import { INSPECTIONS, linkOf, REPAIRS } from '../recall/record-kinds.js';
import type { Repair } from '../repairs/repair.entity.js';
import { refOf, type Origins } from './origins.js';
import { inUnit } from './printed-value.js';

export type WallReading = PipeKnowledge['walls'][number];

const WALL = /\bwall thickness\b|^wall$/i;
const DIAMETER = /\b(?:outside|outer) diameter\b|^od$/i;

/** Pipe of an interval that was not repaired after an instant: a reading made before says nothing of it. */
export function notRepairedSince(atUs: number, span: Interval, repairs: readonly Pick<Repair, 'span' | 'observedAt'>[]): IntervalSet {
  return IntervalSet.of(span).subtract(IntervalSet.from(repairs.filter(({ observedAt }) => microseconds(observedAt) > atUs).map((repair) => repair.span)));
}

/** Wall thicknesses read by hand, and left by repairs, each for the pipe that it was entered for. */
export function inspectedWalls(inspections: readonly Inspection[], repairs: readonly Repair[], origins: Origins): WallReading[] {
  const read = inspections.filter(({ characteristic }) => WALL.test(characteristic)).flatMap((row) =>
    standing(row, row.value === null || row.unit === null ? null : inUnit(row.value, row.unit, 'mm'), repairs, (value) => {
      const record = linkOf(INSPECTIONS, row);
      return origins.with({ value, record: refOf(record), basis: 'measured minimum' as const }, { what: row.characteristic, record, at: row.span, u: null });
    }));
  const left = repairs.flatMap((row) => standing(row, row.remainingWallMm === null ? null : inUnit(row.remainingWallMm, 'mm', 'mm'), repairs, (value) => {
    const record = linkOf(REPAIRS, row);
    return origins.with({ value, record: refOf(record), basis: 'measured minimum' as const }, { what: 'wall left by a repair', record, at: row.span, u: null });
  }));
  return [...read, ...left];
}

/** Outside diameters read by hand. */
export function inspectedDiameters(inspections: readonly Inspection[], repairs: readonly Repair[], origins: Origins): PipeKnowledge['diameters'] {
  return inspections.filter(({ characteristic }) => DIAMETER.test(characteristic)).flatMap((row) =>
    standing(row, row.value === null || row.unit === null ? null : inUnit(row.value, row.unit, 'mm'), repairs, (value) => {
      const record = linkOf(INSPECTIONS, row);
      return origins.with({ value, record: refOf(record) }, { what: row.characteristic, record, at: row.span, u: null });
    }));
}

function standing<T>({ span, observedAt }: Inspection | Repair, value: string | null, repairs: readonly Repair[], given: (value: string) => T): Standing<T>[] {
  if (value === null) return [];
  const of = given(value);
  return notRepairedSince(microseconds(observedAt), span, repairs).intervals.map((interval) => ({ interval, of }));
}
