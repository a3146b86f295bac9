import { Injectable } from '@nestjs/common';
import { microseconds } from '#libs/persistence';
import { metres } from '../destructive-coverage/test-coverage.js';
import type { Examination } from '../examinations/examination.entity.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { CHANNELS, CUT_OUTS, EXAMINATIONS, linkOf, REJOINS, SPLICES } from '../recall/record-kinds.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { answered } from '../trace/answered.js';
import { linkTo } from '../trace/record-link.js';
import { coveredPipe, type ChannelCoverage } from './channel-coverage.js';
import { ChannelCoverages, type StringCoverage } from './channel-coverages.service.js';
import type { CoverageQuestion } from './coverage-question.js';
import type { ChannelAtJointAnswer, ChannelCoverageAnswer, CoveredJointAnswer, InspectionCoverageAnswer, SpliceCoverageAnswer } from './inspection-coverage.dto.js';
import { coveredJoint, type JointedPipe, type TimedJoint } from './joint-coverage.js';

const READ_NOT_FOUND = 'Inspected is not without indications, and not proven by reference checks: those are questions of their own.';
const MIDDLE = 'Stations are taken at the middle of their path; what is not yet there is not more exact than that path is.';
const NO_CHANNEL = 'No channel of the string is required: nothing says by what its pipe has to be inspected.';
const BY_HAND = 'By hand counts an examination on record over that pipe, made later than the joint, by the channel\'s method or one that stands in for it, and accepted. Examinations of the steps of a splice have no extent and count for nothing here.';
const AT_REJOIN = 'At a re-join only signals count that were read after the ends were joined again.';

/** What of the pipe the channels inspected, metre by metre and at its joints. */
@Injectable()
export class InspectionCoverages {
  constructor(
    private readonly coverages: ChannelCoverages,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly examinations: ExaminationsService,
  ) {}

  /** Channel by channel what had to be inspected and was. By what was known at the instant asked about; throws as `ChannelCoverages.of`. */
  async ofPipe(stringId: string, question: CoverageQuestion): Promise<InspectionCoverageAnswer> {
    return answered(async () => {
      const coverage = await this.coverages.of(stringId, question);
      const { model: { string }, cutOut, madeMm, channels } = coverage;
      return {
        string: linkTo('casing-string', string, string.name), asKnownAt: question.asKnownAt, madeMm,
        channels: channels.map((one) => channelAnswer(one, coveredPipe(one, cutOut))), cautions: [...about(coverage), MIDDLE],
      };
    });
  }

  /** Splice by splice and re-join by re-join whether the channels, or somebody by hand, covered it. Throws as `ChannelCoverages.of`. */
  async ofJoints(stringId: string, question: CoverageQuestion): Promise<SpliceCoverageAnswer> {
    return answered(async () => {
      const { asKnownAt } = question;
      const coverage = await this.coverages.of(stringId, question);
      const { model: { string, records, lengths }, cutOut, channels } = coverage;
      const [splices, rejoins, examinations] = await Promise.all([
        this.splices.ofString(stringId, asKnownAt), this.rejoins.ofString(stringId, asKnownAt), this.examinations.ofString(stringId, asKnownAt),
      ]);
      const pipe = { net: lengths.nets.at(Infinity), cutOut, examinations };
      const at = (joint: TimedJoint): ChannelAtJointAnswer[] => channels.map((channel) => jointAnswer(joint, channel, pipe));
      const joints = [
        ...splices.map((splice) => ({
          span: splice.span, answer: { kind: 'splice' as const, record: linkOf(SPLICES, splice), rejoin: null, channels: at({ kind: 'splice', span: splice.span, madeUs: microseconds(splice.observedAt) }) },
        })),
        ...records.cutOuts.map((cut) => {
          const rejoin = rejoins.find(({ cutOutId }) => cutOutId === cut.id);
          const joint: TimedJoint = { kind: 're-join', span: cut.span, madeUs: microseconds(cut.observedAt) };
          const answer: CoveredJointAnswer = { kind: 're-join', record: linkOf(CUT_OUTS, cut), rejoin: rejoin === undefined ? null : linkOf(REJOINS, rejoin), channels: at(joint) };
          return { span: cut.span, answer };
        }),
      ];
      return {
        string: linkTo('casing-string', string, string.name), asKnownAt,
        joints: joints.sort((a, b) => a.span.fromMm - b.span.fromMm || a.span.toMm - b.span.toMm).map(({ answer }) => answer), cautions: [...about(coverage), MIDDLE, BY_HAND, AT_REJOIN],
      };
    });
  }
}

function about({ channels, unplacedSamples }: StringCoverage): string[] {
  return [
    ...(channels.length === 0 ? [NO_CHANNEL] : []), READ_NOT_FOUND,
    ...(unplacedSamples === 0 ? [] : [`${unplacedSamples} samples have no footage, and cover nothing.`]),
  ];
}

function channelAnswer({ channel, soFar: { passedMm } }: ChannelCoverage, { required, valid, gaps, notYet }: ReturnType<typeof coveredPipe>): ChannelCoverageAnswer {
  const { length } = gaps.intervals;
  const left = gaps.isEmpty ? 'no gap' : `in ${length} ${length === 1 ? 'gap' : 'gaps'} ${gaps.totalLengthMm} mm were not`;
  const rest = passedMm === null
    ? `no line set-up says where station ${channel.station ?? ''} is, so all pipe made is taken as past it`
    : `${notYet.totalLengthMm} mm have not come to it yet`;
  return {
    channel: linkOf(CHANNELS, channel), station: channel.station, passedMm, required: metres(required), valid: metres(valid), gaps: metres(gaps), notYet: metres(notYet),
    words: `${required.totalLengthMm} mm had to be inspected, ${valid.totalLengthMm} mm were, ${left}; ${rest}.`,
  };
}

function jointAnswer(joint: TimedJoint, coverage: ChannelCoverage, pipe: JointedPipe<Examination>): ChannelAtJointAnswer {
  const { state, zone, missing, notYet, byHand, notAccepted } = coveredJoint(joint, coverage, pipe);
  const { channel } = coverage;
  return {
    channel: linkOf(CHANNELS, channel), state, marginMm: channel.spliceMarginMm, pipe: metres(zone), missing: metres(missing), notYet: metres(notYet),
    byHand: byHand.map((one) => linkOf(EXAMINATIONS, one)), notAccepted: notAccepted.map((one) => linkOf(EXAMINATIONS, one)),
  };
}
