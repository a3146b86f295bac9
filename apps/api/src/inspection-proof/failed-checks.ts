import { IntervalSet, type Interval } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import type { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';
import type { Channel } from '../channels/channel.entity.js';
import type { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { isReached } from '../reference-checks/reference-check.rules.js';
import { proofWithin, type ProvenChannel, type ProvenCheck } from './channel-proof.js';

/** Which pipe a failed check puts in doubt: inspected since the last check that passed, or from it on to the next that passed. */
export type DoubtSide = 'before' | 'after';

/** Pipe that a failed check makes suspect, for channels of which that is the same pipe. */
export interface DoubtOfCheck {
  readonly check: ReferenceCheck;
  readonly side: DoubtSide;
  readonly channels: readonly Channel[];
  readonly footage: IntervalSet;
  /** The last check that passed before it, or the next one after; null where there is none. */
  readonly goodUs: number | null;
}

/**
 * What the failed checks of some channels make suspect of the pipe on hand, check by check in order of time. A look whose state
 * counts nowhere puts nothing in doubt: pipe proven by another look stays so.
 */
export function doubtsOf(channels: readonly ProvenChannel[], onHand: IntervalSet): DoubtOfCheck[] {
  const grouped = new Map<string, DoubtOfCheck>();
  const found = channels.flatMap((one) => doubtsOfChannel(one, onHand));
  for (const doubt of found.filter(({ footage }) => !footage.isEmpty)) {
    const key = [doubt.check.id, doubt.side, doubt.goodUs, doubt.footage.toMultirange()].join(' ');
    const same = grouped.get(key);
    grouped.set(key, same === undefined ? doubt : { ...same, channels: [...same.channels, ...doubt.channels] });
  }
  const order = (one: DoubtOfCheck, other: DoubtOfCheck): number => (one.check.observedAt < other.check.observedAt ? -1 : Number(one.check.observedAt > other.check.observedAt));
  return [...grouped.values()].sort(order);
}

function doubtsOfChannel(one: ProvenChannel, onHand: IntervalSet): DoubtOfCheck[] {
  const { channel } = one.known;
  const suspects = proofWithin(one, onHand).stretches.flatMap(({ state, counts, fromMm, toMm }) =>
    (state === 'suspect' && counts !== null ? [{ fromMm, toMm, bracket: counts.bracket }] : []));
  const failed = one.checks.filter(({ outcome }) => outcome === 'failed');
  const good = goodInstants(one.checks);
  return failed.flatMap((check): DoubtOfCheck[] => {
    const lastGoodUs = good.findLast((atUs) => atUs < check.atUs) ?? null;
    const nextGoodUs = good.find((atUs) => atUs > check.atUs) ?? null;
    const before = suspects.filter(({ bracket }) => bracket.fromUs >= (lastGoodUs ?? -Infinity) && bracket.toUs <= check.atUs);
    // Between two that failed the later one tells of it, as pipe back to the last good check.
    const after = suspects.filter(({ bracket }) => bracket.reason === 'failed-before' && bracket.fromUs === check.atUs);
    const footageOf = (spans: readonly Interval[]): IntervalSet => IntervalSet.from(spans);
    return [
      { check: check.row, side: 'before', channels: [channel], footage: footageOf(before), goodUs: lastGoodUs },
      { check: check.row, side: 'after', channels: [channel], footage: footageOf(after), goodUs: nextGoodUs },
    ];
  });
}

/** When a check passed and none failed at the same instant, rising. */
function goodInstants(checks: readonly ProvenCheck[]): readonly number[] {
  const failedUs = new Set(checks.filter(({ outcome }) => outcome === 'failed').map(({ atUs }) => atUs));
  return checks.filter(({ outcome, atUs }) => outcome === 'passed' && !failedUs.has(atUs)).map(({ atUs }) => atUs).sort((one, other) => one - other);
}

/** A nonconformance names so many places at most; more make further ones. */
const MOST_EXTENTS = 50;

/** Nonconformances to enter for a failed check, with its suspect footage and no other. They are proposals: a person reads, completes and enters them. */
export function proposedNonconformances(doubt: DoubtOfCheck, standardNumber: string): NonconformanceInput[] {
  const { check, channels, footage } = doubt;
  const extents = footage.intervals.map(({ fromMm, toMm }) => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } }));
  const parts = Array.from({ length: Math.ceil(extents.length / MOST_EXTENTS) }, (_, index) => extents.slice(index * MOST_EXTENTS, (index + 1) * MOST_EXTENTS));
  const names = channels.map(({ name }) => name).join(', ');
  const [first] = channels;
  return parts.map((own, index): NonconformanceInput => ({
    observedAt: check.observedAt, title: cut(`Reference check failed: ${names}`, 200), severity: 'major', origin: 'line', stringId: check.stringId, extents: own, extentBasis: 'bracketed',
    requirement: { document: first?.checkRuleSource ?? 'Reference checks', revision: '-', clause: `${check.occasion} check`, limit: cut(limitsText(check, channels), 300) },
    found: {
      text: cut(`${shownText(check, channels)}. ${sinceText(doubt)}${parts.length === 1 ? '' : ` Part ${index + 1} of ${parts.length}.`}`, 2000),
      method: `${check.mode} reference check`, instrument: standardNumber, at: check.observedAt, by: check.doneBy,
    },
    ...(check.action === null ? {} : { containment: { action: check.action, at: check.observedAt, by: check.doneBy } }),
    stage: 'draft',
  }));
}

/** In words, what pipe it is. */
export function sinceText({ side, goodUs, footage, channels }: DoubtOfCheck): string {
  const length = `${footage.totalLengthMm} mm of pipe`;
  const names = channels.map(({ name }) => name).join(', ');
  if (side === 'before') {
    const since = goodUs === null ? 'no check before it passed' : `the last check that passed was made at ${instantOf(goodUs)}`;
    return `${length} that ${names} inspected before it are suspect: ${since}.`;
  }
  const until = goodUs === null ? 'and none passed since' : `and the next check that passed was made at ${instantOf(goodUs)}`;
  return `${length} that ${names} inspected after it are suspect: it had failed, ${until}.`;
}

const unreached = (check: ReferenceCheck, channels: readonly Channel[]) =>
  channels.flatMap((channel) => check.results.filter((result) => result.channelId === channel.id && !isReached(result)).map((result) => ({ channel, result })));

const limitsText = (check: ReferenceCheck, channels: readonly Channel[]): string =>
  [...new Set(unreached(check, channels).map(({ channel, result: { reflector, sense, threshold } }) =>
    `${reflector}: ${sense === 'above' ? 'at least' : 'at most'} ${threshold} ${channel.unit}`))].join('; ');

const shownText = (check: ReferenceCheck, channels: readonly Channel[]): string =>
  unreached(check, channels).map(({ channel, result: { reflector, amplitude } }) => `${channel.name} showed ${amplitude} ${channel.unit} of ${reflector}`).join('; ');

const cut = (text: string, longest: number): string => (text.length <= longest ? text : `${text.slice(0, longest - 2).toWellFormed()} …`);
