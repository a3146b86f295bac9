import { EVIDENCE_STATES, SAYINGS, type EvidenceState, type Saying } from '#libs/evidence';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { STATES_WORDS } from '../evidence/evidence.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { NotLocatedAnswer } from '../recall/recall.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { ReleaseExceptionAnswer } from './release.dto.js';

const MOST = 100_000;

/** What records said, or say, of a stretch. */
export class ToldTestimonyAnswer {
  @Choice({ description: 'For the pipe or against it.', example: 'suspect', of: SAYINGS })
  says!: Saying;

  @Text({ description: 'In words.', example: 'UT-wall: inspected before a reference check that failed', max: 1000 })
  because!: string;

  @Parts({ description: 'The records, in the version that counted.', of: () => RecordLink, max: 10_000 })
  records!: RecordLink[];
}

/** What an item came to, with why. */
export class ToldStretchAnswer {
  @Choice({ description: STATES_WORDS, example: 'suspect', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @YesNo({ description: 'Entered only after this pipe had passed the hang-off.', example: false })
  late!: boolean;

  @Parts({ description: 'What decides it.', of: () => ToldTestimonyAnswer, max: 10_000 })
  testimonies!: ToldTestimonyAnswer[];
}

/** Where the evidence is not as it was released. */
export class ReleaseChangeAnswer extends IntervalAnswer {
  @Text({ description: 'The item; "hold" for holds.', example: 'UT-1', max: 20 })
  code!: string;

  @Part({ description: 'As released; null where the item was not asked for then.', of: () => ToldStretchAnswer, optional: true })
  before!: ToldStretchAnswer | null;

  @Part({ description: 'As known now; null where it is not asked for any more.', of: () => ToldStretchAnswer, optional: true })
  after!: ToldStretchAnswer | null;

  @YesNo({ description: 'Worse than it was: the release is reopened there.', example: true })
  worse!: boolean;
}

/** Pipe of a wall, by depth. */
export class ReopenedWallAnswer {
  @Choice({ description: 'Which wall.', example: 'outer', of: ['outer', 'inner'] })
  wall!: 'outer' | 'inner';

  @Parts({ description: 'Measured depths, mm.', of: () => IntervalAnswer, max: MOST })
  md!: IntervalAnswer[];
}

/** A release with what became of it. */
export class StandingReleaseAnswer extends IntervalAnswer {
  @Part({ description: 'The release.', of: () => RecordLink })
  release!: RecordLink;

  @Text({ description: 'Who signed.', example: 'Rasmus Feld', max: 200 })
  signerName!: string;

  @When({ description: 'When it was signed.', example: '2026-03-02T15:10:00.000000Z' })
  signedAt!: string;

  @Parts({ description: 'What it was released without.', of: () => ReleaseExceptionAnswer, max: 200 })
  exceptions!: ReleaseExceptionAnswer[];

  @YesNo({ description: 'The signer did some of the work that it rests on.', example: false })
  ownWork!: boolean;

  @Text({ description: 'Why own work was released.', example: null, max: 1000, optional: true })
  ownWorkBecause!: string | null;

  @Part({ description: 'Its pipe on which it stands.', of: () => MetresAnswer })
  stands!: MetresAnswer;

  @Part({ description: 'Its pipe on which it is reopened.', of: () => MetresAnswer })
  reopened!: MetresAnswer;

  @YesNo({ description: 'What gives the pipe its footage was corrected since: all of it is reopened.', example: false })
  isMoved!: boolean;

  @Parts({ description: 'Where the evidence is not as it was released, whether worse or better.', of: () => ReleaseChangeAnswer, max: MOST })
  changes!: ReleaseChangeAnswer[];

  @Parts({ description: 'Where the reopened pipe stands.', of: () => ReopenedWallAnswer, max: 2 })
  reopenedOnWalls!: ReopenedWallAnswer[];
}

/** The releases of a string beside what is known. */
export class ReleaseStandingAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; now when null.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'Pipe on which a release stands.', of: () => MetresAnswer })
  released!: MetresAnswer;

  @Part({ description: 'Pipe that was released, and is no more.', of: () => MetresAnswer })
  reopened!: MetresAnswer;

  @Part({ description: 'Pipe that nobody released.', of: () => MetresAnswer })
  neverReleased!: MetresAnswer;

  @Parts({ description: 'Release by release, in the order in which they were signed.', of: () => StandingReleaseAnswer, max: MOST })
  releases!: StandingReleaseAnswer[];

  @Computed({ description: 'Releases that were withdrawn.', example: 0 })
  withdrawn!: number;

  @Part({ description: 'Why no depth is told.', of: () => NotLocatedAnswer, optional: true })
  notLocated!: NotLocatedAnswer | null;

  @Texts({ description: 'What to keep in mind.', example: ['Evidence that is missing is not a clean result.'], max: 20, each: 1000 })
  cautions!: string[];
}
