import type { IntervalSet } from '#libs/intervals';
import { countsOn, turnedDownOn, type On, type OpenPoint, type RepairEvent } from '#libs/reinspection';
import type { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import type { AfterRepair } from './after-repair.js';
import type { RecordedChange, RecordedLook, RecordedRepair } from './looks.js';
import { openInWords, openSinceWeldInWords, pipeInWords, sensitivityInWords } from './open-words.js';
import type { LookAtRepairAnswer, OpenAfterRepairAnswer, ReinspectionAnswer, RepairStateAnswer } from './reinspection.dto.js';

export const intervalsOf = ({ intervals }: IntervalSet): IntervalAnswer[] => intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm }));

/** All that is open after a repair: of the looks at it, of those at what was welded again since, and of what was measured of it. */
export function openAfter({ row, on }: RecordedRepair, removed: IntervalSet, { open, openSinceWelds }: AfterRepair): OpenAfterRepairAnswer[] {
  const left = on.subtract(removed);
  const beyond = left.isEmpty ? [] : row.marks.filter(({ kind }) => kind === 'out-of-specification');
  return [
    ...open.map((point) => openAnswer(point, openInWords(point))),
    ...openSinceWelds.flatMap(({ weld, open: points }) => points.map((point) => openAnswer(point, openSinceWeldInWords(point, weld.observedAt)))),
    ...beyond.map(({ field, value, limit }): OpenAfterRepairAnswer => ({
      reason: 'beyond-limit', on: intervalsOf(left), words: `${pipeInWords(left)}: ${field} ${value}, ${limit}`, before: [], since: [],
    })),
  ];
}

const openAnswer = ({ reason, on, before, since }: OpenPoint<RecordedLook>, words: string): OpenAfterRepairAnswer =>
  ({ reason, on: intervalsOf(on), words, before: linksOf(before), since: linksOf(since) });

const linksOf = (looks: readonly RecordedLook[]): RecordLink[] => looks.map(({ record }) => record);

/** The parts of the answer about one repair. */
export function reinspectionParts(found: AfterRepair, changes: readonly RecordedChange[]): Omit<ReinspectionAnswer, 'repair' | 'open' | 'caution'> {
  const looked = ({ it, on }: On<RecordedLook>): LookAtRepairAnswer => ({
    record: it.record, method: it.method, technique: it.technique, sensitivity: it.sensitivity === null ? null : sensitivityInWords(it), outcome: it.outcome,
    standsInFor: [...it.standsInFor], standIn: it.standIn, at: it.observedAt, doneBy: it.doneBy, on: intervalsOf(on), countsOn: intervalsOf(countsOn(it, changes)),
  });
  return {
    standing: intervalsOf(found.standing), noLongerCount: found.noLongerCount.map(looked), since: found.since.map(looked),
    changedAgain: found.repairedAgain.map(({ it, on }) => ({ by: it.record, on: intervalsOf(on) })),
  };
}

/**
 * What examinations since pipe was made or welded held or rejected, where it was not repaired since: of repaired pipe its repair tells.
 * One of the very instant of the weld may have been of it or of what was there before: it stays told.
 */
export function turnedDown(made: RepairEvent, repairs: readonly RecordedRepair[], examinations: readonly RecordedLook[]): OpenPoint<RecordedLook>[] {
  const standing = countsOn(made, repairs);
  return turnedDownOn(examinations.filter(({ atUs }) => atUs >= made.atUs).map((it) => ({ it, on: it.on.intersect(standing) })));
}

/** A repair in few words, with what is open after it. */
export function repairState({ row, record, on }: RecordedRepair, open: readonly OpenAfterRepairAnswer[]): RepairStateAnswer {
  return {
    repair: record, method: row.method, at: row.observedAt, doneBy: row.doneBy, on: intervalsOf(on), isClosed: open.length === 0,
    open: open.map(({ words }) => words),
  };
}

/** What is open after repairs, each line with its repair. */
export const openOfRepairs = (repairs: readonly Pick<RepairStateAnswer, 'repair' | 'at' | 'open'>[]): string[] =>
  repairs.flatMap(({ repair: { label }, at, open }) => open.map((words) => `${label} of ${at}: ${words}`));
