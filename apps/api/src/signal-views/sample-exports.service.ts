import { Injectable } from '@nestjs/common';
import { writeArrow, writeCsv, type ExportBlock, type PositionColumn } from '#libs/sample-files';
import { Refused } from '../http/problem.js';
import { SignalStretches, type PlacedSignal } from '../signals/signal-stretches.service.js';
import { SignalStrokes } from '../signals/signal-strokes.service.js';
import { samplesOffPipe, type Stretch } from '../signals/stretch.js';
import type { SamplesQuestion } from './signal-view-question.js';

/** Raw samples as a file, made while it is sent. */
export interface SampleFile {
  readonly type: string;
  readonly fileName: string;
  /** About how many samples of the channel lie on no pipe, anywhere, and are in no such file. */
  readonly unplacedSamples: number;
  readonly bytes: AsyncIterable<Uint8Array>;
}

const TYPES = { arrow: 'application/vnd.apache.arrow.stream', csv: 'text/csv' } as const;

/** Gives samples out as they were read. */
@Injectable()
export class SampleExports {
  constructor(
    private readonly stretches: SignalStretches,
    private readonly strokes: SignalStrokes,
  ) {}

  /**
   * The samples of a channel on a stretch of footage, go by go in the order in which they came. Refuses as `SignalStretches.of`, and
   * with 422 where some are placed by a counter and others by time: one file has one kind of position.
   */
  async of(stringId: string, { channelId, interval, format, asKnownAt }: SamplesQuestion): Promise<SampleFile> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    const meeting = placed.stretches.filter((stretch) => this.strokes.meets(placed, stretch, interval));
    const position = positionOf(placed, meeting);
    const { name, unit } = placed.channel;
    const unplacedSamples = samplesOffPipe(placed);
    const shape = { position, about: { channel: name, channelId, unit, stringId, fromMm: String(interval.fromMm), toMm: String(interval.toMm), asKnownAt: asKnownAt ?? 'now', unplacedSamples: String(unplacedSamples) } };
    const blocks = this.blocks(placed, meeting, interval, position);
    return { type: TYPES[format], fileName: `samples-${channelId.slice(-12)}.${format}`, unplacedSamples, bytes: format === 'arrow' ? writeArrow(shape, blocks) : encoded(writeCsv(shape, blocks)) };
  }

  private async *blocks(placed: PlacedSignal, stretches: readonly Stretch[], interval: SamplesQuestion['interval'], position: PositionColumn): AsyncGenerator<ExportBlock> {
    for (const stretch of stretches) {
      const unit = position.kind === 'time' ? 1 : 10 ** (position.decimals - uploadOf(placed, stretch).decimals);
      for await (const { footageMm, samples } of this.strokes.samples(placed, stretch, interval)) {
        const positions = unit === 1 ? samples.positions : samples.positions.map((one) => one * unit);
        yield { ...samples, positions, footageMm: Float64Array.from(footageMm) };
      }
    }
  }
}

const uploadOf = ({ directory }: PlacedSignal, { fromBlock }: Stretch): { readonly position: 'counter' | 'time'; readonly decimals: number } => directory.block(fromBlock).upload;

/** Time, or the counter with as many decimals as any of them has. */
function positionOf(placed: PlacedSignal, stretches: readonly Stretch[]): PositionColumn {
  const uploads = stretches.map((stretch) => uploadOf(placed, stretch));
  const kinds = new Set(uploads.map(({ position }) => position));
  if (kinds.size > 1) {
    throw new Refused(422, 'two-kinds-of-position', 'Some of these samples are placed by a counter and others by time: ask for pipe of one kind.', [
      { field: 'fromM', value: null, limit: 'pipe whose samples are all placed by a counter, or all by time' },
    ]);
  }
  if (kinds.has('time')) return { name: 'time', kind: 'time' };
  return { name: 'counter', kind: 'counter', decimals: Math.max(0, ...uploads.map(({ decimals }) => decimals)) };
}

async function* encoded(texts: AsyncIterable<string | Uint8Array>): AsyncGenerator<Uint8Array> {
  for await (const text of texts) yield typeof text === 'string' ? Buffer.from(text) : text;
}
