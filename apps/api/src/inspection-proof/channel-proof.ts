import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import {
  FOUR_HOURLY, proofOf, unmetOccasions, type InspectionRun as InspectedRun, type OccasionRule, type Piece, type Proof, type ReferenceCheck as CountedCheck, type UnmetOccasion,
} from '#libs/reference-checks';
import type { Channel } from '../channels/channel.entity.js';
import type { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import type { LineSetup } from '../line/line-setup.entity.js';
import type { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { outcomeOf } from '../reference-checks/reference-check.rules.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { changesOf, type ShownChange } from './run-changes.js';

/** Where a run of a channel went in one go, and the pipe for which its samples speak; a run may have several. */
export interface Track {
  readonly runId: string;
  readonly pieces: readonly Piece[];
  readonly read: IntervalSet;
}

/** What is known of one channel. The runs, marks and checks may be those of the whole string. */
export interface KnownChannel {
  readonly channel: Channel;
  readonly tracks: readonly Track[];
  readonly runs: readonly InspectionRun[];
  readonly marks: readonly SignalMark[];
  readonly checks: readonly ReferenceCheck[];
  readonly setups: readonly LineSetup[];
}

export interface ProvenRun extends InspectedRun {
  readonly row: InspectionRun;
}

export interface ProvenCheck extends CountedCheck {
  readonly row: ReferenceCheck;
}

export type ChannelProof = Proof<ProvenRun, ProvenCheck>;

/** One channel, ready to be asked what its checks prove of any pipe. */
export interface ProvenChannel {
  readonly known: KnownChannel;
  readonly runs: readonly ProvenRun[];
  readonly checks: readonly ProvenCheck[];
}

/** The channel's own part of what is known; what a mark says is not valid was not inspected by the run that it is of. */
export function provenChannel(known: KnownChannel): ProvenChannel {
  const { channel } = known;
  const own = runsOf(known);
  const runs = known.tracks.flatMap(({ runId, pieces, read }): ProvenRun[] => {
    const index = own.findIndex(({ id }) => id === runId);
    const row = own[index];
    if (row === undefined) return [];
    const notValid = known.marks.filter((mark) => mark.runId === runId && mark.effect === 'not-valid' && mark.channelIds.includes(channel.id));
    // A channel is in one run at a time: one that another follows has ended, whether or not somebody wrote so.
    const ended = row.endedAt !== null || index < own.length - 1;
    return [{ id: runId, row, pieces, valid: read.subtract(IntervalSet.from(notValid.map(({ span }) => span))), ended }];
  });
  const checks = known.checks.flatMap((row): ProvenCheck[] => {
    const outcome = outcomeOf(row, channel.id);
    return outcome === null ? [] : [{ id: row.id, row, atUs: microseconds(row.observedAt), footageMm: row.span.fromMm, outcome, reason: row.occasion }];
  });
  return { known, runs, checks };
}

/** What the checks prove of the channel's inspection of this pipe. Throws RangeError as `proofOf`. */
export const proofWithin = ({ known, runs, checks }: ProvenChannel, asked: IntervalSet): ChannelProof => proofOf(runs, checks, known.channel.repeats, asked);

export type Unmet = UnmetOccasion<ProvenCheck> & { readonly changed: ShownChange | null };

/**
 * The occasions up to `asOfUs` at which no check of the channel was made in time. An end check is in time as long as its run
 * was not ended: who checks first and then writes the end did as is asked.
 */
export function unmetOf({ known, runs, checks }: ProvenChannel, asOfUs: number): readonly Unmet[] {
  const own = runsOf(known);
  const changes = changesOf(known.channel.id, own, known.setups);
  const whole = own.flatMap(({ id }): InspectedRun[] => {
    const parts = runs.filter((run) => run.id === id);
    const [first] = parts;
    return first === undefined ? [] : [{ ...first, pieces: parts.flatMap(({ pieces }) => pieces) }];
  });
  const endedUs = new Map(own.map(({ id, endedAt }) => [id, endedAt === null ? -Infinity : microseconds(endedAt)]));
  return unmetOccasions(whole, checks, changes, checkRule(known.channel), asOfUs)
    .filter(({ occasion, run, check }) => !(occasion === 'end' && check !== null && check.atUs <= (endedUs.get(run) ?? -Infinity)))
    .map((one) => ({ ...one, changed: changes.find(({ id, kind }) => id === one.change && one.occasion === `${kind}-change`) ?? null }));
}

const MINUTE_US = 60_000_000;
const NO_SOURCE = 'No source is on record for this rule.';

/** How often a channel is to be checked, and where that comes from. */
export function checkRule({ checkEveryMinutes, checkGraceMinutes, checkRuleSource }: Channel): OccasionRule {
  const [everyUs, graceUs] = [checkEveryMinutes * MINUTE_US, checkGraceMinutes * MINUTE_US];
  return { everyUs, graceUs, source: checkRuleSource ?? (everyUs === FOUR_HOURLY.everyUs ? FOUR_HOURLY.source : NO_SOURCE) };
}

/** The runs that the channel is in, by when they started. */
function runsOf({ channel, runs }: KnownChannel): readonly InspectionRun[] {
  const own = runs.filter(({ channelIds }) => channelIds.includes(channel.id));
  return own.toSorted((one, other) => microseconds(one.observedAt) - microseconds(other.observedAt) || (one.id < other.id ? -1 : 1));
}

export type StateSets = Readonly<Record<'confirmed' | 'provisional' | 'suspect' | 'missing', IntervalSet>>;

/** The pipe asked for by the worst that any of the channels says of it; null without a channel. */
export function worstOf(proofs: readonly ChannelProof[], asked: IntervalSet): StateSets | null {
  if (proofs.length === 0) return null;
  const inState = (state: keyof StateSets): IntervalSet => IntervalSet.from(proofs.flatMap((proof) => proof[state].intervals));
  const missing = inState('missing');
  const suspect = inState('suspect').subtract(missing);
  const provisional = inState('provisional').subtract(missing).subtract(suspect);
  return { confirmed: asked.subtract(missing).subtract(suspect).subtract(provisional), provisional, suspect, missing };
}
