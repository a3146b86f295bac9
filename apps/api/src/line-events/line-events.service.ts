import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { instantOf, microseconds } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { pipeSoFar } from '../inspection-coverage/passed-pipe.js';
import { provenChannel } from '../inspection-proof/channel-proof.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { ReferenceChecksService } from '../reference-checks/reference-checks.service.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { SignalStretches } from '../signals/signal-stretches.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import { weldLogOf } from '../signals/weld-log.js';
import { answered } from '../trace/answered.js';
import { linkTo } from '../trace/record-link.js';
import { channelSpeeds } from './channel-speeds.js';
import { stepsOf, type CountedStep } from './counted-steps.js';
import type { LineEventsAnswer, LineReversalAnswer, LineStopAnswer } from './line-events.dto.js';
import type { LineEventsQuestion } from './line-events-question.js';
import { reversalsOf, stopsOf } from './line-motion.js';
import { pipeAtChannels } from './pipe-at-channels.js';
import { readAgain } from './read-again.js';
import { uninspectedTail } from './uninspected-tail.js';

const OF_READINGS = 'Stops and reversals are those that readings of the master counter show: what happened between two readings is not seen. Stops of the seam weld on record are a question of their own.';
const OF_PARTS = 'Speed by samples is that of a block of up to 4096 of them; where a part gives the time of its first and last sample alone, it is the mean of the part.';
const OWN = 'What counts as a stop is what was asked for; no published source sets it.';
const LATEST = 'Pipe read more than once counts by the rule of its channel; what the reference checks prove decides which look is the best.';

/** What the line did, as its counter and its channels tell it. */
@Injectable()
export class LineEvents {
  constructor(
    private readonly models: LengthModels,
    private readonly channels: ChannelsService,
    private readonly runs: InspectionRunsService,
    private readonly marks: SignalMarksService,
    private readonly checks: ReferenceChecksService,
    private readonly tracks: SignalTracks,
    private readonly stretches: SignalStretches,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when the string was not known then. */
  async of(stringId: string, { stop, asKnownAt }: LineEventsQuestion): Promise<LineEventsAnswer> {
    return answered(async () => {
      const model = await this.models.of(stringId, asKnownAt);
      const { string, line, readings, records } = model;
      const [channels, runs, marks, checks] = await Promise.all([
        this.channels.onString(stringId, asKnownAt), this.runs.onString(stringId, asKnownAt), this.marks.onString(stringId, asKnownAt), this.checks.onString(stringId, null, asKnownAt),
      ]);
      const log = weldLogOf(line, string.masterCounter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));
      const steps = stepsOf(log);
      const cutOut = IntervalSet.from(records.cutOuts.map(({ span }) => span));
      const lastUs = log.timesUs.at(-1) ?? null;
      const [again, speeds]: [LineEventsAnswer['readAgain'], LineEventsAnswer['speeds']] = [[], []];
      for (const channel of channels) {
        const tracks = await this.tracks.of(stringId, channel.id, asKnownAt);
        again.push(...readAgain(provenChannel({ channel, tracks, runs, marks, checks, setups: records.setups })));
        speeds.push(...channelSpeeds(await this.stretches.of(stringId, channel.id, asKnownAt), steps));
      }
      return {
        string: linkTo('casing-string', string, string.name),
        asked: { slowMPerMin: stop.slowMPerMin, stopS: stop.leastSeconds, asKnownAt }, lastReadingAt: lastUs === null ? null : instantOf(lastUs),
        stops: stopsOf(steps, stop).map((one) => stopAnswer(model, channels, one, one.toUs === lastUs)),
        reversals: reversalsOf(steps).map((one) => reversalAnswer(model, channels, one)),
        readAgain: again, speeds,
        tails: channels.map((channel) => uninspectedTail(channel, pipeSoFar(line, string.masterCounter, log, channel.station), cutOut, runs)),
        cautions: [OF_READINGS, OF_PARTS, OWN, LATEST],
      };
    });
  }
}

function stopAnswer(model: StringModel, channels: readonly Channel[], step: CountedStep, isOpen: boolean): LineStopAnswer {
  const { fromUs, toUs, fromMm, toMm } = step;
  return {
    from: instantOf(fromUs), until: instantOf(toUs), isOpen, seconds: (toUs - fromUs) / 1e6, footageMm: roundMm(fromMm), creptMm: roundMm(toMm) - roundMm(fromMm),
    at: pipeAtChannels(model, channels, step),
  };
}

function reversalAnswer(model: StringModel, channels: readonly Channel[], step: CountedStep): LineReversalAnswer {
  const { fromUs, toUs, fromMm, toMm } = step;
  const { line, string } = model;
  const acrossPeriods = line.periodAt(string.masterCounter, fromUs)?.record.id !== line.periodAt(string.masterCounter, toUs)?.record.id;
  return { from: instantOf(fromUs), until: instantOf(toUs), turnedMm: roundMm(fromMm), backMm: roundMm(toMm), acrossPeriods, at: pipeAtChannels(model, channels, step) };
}
