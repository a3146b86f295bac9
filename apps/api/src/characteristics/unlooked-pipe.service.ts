import { Injectable } from '@nestjs/common';
import { interval, IntervalSet } from '#libs/intervals';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { DetectionsService, type SeenDetection } from '../detections/detections.service.js';
import { lookedAt } from '../detections/looked-at.js';
import { LookedPipe } from '../detections/looked-pipe.service.js';
import { CHANNELS, linkOf } from '../recall/record-kinds.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import type { ChartExclusion, ChartGround } from './chart-ground.js';

type Asked = Pick<ChartGround, 'stringId' | 'asKnownAt' | 'interval' | 'madeMm'>;

/** What is known of the looking on a string. */
interface Looking {
  readonly detections: readonly SeenDetection[];
  readonly marks: readonly SignalMark[];
}

/** Finds pipe on which nobody looked for indications: that none is known there is no count of nothing. */
@Injectable()
export class UnlookedPipe {
  constructor(
    private readonly channels: ChannelsService,
    private readonly detections: DetectionsService,
    private readonly looked: LookedPipe,
    private readonly marks: SignalMarksService,
    private readonly tracks: SignalTracks,
  ) {}

  /**
   * Pipe that one of some channels did not look at, in rising order of beginnings; of the required channels of an amplitude where none
   * is named, and none at all where none is required: then nothing says who looks. Throws as `SignalTracks.of`.
   */
  async of(asked: Asked, channelIds: readonly string[]): Promise<ChartExclusion[]> {
    const { stringId, asKnownAt } = asked;
    const all = await this.channels.everOnString(stringId, asKnownAt);
    const looking = all.filter((channel) => (channelIds.length === 0 ? channel.state === 'active' && channel.required && channel.measures.endsWith('-amplitude') : channelIds.includes(channel.id)));
    if (looking.length === 0) return [];
    const [detections, marks] = await Promise.all([this.detections.seenOn(stringId, asKnownAt), this.marks.ofString(stringId, asKnownAt)]);
    const found: ChartExclusion[] = [];
    for (const channel of looking) found.push(...await this.unlookedBy(channel, asked, { detections, marks }));
    return found.sort((one, other) => one.fromMm - other.fromMm);
  }

  private async unlookedBy(channel: Channel, { stringId, asKnownAt, interval: { fromMm, toMm }, madeMm }: Asked, { detections, marks }: Looking): Promise<ChartExclusion[]> {
    const endMm = Math.min(toMm, madeMm);
    if (fromMm >= endMm) return [];
    const own = detections.filter(({ saw }) => saw.some(({ channelId }) => channelId === channel.id));
    // Samples that go through detections were looked at where one did; others where they were read.
    const at = own.length > 0
      ? (await this.looked.asTheyLie(stringId, own, asKnownAt)).map((one) => lookedAt(one, channel.id, marks)).reduce((sum, pipe) => sum.union(pipe), IntervalSet.empty)
      : await this.read(channel.id, stringId, asKnownAt, marks);
    const because = own.length > 0 ? `no detection looked at it with ${channel.name}` : `not read by ${channel.name}`;
    return IntervalSet.of(interval(fromMm, endMm)).subtract(at).intervals.map((one) => ({ ...one, because, record: linkOf(CHANNELS, channel) }));
  }

  /** Pipe that a channel read, without what marks say is not valid or makes no indication. */
  private async read(channelId: string, stringId: string, asKnownAt: string | null, marks: readonly SignalMark[]): Promise<IntervalSet> {
    const tracks = await this.tracks.of(stringId, channelId, asKnownAt);
    const marked = (runId: string): IntervalSet => IntervalSet.from(marks.filter((mark) => mark.runId === runId && mark.channelIds.includes(channelId)).map(({ span }) => span));
    return tracks.map(({ runId, read }) => read.subtract(marked(runId))).reduce((sum, pipe) => sum.union(pipe), IntervalSet.empty);
  }
}
