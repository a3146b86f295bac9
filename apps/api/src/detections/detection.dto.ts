import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Computed, Id, Ids, Measured, Part, Parts, Text, When, Whole, YesNo } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import type { FoundPart, NotPlaced, SawStroke } from './found-place.js';

const CHANNEL = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60';
const RUN = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61';
const WHY_NOT_PLACED = ['no-counter-period', 'no-line-setup', 'no-counter-readings'] as const;
const ANY = { min: -1e9, max: 1e9, unit: 'in the unit of the channel' };

/**
 * One run of a rule over stored samples. Entering it runs it, and opens an indication for all that no standing one of the same
 * channels covers; none that stands is changed. It is never amended in what it says.
 */
export class DetectionInput extends StringRecordInput {
  @Id({ description: 'The revision of the rule.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b71' })
  ruleId!: string;

  @Whole({ description: 'Footage from which on samples are looked at; from the first when absent.', example: 200_000, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  fromMm?: number | null;

  @Whole({ description: 'Footage up to which; to the last when absent.', example: 214_000, min: 1, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  toMm?: number | null;

  @When({ description: 'Samples and marks as known at this instant; now when absent.', example: null, optional: true })
  asKnownAt?: string | null;
}

/** What of one stroke of a channel was looked at. */
export class SawStrokeAnswer implements SawStroke {
  @Id({ description: 'The channel.', example: CHANNEL })
  channelId!: string;

  @Id({ description: 'The inspection run.', example: RUN })
  runId!: string;

  @When({ description: 'When its first sample was read.', example: '2026-03-02T08:00:00.000000Z' })
  startedAt!: string;

  @When({ description: 'When its last sample was read.', example: '2026-03-02T08:15:00.000000Z' })
  endedAt!: string;

  @YesNo({ description: 'The pipe ran backwards.', example: false })
  backward!: boolean;

  @Computed({ description: 'How far a sample was taken to speak, mm.', example: 2 })
  speaksForMm!: number;

  @Part({ description: 'Footage from its first to its last sample; absent when it had none there.', of: () => IntervalAnswer, optional: true })
  looked!: IntervalAnswer | null;

  @Computed({ description: 'Samples.', example: 14_000 })
  samples!: number;

  @Computed({ description: 'Of these, missing ones: nothing was read, or it was marked as not valid.', example: 12 })
  missingSamples!: number;

  @Computed({ description: 'Of these, such whose value is a bound.', example: 0 })
  saturatedSamples!: number;

  @Computed({ description: 'Of these, such that a later stroke took the place of, where the latest reading counts.', example: 0 })
  readAgain!: number;

  @Computed({ description: 'Of these, such in pipe that was left out.', example: 0 })
  excludedSamples!: number;

  @Computed({ description: 'Of the ones left out, such that would have made an indication.', example: 0 })
  excludedAtThreshold!: number;

  @Computed({ description: 'Pipe between first and last sample, outside what was left out, for which no sample spoke, mm.', example: 8 })
  gapMm!: number;

  @Computed({ description: 'What was found and was shorter than the minimum length.', example: 3 })
  tooShort!: number;
}

/** Samples that have no footage: nobody looked at them. */
export class NotPlacedAnswer implements NotPlaced {
  @Id({ description: 'The channel.', example: CHANNEL })
  channelId!: string;

  @Id({ description: 'The inspection run.', example: RUN })
  runId!: string;

  @Computed({ description: 'About how many.', example: 4_096 })
  samples!: number;

  @When({ description: 'When the first of them was read.', example: '2026-03-02T07:50:00.000000Z' })
  startedAt!: string;

  @When({ description: 'When the last of them was read.', example: '2026-03-02T07:55:00.000000Z' })
  endedAt!: string;

  @Choice({ description: 'What is missing to place them.', example: 'no-counter-period', of: WHY_NOT_PLACED })
  why!: (typeof WHY_NOT_PLACED)[number];
}

/** The detection's own fields of an answer. */
export class DetectionContent extends OmitType(DetectionInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'asKnownAt'] as const) {
  @When({ description: 'Samples and marks as known at this instant.', example: '2026-03-02T09:00:00.000000Z' })
  asKnownAt!: string;

  @Computed({ description: 'The version of the rule; it is frozen since.', example: 1 })
  ruleVersion!: number;

  @Parts({ description: 'What it saw, channel by channel and stroke by stroke; what is not here was not looked at.', of: () => SawStrokeAnswer, max: 100_000 })
  saw!: SawStrokeAnswer[];

  @Parts({ description: 'Samples of its channels that lie nowhere on the pipe, and that it did not look at.', of: () => NotPlacedAnswer, max: 100_000, example: [] })
  notPlaced!: NotPlacedAnswer[];

  @Computed({ description: 'Indications found; `found` lists them.', example: 5 })
  foundCount!: number;

  @Computed({ description: 'Of these, opened: no standing one covered them.', example: 2 })
  openedCount!: number;
}

export class DetectionAnswer extends IntersectionType(RecordAnswer, DetectionContent) {}

const EDGES = ['signal', 'gap', 'exclusion', 'end-of-data'] as const;

/** What one channel showed at a place, in one stroke. */
export class FoundPartAnswer implements Omit<FoundPart, 'channel' | 'stroke'> {
  @Id({ description: 'The channel.', example: CHANNEL })
  channelId!: string;

  @Id({ description: 'The inspection run.', example: RUN })
  runId!: string;

  @Computed({ description: 'Where it begins, mm.', example: 212_000 })
  fromMm!: number;

  @Computed({ description: 'Where it ends, mm; not part of it.', example: 212_040 })
  toMm!: number;

  @Choice({ description: 'What is before it: signal below the release level, or where nothing is known and it may go on.', example: 'signal', of: EDGES })
  begins!: (typeof EDGES)[number];

  @Choice({ description: 'What is behind it.', example: 'gap', of: EDGES })
  ends!: (typeof EDGES)[number];

  @Measured({ description: 'Its greatest value beyond the threshold.', example: '78.4', ...ANY })
  peak!: string;

  @Computed({ description: 'Footage of that, mm.', example: 212_012 })
  peakMm!: number;

  @YesNo({ description: 'The peak is a bound: the true one is at least as bad.', example: false })
  isBound!: boolean;

  @Computed({ description: 'Samples at the release level or beyond.', example: 38 })
  samples!: number;

  @Computed({ description: 'Runs of such samples that were combined.', example: 1 })
  runs!: number;

  @Computed({ description: 'Length between its ends for which no sample speaks, mm.', example: 0 })
  missingMm!: number;
}

/** One indication as it was found. */
export class FoundPlaceAnswer extends IntervalAnswer {
  @Parts({ description: 'What showed it, in order of footage.', of: () => FoundPartAnswer, max: 20_000 })
  parts!: FoundPartAnswer[];

  @Id({ description: 'The indication that was opened for it; absent where those that stood covered it.', example: null, optional: true })
  indicationId!: string | null;

  @Ids({ description: 'Indications of the same channels that stood at its place.', example: ['0197a2c4-5b00-7d31-9c11-3a5d0e7f1b73'], max: 20_000 })
  standing!: string[];
}

/** A page of what a detection found. */
export class FoundPlacesAnswer {
  @Part({ description: 'The detection.', of: () => RecordLink })
  detection!: RecordLink;

  @Parts({ description: 'What it found, by footage.', of: () => FoundPlaceAnswer, max: 500 })
  items!: FoundPlaceAnswer[];

  @Text({ description: 'Ask for the next page with `after`.', example: null, max: 20, optional: true })
  next!: string | null;
}
