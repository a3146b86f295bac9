import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import type { UncertainSegment } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { metres } from '../destructive-coverage/test-coverage.js';
import { notFound } from '../http/problem.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import { CHANNELS, linkOf, NONCONFORMANCES, REFERENCE_CHECKS } from '../recall/record-kinds.js';
import { standingOf } from '../recall/string-standing.js';
import { RecordDesk } from '../records/record-desk.js';
import { ReferenceChecksService } from '../reference-checks/reference-checks.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { SignalStretches } from '../signals/signal-stretches.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import type { Unplaced } from '../signals/stretch.js';
import { attempt } from '../trace/attempt.js';
import { linkTo } from '../trace/record-link.js';
import { proofWithin, provenChannel, worstOf, type ProvenChannel, type StateSets } from './channel-proof.js';
import { doubtsOf, proposedNonconformances, sinceText, type DoubtOfCheck } from './failed-checks.js';
import { PROOF_STATES, type FailedCheckAnswer, type InspectionProofAnswer, type ProofTogetherAnswer } from './inspection-proof.dto.js';
import type { InspectionProofQuestion } from './inspection-proof-question.js';
import { channelAnswer, stateMetres } from './proof-answer.js';

const CAUTIONS = [
  'Only confirmed metres were inspected between two reference checks that passed. Provisional is not confirmed: a check that comes later decides.',
  'Evidence that is missing is not a clean result: pipe that nothing inspected validly is pipe of which nothing is known.',
  'An occasion at which no check was made in time is told and changes no state; what it means is for the responsible person.',
  'Where pipe was read twice, the look that counts is the channel\'s own rule; the others are told beside it.',
  'Depth is an estimate: mind ± and datum.',
  'These records are not a safety interlock.',
];
const NO_CHANNEL = 'No channel of this string is required, so nothing says by what its pipe has to be inspected; ask about a channel by its id.';
const NO_PIPE = 'No pipe of this string is on record at the instant asked about.';

/** One channel with what has no footage of it. */
interface Asked {
  readonly one: ProvenChannel;
  readonly unplaced: readonly Unplaced[];
}

/** What the reference checks of the line's channels prove of the pipe that these inspected. */
@Injectable()
export class InspectionProofs {
  constructor(
    private readonly desk: RecordDesk,
    private readonly models: LengthModels,
    private readonly segments: CoilSegmentsService,
    private readonly channels: ChannelsService,
    private readonly runs: InspectionRunsService,
    private readonly marks: SignalMarksService,
    private readonly checks: ReferenceChecksService,
    private readonly tracks: SignalTracks,
    private readonly stretches: SignalStretches,
    private readonly instruments: InstrumentsService,
    private readonly nonconformances: NonconformancesService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when the string or the channel was not known then; with 409 while the samples are kept outside. */
  async of(stringId: string, question: InspectionProofQuestion): Promise<InspectionProofAnswer> {
    const { channelId, asKnownAt } = question;
    const model = await this.models.of(stringId, asKnownAt);
    const asOfUs = await this.asOf(asKnownAt);
    const asked = await this.known(model, channelId, asKnownAt);
    const onHand = await this.onHand(model, asked, asKnownAt, asOfUs);
    const pipe = askedOf(question, onHand).subtract(cutOutOf(model));
    const unknownMm = pipe.subtract(onHand).totalLengthMm;
    const proven = asked.map(({ one }) => one);
    const worst = worstOf(proven.map((one) => proofWithin(one, pipe)), pipe);
    return {
      string: linkTo('casing-string', model.string, model.string.name), asKnownAt, pipe: metres(pipe),
      channels: asked.map(({ one, unplaced }) => channelAnswer(one, unplaced, pipe, asOfUs)),
      together: worst === null ? null : this.together(model, worst, proven.map(({ known }) => known.channel)),
      failedChecks: await this.failed(stringId, doubtsOf(proven, onHand).filter(({ footage }) => footage.overlaps(pipe)), asKnownAt),
      cautions: [...(asked.length === 0 ? [NO_CHANNEL] : []), ...(unknownMm === 0 ? [] : [notOnHand(unknownMm)]), ...(onHand.isEmpty ? [NO_PIPE] : []), ...CAUTIONS],
    };
  }

  /** One channel, ready to be asked. Refuses with 404 when string or channel were not known then; with 409 while the samples are kept outside. */
  async provenChannel(stringId: string, channelId: string, asKnownAt: string | null): Promise<ProvenChannel> {
    const [asked] = await this.known(await this.models.of(stringId, asKnownAt), channelId, asKnownAt);
    if (asked === undefined) throw notFound('channel', channelId);
    return asked.one;
  }

  /** Up to when records can tell of occasions, µs: what is known at an instant tells of nothing later. */
  private async asOf(asKnownAt: string | null): Promise<number> {
    const nowUs = microseconds(await this.desk.databaseNow());
    return asKnownAt === null ? nowUs : Math.min(microseconds(asKnownAt), nowUs);
  }

  private async known({ string, records }: StringModel, channelId: string | null, asKnownAt: string | null): Promise<Asked[]> {
    const all = await this.channels.onString(string.id, asKnownAt);
    const asked = channelId === null ? all.filter(({ required }) => required) : all.filter(({ id }) => id === channelId);
    if (channelId !== null && asked.length === 0) throw notFound('channel', channelId);
    const [runs, marks, checks] = await Promise.all([
      this.runs.onString(string.id, asKnownAt), this.marks.onString(string.id, asKnownAt), this.checks.onString(string.id, channelId, asKnownAt),
    ]);
    const found: Asked[] = [];
    for (const channel of asked) {
      const tracks = await this.tracks.of(string.id, channel.id, asKnownAt);
      const { unplaced } = await this.stretches.of(string.id, channel.id, asKnownAt);
      found.push({ one: provenChannel({ channel, tracks, runs, marks, checks, setups: records.setups }), unplaced });
    }
    return found;
  }

  /** All pipe that is on record in any way, made or inspected, without what was cut out. */
  private async onHand(model: StringModel, asked: readonly Asked[], asKnownAt: string | null, asOfUs: number): Promise<IntervalSet> {
    const segments = await this.segments.ofString(model.string.id, asKnownAt);
    const made = Math.ceil(attempt(() => model.lengths.maxWeldFootage(asOfUs)).found ?? 0);
    const inspected = asked.flatMap(({ one }) => one.known.tracks.map(({ read }) => read.hull()?.toMm ?? 0));
    const toMm = Math.max(0, made, ...inspected, ...segments.map(({ span }) => span.toMm));
    return toMm === 0 ? IntervalSet.empty : IntervalSet.of({ fromMm: 0, toMm }).subtract(cutOutOf(model));
  }

  private together(model: StringModel, sets: StateSets, channels: readonly Channel[]): ProofTogetherAnswer {
    const lastReading = model.readings.at(-1)?.observedAt;
    const atUs = lastReading === undefined ? null : microseconds(lastReading);
    const uMm = greatestStationU(model, channels);
    const standings = PROOF_STATES.map((state) => {
      const spans = sets[state].intervals.map(({ fromMm, toMm }): { span: UncertainSegment; isCertain: true } => ({ span: { fromMm, toMm, uFromMm: uMm, uToMm: uMm }, isCertain: true }));
      return { state, ...standingOf(model.lengths, spans, atUs) };
    });
    return {
      states: stateMetres(sets),
      depths: standings.map(({ state, walls }) => ({
        state,
        walls: walls.map(({ wall, certain, nominal, possible }) => ({
          wall, certain: metres(certain).intervals, nominal: metres(nominal).intervals, possible: metres(possible).intervals, nominalMm: nominal.totalLengthMm,
        })),
      })),
      notLocated: standings[0]?.notLocated ?? null,
    };
  }

  private async failed(stringId: string, doubts: readonly DoubtOfCheck[], asKnownAt: string | null): Promise<FailedCheckAnswer[]> {
    const standards = await this.instruments.rowsByIds(doubts.map(({ check }) => check.standardId), asKnownAt);
    return Promise.all(doubts.map(async (doubt): Promise<FailedCheckAnswer> => {
      const { check, side, channels, footage } = doubt;
      const touching = await this.nonconformances.about(stringId, footage.toMultirange(), [], asKnownAt);
      return {
        check: linkOf(REFERENCE_CHECKS, check), side, channels: channels.map((channel) => linkOf(CHANNELS, channel)), words: sinceText(doubt), footage: metres(footage),
        nonconformances: touching.map((one) => linkOf(NONCONFORMANCES, one)),
        proposals: proposedNonconformances(doubt, standards.get(check.standardId)?.number ?? '-'),
      };
    }));
  }
}

/** What was asked for, also where no pipe is on record: a metre that nobody inspected is missing, whether or not it is known to be there. */
function askedOf({ fromMm, toMm }: InspectionProofQuestion, onHand: IntervalSet): IntervalSet {
  if (fromMm === null && toMm === null) return onHand;
  const [from, to] = [fromMm ?? 0, toMm ?? onHand.hull()?.toMm ?? 0];
  return from < to ? IntervalSet.of({ fromMm: from, toMm: to }) : IntervalSet.empty;
}

const notOnHand = (mm: number): string => `Of what was asked for, ${mm} mm are on no record as pipe, made or inspected: they are told as missing.`;

const cutOutOf = ({ records }: StringModel): IntervalSet => IntervalSet.from(records.cutOuts.map(({ span }) => span));

/** Of the stations where the channels are, in any set-up, mm: the ends of what they inspected are known no better. */
function greatestStationU({ records }: StringModel, channels: readonly Channel[]): number {
  const names = new Set(channels.map(({ station }) => station));
  return Math.max(0, ...records.setups.flatMap(({ stations }) => stations.filter(({ name }) => names.has(name)).map(({ uMm }) => Number(uMm))));
}
