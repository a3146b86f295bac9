import { BRACKET_STATES, CHECK_REASONS, REPEAT_RULES, type CheckReason, type RepeatRule } from '#libs/reference-checks';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { NonconformanceInput } from '../nonconformances/nonconformance.dto.js';
import { NotLocatedAnswer, RecalledWall } from '../recall/recall.dto.js';
import { CHECK_OUTCOMES, type CheckOutcome } from '../reference-checks/reference-check.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

export const PROOF_STATES = [...BRACKET_STATES, 'missing'] as const;
type State = (typeof PROOF_STATES)[number];
const BRACKET_REASONS = ['passed-before-and-after', 'none-after', 'failed-after', 'failed-before', 'none-before'] as const;
const UNPLACED = ['no-counter-period', 'no-line-setup', 'no-counter-readings'] as const;
const MOST = 100_000;
const STATES = 'confirmed: inspected between two reference checks that passed; provisional: after the last one that passed, none later; '
  + 'suspect: beside one that failed, or before the first; missing: not inspected validly.';

/** Metres in one state. */
export class ProofStateMetres {
  @Choice({ description: STATES, example: 'confirmed', of: PROOF_STATES })
  state!: State;

  @Part({ description: 'The metres.', of: () => MetresAnswer })
  metres!: MetresAnswer;
}

/** A reference check as it counts for one channel. */
export class ProofCheckAnswer {
  @Part({ description: 'The check.', of: () => RecordLink })
  check!: RecordLink;

  @When({ description: 'When it was made.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Choice({ description: 'What it came to for the channel.', example: 'passed', of: CHECK_OUTCOMES })
  outcome!: CheckOutcome;
}

/** One inspection of pipe between two checks, in one go along it. */
export class ProofLookAnswer {
  @Part({ description: 'The run.', of: () => RecordLink })
  run!: RecordLink;

  @When({ description: 'When it began.', example: '2026-03-02T08:15:00.000000Z' })
  from!: string;

  @When({ description: 'When it ended.', example: '2026-03-02T10:00:00.000000Z' })
  to!: string;

  @Choice({ description: 'What the checks around it make of it.', example: 'confirmed', of: BRACKET_STATES })
  state!: (typeof BRACKET_STATES)[number];

  @Choice({ description: 'Why.', example: 'passed-before-and-after', of: BRACKET_REASONS })
  because!: (typeof BRACKET_REASONS)[number];

  @Parts({ description: 'The checks before it that say so; none where none was made.', of: () => ProofCheckAnswer, max: 1000 })
  before!: ProofCheckAnswer[];

  @Parts({ description: 'The checks after it; none where none was made yet.', of: () => ProofCheckAnswer, max: 1000 })
  after!: ProofCheckAnswer[];
}

/** Pipe of which the same looks tell. */
export class ProvenStretchAnswer extends IntervalAnswer {
  @Choice({ description: STATES, example: 'confirmed', of: PROOF_STATES })
  state!: State;

  @Part({ description: 'The look that counts; null where nothing inspected it validly.', of: () => ProofLookAnswer, optional: true })
  counts!: ProofLookAnswer | null;

  @Parts({ description: 'The other looks at it, in order of time.', of: () => ProofLookAnswer, max: 1000 })
  others!: ProofLookAnswer[];
}

/** An occasion at which no check was made in time. It changes no state: it says what was not done. */
export class UnmetOccasionAnswer {
  @Choice({ description: 'The occasion.', example: 'interval', of: CHECK_REASONS })
  occasion!: CheckReason;

  @Choice({ description: 'late: a check came after it was due; missing: none came.', example: 'late', of: ['late', 'missing'] })
  state!: 'late' | 'missing';

  @When({ description: 'The last instant at which it would have been in time.', example: '2026-03-02T12:00:00.000000Z' })
  due!: string;

  @Part({ description: 'The run that asked for it.', of: () => RecordLink })
  run!: RecordLink;

  @Part({ description: 'The run or line set-up that shows a change.', of: () => RecordLink, optional: true })
  shownBy!: RecordLink | null;

  @Part({ description: 'The check that came late.', of: () => ProofCheckAnswer, optional: true })
  check!: ProofCheckAnswer | null;
}

/** How often a channel is to be checked. */
export class CheckRuleAnswer {
  @Computed({ description: 'Longest time between checks, min.', example: 240 })
  everyMinutes!: number;

  @Computed({ description: 'How long after a change or an end, min.', example: 15 })
  graceMinutes!: number;

  @Text({ description: 'Where it comes from.', example: 'Inspection plan rev 2, 5.1', max: 500 })
  source!: string;
}

/** Samples that have no footage, and so inspected nothing that could be named. */
export class UnplacedSamplesAnswer {
  @Part({ description: 'Their run.', of: () => RecordLink })
  run!: RecordLink;

  @Computed({ description: 'About how many.', example: 4096 })
  samples!: number;

  @When({ description: 'The first of them.', example: '2026-03-02T08:15:00.000000Z' })
  from!: string;

  @When({ description: 'The last of them.', example: '2026-03-02T08:16:00.000000Z' })
  to!: string;

  @Choice({ description: 'What is not on record to place them.', example: 'no-counter-period', of: UNPLACED })
  because!: (typeof UNPLACED)[number];
}

/** What the reference checks of one channel prove. */
export class ChannelProofAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Text({ description: 'What that it shows nothing would mean.', example: 'No indication of ET-seam-1 means none at or above 60 % on these metres.', max: 2000 })
  words!: string;

  @Choice({ description: 'Which look counts where pipe was read twice.', example: 'best', of: REPEAT_RULES })
  repeats!: RepeatRule;

  @Part({ description: 'How often it is to be checked.', of: () => CheckRuleAnswer })
  rule!: CheckRuleAnswer;

  @Parts({ description: 'The pipe asked for, state by state.', of: () => ProofStateMetres, min: 4, max: 4 })
  states!: ProofStateMetres[];

  @Parts({ description: 'The same in order of footage, with what says so.', of: () => ProvenStretchAnswer, max: MOST })
  stretches!: ProvenStretchAnswer[];

  @Parts({ description: 'Occasions at which no check was made in time, on the whole string.', of: () => UnmetOccasionAnswer, max: MOST })
  unmet!: UnmetOccasionAnswer[];

  @Parts({ description: 'Samples that have no footage.', of: () => UnplacedSamplesAnswer, max: MOST })
  unplaced!: UnplacedSamplesAnswer[];
}

/** Where the metres of one state stand in the well. */
export class ProofDepthAnswer {
  @Choice({ description: STATES, example: 'suspect', of: PROOF_STATES })
  state!: State;

  @Parts({ description: 'Measured depths on both walls; none while nothing hangs.', of: () => RecalledWall, max: 2 })
  walls!: RecalledWall[];
}

/** The pipe asked for by the worst that any of the channels says of it. */
export class ProofTogetherAnswer {
  @Parts({ description: 'State by state.', of: () => ProofStateMetres, min: 4, max: 4 })
  states!: ProofStateMetres[];

  @Parts({ description: 'The same by depth, at the last counter reading.', of: () => ProofDepthAnswer, min: 4, max: 4 })
  depths!: ProofDepthAnswer[];

  @Part({ description: 'Why it has no depth.', of: () => NotLocatedAnswer, optional: true, example: { code: 'no-hang-off', detail: 'this string has no hang-off yet' } })
  notLocated!: NotLocatedAnswer | null;
}

/** Pipe that a failed check makes suspect, and what to enter for it. */
export class FailedCheckAnswer {
  @Part({ description: 'The check.', of: () => RecordLink })
  check!: RecordLink;

  @Choice({ description: 'before: inspected since the last check that passed; after: from it on to the next that passed.', example: 'before', of: ['before', 'after'] })
  side!: 'before' | 'after';

  @Parts({ description: 'The channels that failed, and inspected just this pipe.', of: () => RecordLink, max: 100 })
  channels!: RecordLink[];

  @Text({ description: 'In words.', example: '12000 mm of pipe that ET-seam-1 inspected before it are suspect: the last check that passed was made at 2026-03-02T08:15:00.000000Z.', max: 6000 })
  words!: string;

  @Part({ description: 'All of the suspect pipe, whatever was asked for; what was cut out is left out.', of: () => MetresAnswer })
  footage!: MetresAnswer;

  @Parts({ description: 'Nonconformances on record that touch it, closed ones too.', of: () => RecordLink, max: 1000 })
  nonconformances!: RecordLink[];

  @Parts({ description: 'Nonconformances to enter; to be read and completed by a person.', of: () => NonconformanceInput, max: 1000 })
  proposals!: NonconformanceInput[];
}

export class InspectionProofAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; null: now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'The pipe asked for, without what was cut out; all that is on record when no footage was given.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Parts({ description: 'Channel by channel: the one asked for, or all required ones.', of: () => ChannelProofAnswer, max: 1000 })
  channels!: ChannelProofAnswer[];

  @Part({ description: 'All of these channels together; null where no channel is required.', of: () => ProofTogetherAnswer, optional: true })
  together!: ProofTogetherAnswer | null;

  @Parts({ description: 'Failed checks of these channels that make pipe asked for suspect, oldest first.', of: () => FailedCheckAnswer, max: MOST })
  failedChecks!: FailedCheckAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['Provisional is not confirmed.'], max: 20, each: 500 })
  cautions!: string[];
}
