import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { RecordLink } from '../trace/trace.dto.js';
import { JOINT_STATES, type JointState } from './joint-coverage.js';

/** Pipe that one channel had to inspect, in millimetres of footage. */
export class ChannelCoverageAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Text({ description: 'Where it is; the weld point when absent.', example: 'eddy head', max: 60, optional: true })
  station!: string | null;

  @Computed({ description: 'Up to this footage the pipe has passed it, mm; absent when no line set-up says where the station is.', example: 206_000, optional: true })
  passedMm!: number | null;

  @Part({ description: 'Pipe that it had to inspect: made, past the station, and not cut out since.', of: () => MetresAnswer })
  required!: MetresAnswer;

  @Part({ description: 'What of that it inspected validly, in whichever go.', of: () => MetresAnswer })
  valid!: MetresAnswer;

  @Part({ description: 'What of that it did not: pipe of which it says nothing.', of: () => MetresAnswer })
  gaps!: MetresAnswer;

  @Part({ description: 'Made, and not yet at the station.', of: () => MetresAnswer })
  notYet!: MetresAnswer;

  @Text({ description: 'In words.', example: '206000 mm had to be inspected, 205960 mm were, in 1 gap 40 mm were not; 6000 mm have not come to it yet.', max: 500 })
  words!: string;
}

export class InspectionCoverageAnswer {
  @Part({ description: 'The casing string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; absent for now.', example: '2026-03-13T12:00:00Z', optional: true })
  asKnownAt!: string | null;

  @Computed({ description: 'Pipe made: up to this footage, mm.', example: 212_000 })
  madeMm!: number;

  @Parts({ description: 'Channel by channel.', of: () => ChannelCoverageAnswer, max: 1000 })
  channels!: ChannelCoverageAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['What a channel read is not what it found.'], max: 10, each: 500 })
  cautions!: string[];
}

/** The pipe at a splice or re-join by one channel. */
export class ChannelAtJointAnswer {
  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Choice({ description: 'covered: by the channel; covered-by-hand: what it left out was examined and accepted; missing: neither; not-yet: not all of it has come to the station; cut-out: it is no part of the string.', example: 'missing', of: JOINT_STATES })
  state!: JointState;

  @Computed({ description: 'Pipe to each side that has to be covered, mm; absent when the channel does not say: then the joint alone.', example: 500, optional: true })
  marginMm!: number | null;

  @Part({ description: 'The joint with its margins, as far as the pipe is made.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Part({ description: 'Covered by nothing.', of: () => MetresAnswer })
  missing!: MetresAnswer;

  @Part({ description: 'Not yet at the station.', of: () => MetresAnswer })
  notYet!: MetresAnswer;

  @Parts({ description: 'Examinations made later, by a method that fits, and accepted, of what the channel left out.', of: () => RecordLink, max: 100_000, example: [] })
  byHand!: RecordLink[];

  @Parts({ description: 'The like that were held or rejected: they cover nothing.', of: () => RecordLink, max: 100_000, example: [] })
  notAccepted!: RecordLink[];
}

export class CoveredJointAnswer {
  @Choice({ description: 'What it is.', example: 'splice', of: ['splice', 're-join'] })
  kind!: 'splice' | 're-join';

  @Part({ description: 'The splice; of a re-join the cut-out.', of: () => RecordLink })
  record!: RecordLink;

  @Part({ description: 'The re-join, where one is on record.', of: () => RecordLink, optional: true })
  rejoin!: RecordLink | null;

  @Parts({ description: 'Each channel.', of: () => ChannelAtJointAnswer, max: 1000 })
  channels!: ChannelAtJointAnswer[];
}

export class SpliceCoverageAnswer {
  @Part({ description: 'The casing string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; absent for now.', example: '2026-03-13T12:00:00Z', optional: true })
  asKnownAt!: string | null;

  @Parts({ description: 'Splices and re-joins by footage.', of: () => CoveredJointAnswer, max: 100_000 })
  joints!: CoveredJointAnswer[];

  @Texts({ description: 'What to keep in mind.', example: ['What a channel read is not what it found.'], max: 10, each: 500 })
  cautions!: string[];
}
