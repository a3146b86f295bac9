import { compare, decimal } from '#libs/exact';
import { microseconds } from '#libs/persistence';
import type { Change } from '#libs/reference-checks';
import type { ChannelSetting, InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import type { LineSetup } from '../line/line-setup.entity.js';

/** A change of operator or set-up, and the record that shows it: the run that began with it, or the line set-up. */
export interface ShownChange extends Change {
  readonly shownBy: { readonly run: InspectionRun } | { readonly setup: LineSetup };
}

type Run = InspectionRun;
const NOTHING_SET: Omit<ChannelSetting, 'channelId'> = { gainDb: null, threshold: null, filter: null, note: null };

/**
 * The changes that a channel's runs (in order of their starts) and the line set-ups show. Between two runs, what changed did so
 * from the end of the one on, or at the start of the other where it had not ended: a check made in between came after it.
 * A new line set-up within a run changes its set-up at once.
 */
export function changesOf(channelId: string, runs: readonly Run[], setups: readonly LineSetup[]): ShownChange[] {
  const between = runs.slice(1).flatMap((run, index): ShownChange[] => {
    const before = runs[index] as Run;
    const kinds = [...(before.doneBy === run.doneBy ? [] : ['operator'] as const), ...(isSetAlike(channelId, before, run) ? [] : ['set-up'] as const)];
    const startUs = microseconds(run.observedAt);
    const atUs = before.endedAt === null ? startUs : Math.min(microseconds(before.endedAt), startUs);
    return kinds.map((kind) => ({ id: run.id, kind, atUs, shownBy: { run } }));
  });
  const within = setups.filter((setup) => runs.some((run) => isWithin(setup.observedAt, run)));
  return [...between, ...within.map((setup): ShownChange => ({ id: setup.id, kind: 'set-up', atUs: microseconds(setup.observedAt), shownBy: { setup } }))];
}

function isWithin(at: string, { observedAt, endedAt }: Run): boolean {
  const us = microseconds(at);
  return us > microseconds(observedAt) && (endedAt === null || us < microseconds(endedAt));
}

/** What nobody says was set is not the same as what somebody says: the cautious choice. */
function isSetAlike(channelId: string, one: Run, other: Run): boolean {
  const [before, after] = [one, other].map(({ settings }) => settings.find((setting) => setting.channelId === channelId) ?? NOTHING_SET);
  if (before === undefined || after === undefined) return false;
  return one.standardId === other.standardId && isSame(before.gainDb, after.gainDb) && isSame(before.threshold, after.threshold)
    && before.filter === after.filter && before.note === after.note;
}

const isSame = (one: string | null, other: string | null): boolean => (one === null || other === null ? one === other : compare(decimal(one), decimal(other)) === 0);
