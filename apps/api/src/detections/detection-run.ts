import { combineChannels, IndicationDetector, type ChannelPart, type DetectionCounts, type Indication, type IndicationRule, type SampleBlock, type Settled } from '#libs/indications';
import { IntervalSet, type Interval } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import { digitsOf, type FoundPart, type FoundPlace, type SawStroke } from './found-place.js';
import type { SignalStroke } from '../signals/signal-strokes.service.js';
import { partOf, partsOf, SpokenPipe, withoutValues } from './stroke-signals.js';

/** Pipe of a run whose samples are not looked at: left out, or counted as missing. */
export interface ApartPipe {
  readonly excluded: IntervalSet;
  readonly notValid: IntervalSet;
}

/** A channel as a detection looks at it. */
export interface LookedChannel {
  readonly channelId: string;
  readonly rule: IndicationRule;
  /** How far a sample speaks, whole mm from 1. */
  readonly speaksForMm: number;
  apartOf(runId: string): ApartPipe;
  /** Its strokes, to be read once; anew at each call. */
  strokes(): Promise<readonly SignalStroke[]>;
}

/** How what the channels show is put together. */
export interface Putting {
  /** Null: each channel has its own indications. */
  readonly jointMm: number | null;
  readonly repeats: 'all' | 'latest';
}

/** All that a detection saw and found. */
export interface Detected {
  readonly saw: readonly SawStroke[];
  readonly found: readonly FoundPlace[];
}

/** More than these is a rule that finds noise. Our own choice: so many still go into one record and one transaction. */
export const MOST_PARTS = 20_000;

/** Thrown when there is more to find than a detection keeps. */
export class TooMuchFound extends Error {}

/**
 * Detects channel by channel and stroke by stroke, in memory that grows with what is found alone (and, for `latest`, with the gaps
 * of what was read). What several strokes of a channel show at one place, or at places that touch, is one indication: a signal
 * that came in several uploads is cut where they meet. With `latest` a stroke is cut where one that was read later read the same
 * pipe. Throws TooMuchFound beyond `MOST_PARTS`.
 */
export async function detect(channels: readonly LookedChannel[], { jointMm, repeats }: Putting): Promise<Detected> {
  const saw: SawStroke[] = [];
  const parts: StrokePart[] = [];
  for (const [channel, looked] of channels.entries()) {
    const readAgain = repeats === 'latest' ? await pipeReadAgain(looked) : [];
    for (const [nth, stroke] of (await byTime(looked)).entries()) {
      const one = await detectStroke(looked, stroke, readAgain[nth] ?? IntervalSet.empty, { channel, stroke: saw.length, room: MOST_PARTS - parts.length });
      saw.push(one.saw);
      parts.push(...one.parts);
    }
  }
  return { saw, found: putTogether(parts, jointMm) };
}

/** The strokes in the order in which they were read, however they came. */
async function byTime(looked: LookedChannel): Promise<SignalStroke[]> {
  return [...await looked.strokes()].sort((one, other) => one.fromUs - other.fromUs);
}

/** Of each stroke the pipe that later ones read, and did not leave out. */
async function pipeReadAgain(looked: LookedChannel): Promise<IntervalSet[]> {
  const read: IntervalSet[] = [];
  for (const { runId, blocks } of await byTime(looked)) {
    const { excluded, notValid } = looked.apartOf(runId);
    const spoken = new SpokenPipe(looked.speaksForMm);
    for await (const block of blocks) spoken.add(block);
    read.push(spoken.pipe().subtract(excluded).subtract(notValid));
  }
  let later = IntervalSet.empty;
  return read.toReversed().map((own) => {
    const readLater = later;
    later = later.union(own);
    return readLater;
  }).toReversed();
}

interface Numbers {
  readonly channel: number;
  readonly stroke: number;
  /** How many more indications are taken. */
  readonly room: number;
}

async function detectStroke(looked: LookedChannel, stroke: SignalStroke, readAgain: IntervalSet, { room, ...numbers }: Numbers): Promise<{ saw: SawStroke; parts: StrokePart[] }> {
  const { excluded, notValid } = looked.apartOf(stroke.runId);
  const missing = notValid.subtract(excluded);
  const signals = new StrokeSignals(looked, excluded, readAgain, room);
  for await (const block of stroke.blocks) signals.add(withoutValues(block, missing));
  const parts = signals.end().map((indication) => ({ channel: nameOf(numbers.channel), stroke: numbers.stroke, indication }));
  const { runId, fromUs, toUs, backward } = stroke;
  const said = { channelId: looked.channelId, runId, startedAt: instantOf(fromUs), endedAt: instantOf(toUs), backward, speaksForMm: looked.speaksForMm };
  return { saw: { ...said, ...signals.counts() }, parts };
}

/** A stroke as the signals that are left of it, each with a detector of its own. */
class StrokeSignals {
  /** Of the signal that goes on; pipe that was read again ends it. */
  private detector: IndicationDetector | null = null;
  private readonly indications: Indication[] = [];
  private gapMm = 0;
  private readonly counted: DetectionCounts[] = [];
  private readAgainSamples = 0;
  private fromMm = Number.NaN;
  private toMm = Number.NaN;

  constructor(
    private readonly looked: LookedChannel,
    private readonly excluded: IntervalSet,
    private readonly readAgain: IntervalSet,
    private readonly room: number,
  ) {}

  add(block: SampleBlock): void {
    const { length } = block.positionsMm;
    if (length === 0) return;
    if (Number.isNaN(this.fromMm)) this.fromMm = block.positionsMm[0] as number;
    this.toMm = (block.positionsMm[length - 1] as number) + 1;
    for (const part of partsOf(block, this.readAgain.intervals)) {
      if (part.inside >= 0) {
        this.readAgainSamples += part.to - part.from;
        this.close();
      } else this.take(this.detectorNow().add(partOf(block, part)));
    }
  }

  /** All that was found. */
  end(): readonly Indication[] {
    this.close();
    return this.indications;
  }

  counts(): Omit<SawStroke, 'channelId' | 'runId' | 'startedAt' | 'endedAt' | 'backward' | 'speaksForMm'> {
    const sum = (of: (counts: DetectionCounts) => number): number => this.counted.reduce((total, one) => total + of(one), 0);
    const excluded = (of: 'samples' | 'samplesAtThreshold'): number => sum((one) => one.excluded.reduce((total, part) => total + part[of], 0));
    const looked: Interval | null = Number.isNaN(this.fromMm) ? null : { fromMm: this.fromMm, toMm: this.toMm };
    return {
      looked, samples: sum(({ samples }) => samples) + this.readAgainSamples, missingSamples: sum(({ missingSamples }) => missingSamples),
      saturatedSamples: sum(({ saturatedSamples }) => saturatedSamples), readAgain: this.readAgainSamples,
      excludedSamples: excluded('samples'), excludedAtThreshold: excluded('samplesAtThreshold'),
      gapMm: this.gapMm,
      tooShort: sum(({ tooShort }) => tooShort),
    };
  }

  private detectorNow(): IndicationDetector {
    // No sample speaks on into pipe that was read again.
    this.detector ??= new IndicationDetector(this.looked.rule, { pitchMm: this.looked.speaksForMm, excluded: this.excluded.union(this.readAgain) });
    return this.detector;
  }

  private close(): void {
    const { detector } = this;
    this.detector = null;
    if (detector === null) return;
    this.take(detector.rest());
    this.counted.push(detector.counts());
  }

  /** Of gaps, of which there may be one beside each sample, the length alone is kept. */
  private take({ indications, gaps }: Settled): void {
    if (this.indications.length + indications.length > this.room) throw new TooMuchFound(`more than ${MOST_PARTS} indications`);
    for (const one of indications) this.indications.push(one);
    for (const { fromMm, toMm } of gaps) this.gapMm += toMm - fromMm;
  }
}

/** What a channel showed in a stroke. */
interface StrokePart extends ChannelPart {
  readonly stroke: number;
}

/** Channels are put in order by their number in the rule. */
const nameOf = (channel: number): string => String(channel).padStart(2, '0');

/** Nearer than this is what touches. */
const TOUCHING_MM = 1;

/** Parts of one place, channel by channel or of all channels where the rule says so; in order of footage. */
function putTogether(parts: readonly StrokePart[], jointMm: number | null): FoundPlace[] {
  const names = jointMm === null ? [...new Set(parts.map(({ channel }) => channel))] : [null];
  const joint = names.flatMap((name) => combineChannels(name === null ? parts : parts.filter(({ channel }) => channel === name), Math.max(TOUCHING_MM, jointMm ?? 0)));
  return joint.map(({ fromMm, toMm, parts: own }) => ({ fromMm, toMm, parts: own.map(partFound) })).sort((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm);
}

function partFound({ channel, stroke, indication }: StrokePart): FoundPart {
  const { fromMm, toMm, begins, ends, peak, samples, runs, missingMm } = indication;
  return { channel: Number(channel), stroke, fromMm, toMm, begins, ends, peak: digitsOf(peak.value), peakMm: peak.atMm, isBound: peak.isBound, samples, runs, missingMm };
}
