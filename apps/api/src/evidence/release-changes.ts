import { differences, type Difference } from '#libs/evidence';
import { IntervalSet, type Interval } from '#libs/intervals';
import type { FrozenEvidence, FrozenLine, FrozenStretch, FrozenTestimony } from '../releases/frozen-evidence.js';

/** What an item comes to now where it came to something else when the pipe was released. */
export interface ReleaseChange extends Interval {
  readonly key: string;
  readonly code: string;
  readonly before: ToldStretch | null;
  readonly after: ToldStretch | null;
  readonly worse: boolean;
}

/** A stretch with what decides it. */
export interface ToldStretch {
  readonly state: FrozenStretch['state'];
  readonly late: boolean;
  readonly testimonies: readonly FrozenTestimony[];
}

/** A release beside what is known now. */
export interface ReleaseChanges {
  readonly changes: readonly ReleaseChange[];
  /** What gives the pipe its footage was corrected: which metal was released is open, and all of it counts as reopened. */
  readonly isMoved: boolean;
  /** The pipe that is released no more: something is worse there than it was when it was signed. */
  readonly reopened: IntervalSet;
}

/**
 * What has changed between the evidence that was signed and that of the same pipe now. A release stands where nothing became
 * worse; it reopens by what is on record, and stands again where a record that spoke against it turned out wrong and was withdrawn.
 */
export function releaseChanges(signed: FrozenEvidence, now: FrozenEvidence): ReleaseChanges {
  const found = differences(signed.lines, now.lines);
  const changes = found.map((one) => told(one, signed, now)).sort((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm);
  const isMoved = versionsOf(signed.footageRestsOn) !== versionsOf(now.footageRestsOn);
  const worse = IntervalSet.from(changes.filter((change) => change.worse));
  return { changes, isMoved, reopened: isMoved ? IntervalSet.of({ fromMm: signed.fromMm, toMm: signed.toMm }) : worse };
}

const versionsOf = (records: FrozenEvidence['footageRestsOn']): string => records.map(({ id, version }) => `${id} ${version}`).join(' ');

function told({ key, fromMm, toMm, before, after, worse }: Difference<FrozenStretch>, signed: FrozenEvidence, now: FrozenEvidence): ReleaseChange {
  const [then, since] = [signed.lines.find((line) => line.key === key), now.lines.find((line) => line.key === key)];
  return { key, fromMm, toMm, worse: worse || isDoubted(before, after), code: (since ?? then)?.code ?? key, before: toldStretch(before, then), after: toldStretch(after, since) };
}

/** Missing ranks below suspect, but who released pipe of which nothing was known has not seen what speaks against it now. */
const isDoubted = (before: FrozenStretch | null, after: FrozenStretch | null): boolean => before?.state === 'missing' && after?.state === 'suspect';

function toldStretch(stretch: FrozenStretch | null, line: FrozenLine | undefined): ToldStretch | null {
  if (stretch === null || line === undefined) return null;
  return { state: stretch.state, late: stretch.late, testimonies: stretch.by.flatMap((nth) => line.testimonies.slice(nth, nth + 1)) };
}
