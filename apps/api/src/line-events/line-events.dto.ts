import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

const MOST = 1_000_000;
export const TAIL_STATES = ['not-yet', 'runs-ended', 'never-inspected', 'not-known'] as const;

/** The pipe at the place of one or several channels. */
export class PipeAtChannels {
  @Text({ description: 'The station; the weld point when absent.', example: 'eddy head', max: 60, optional: true })
  station!: string | null;

  @Parts({ description: 'The channels there.', of: () => RecordLink, max: 1000 })
  channels!: RecordLink[];

  @Part({ description: 'Footage that stood or went by there, by the middle of the station\'s path; absent when there was none.', of: () => IntervalAnswer, optional: true })
  pipe!: IntervalAnswer | null;

  @Computed({ description: 'Expanded uncertainty (k = 2) of both ends, with half the range of the path, mm; absent when nobody says where the station was.', example: 6, optional: true })
  plusMinusMm!: number | null;

  @Text({ description: 'Why there is no pipe.', example: null, max: 300, optional: true })
  because!: string | null;
}

export class LineStopAnswer {
  @When({ description: 'From this reading of the counter on.', example: '2026-03-02T08:10:00.000000Z' })
  from!: string;

  @When({ description: 'Until this one.', example: '2026-03-02T08:25:00.000000Z' })
  until!: string;

  @YesNo({ description: 'No reading after it says that the line ran on.', example: false })
  isOpen!: boolean;

  @Computed({ description: 'How long, s.', example: 900 })
  seconds!: number;

  @Computed({ description: 'Footage at the weld point when it began, mm.', example: 212_000 })
  footageMm!: number;

  @Computed({ description: 'How far the pipe crept, mm; negative backward.', example: 0 })
  creptMm!: number;

  @Parts({ description: 'What stood at each place where channels are.', of: () => PipeAtChannels, max: 1000 })
  at!: PipeAtChannels[];
}

export class LineReversalAnswer {
  @When({ description: 'From this reading of the counter on.', example: '2026-03-02T08:25:00.000000Z' })
  from!: string;

  @When({ description: 'Until this one.', example: '2026-03-02T08:26:00.000000Z' })
  until!: string;

  @Computed({ description: 'Footage at the weld point at which it turned, mm.', example: 212_000 })
  turnedMm!: number;

  @Computed({ description: 'Footage at the weld point that it went back to, mm.', example: 211_400 })
  backMm!: number;

  @YesNo({ description: 'Another period of the counter began in between: it may be a correction and no movement.', example: false })
  acrossPeriods!: boolean;

  @Parts({ description: 'Pipe that went back under the channels, and comes by again when the line goes on.', of: () => PipeAtChannels, max: 1000 })
  at!: PipeAtChannels[];
}

/** One look at pipe that was looked at more than once. */
export class RepeatedLookAnswer {
  @Part({ description: 'The inspection run.', of: () => RecordLink })
  run!: RecordLink;

  @When({ description: 'When it began.', example: '2026-03-02T08:00:00.000000Z' })
  from!: string;

  @When({ description: 'When it ended.', example: '2026-03-02T08:10:00.000000Z' })
  until!: string;

  @Choice({ description: 'Which way the pipe went.', example: 'forward', of: ['forward', 'backward'] })
  direction!: 'forward' | 'backward';

  @Choice({ description: 'What the reference checks make of it.', example: 'confirmed', of: ['confirmed', 'provisional', 'suspect'] })
  state!: 'confirmed' | 'provisional' | 'suspect';
}

export class ReadAgainAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Part({ description: 'Footage that it read validly more than once.', of: () => IntervalAnswer })
  interval!: IntervalAnswer;

  @Choice({ description: 'Its rule for which look counts.', example: 'best', of: ['best', 'latest'] })
  rule!: 'best' | 'latest';

  @Part({ description: 'The look that counts by it.', of: () => RepeatedLookAnswer })
  counts!: RepeatedLookAnswer;

  @Parts({ description: 'The others, in order of time.', of: () => RepeatedLookAnswer, max: 10_000 })
  others!: RepeatedLookAnswer[];
}

export class OddSpeedAnswer {
  @Part({ description: 'The channel whose technique is good at other speeds.', of: () => RecordLink })
  channel!: RecordLink;

  @Choice({ description: 'What tells the speed.', example: 'samples', of: ['samples', 'counter-readings'] })
  by!: 'samples' | 'counter-readings';

  @Choice({ description: 'On which side of the window.', example: 'too-fast', of: ['too-slow', 'too-fast'] })
  side!: 'too-slow' | 'too-fast';

  @When({ description: 'From.', example: '2026-03-02T08:00:00.000000Z' })
  from!: string;

  @When({ description: 'Until.', example: '2026-03-02T08:10:00.000000Z' })
  until!: string;

  @Part({ description: 'Footage that went by under the channel.', of: () => IntervalAnswer })
  interval!: IntervalAnswer;

  @Computed({ description: 'The worst speed, m/min.', example: 21.5 })
  speedMPerMin!: number;

  @Text({ description: 'The window.', example: '4 to 18 m/min', max: 60 })
  window!: string;
}

/** Pipe at the upper end that a channel has not inspected, since it has not come to it. */
export class UninspectedTailAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Text({ description: 'Its station; the weld point when absent.', example: 'eddy head', max: 60, optional: true })
  station!: string | null;

  @Part({ description: 'Made, not cut out, and not past it.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Choice({
    description: 'not-yet: a run of the channel goes on; runs-ended: all have ended, and this pipe stays uninspected unless another begins; never-inspected: no run is on record; not-known: no set-up says where the station is.',
    example: 'not-yet', of: TAIL_STATES,
  })
  state!: (typeof TAIL_STATES)[number];

  @Part({ description: 'The last run, where all have ended.', of: () => RecordLink, optional: true })
  lastRun!: RecordLink | null;

  @Text({ description: 'In words.', example: 'As of now, the last 6200 mm have not passed eddy head.', max: 500 })
  words!: string;
}

export class LineEventsAsked {
  @Computed({ description: 'The line stands at this speed or slower, m/min.', example: 0.1 })
  slowMPerMin!: number;

  @Computed({ description: 'For at least so long, s.', example: 60 })
  stopS!: number;

  @When({ description: 'As known at; absent for now.', example: '2026-03-13T12:00:00Z', optional: true })
  asKnownAt!: string | null;
}

export class LineEventsAnswer {
  @Part({ description: 'The casing string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'What was asked.', of: () => LineEventsAsked })
  asked!: LineEventsAsked;

  @When({ description: 'The last reading of the master counter; absent when there is none.', example: '2026-03-02T17:00:00.000000Z', optional: true })
  lastReadingAt!: string | null;

  @Parts({ description: 'Stops, in order of time.', of: () => LineStopAnswer, max: MOST })
  stops!: LineStopAnswer[];

  @Parts({ description: 'Reversals, in order of time.', of: () => LineReversalAnswer, max: MOST })
  reversals!: LineReversalAnswer[];

  @Parts({ description: 'Pipe read more than once, channel by channel.', of: () => ReadAgainAnswer, max: MOST })
  readAgain!: ReadAgainAnswer[];

  @Parts({ description: 'Pipe that went by too slowly or too fast, channel by channel.', of: () => OddSpeedAnswer, max: MOST })
  speeds!: OddSpeedAnswer[];

  @Parts({ description: 'The upper end, channel by channel.', of: () => UninspectedTailAnswer, max: 1000 })
  tails!: UninspectedTailAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['A stop shorter than the time between two readings is not seen.'], max: 10, each: 500 })
  cautions!: string[];
}
