import type { Edge } from '#libs/indications';
import type { Interval } from '#libs/intervals';

/** What one channel showed at a place, in one stroke. */
export interface FoundPart extends Interval {
  /** Its number in the rule, from 0. */
  readonly channel: number;
  /** The number of its stroke in what the detection saw, from 0. */
  readonly stroke: number;
  readonly begins: Edge;
  readonly ends: Edge;
  /** Decimal text in the unit of the channel. */
  readonly peak: string;
  readonly peakMm: number;
  readonly isBound: boolean;
  readonly samples: number;
  readonly runs: number;
  readonly missingMm: number;
}

/** One indication as a detection found it. */
export interface FoundPlace extends Interval {
  readonly parts: readonly FoundPart[];
}

/** What became of it: the indication that was opened for it, if any, and those that stood there already. */
export interface SettledPlace extends FoundPlace {
  readonly indicationId: string | null;
  readonly standing: readonly string[];
}

/** What of one stroke of a channel a detection looked at. */
export interface SawStroke {
  readonly channelId: string;
  readonly runId: string;
  readonly startedAt: string;
  readonly endedAt: string;
  readonly backward: boolean;
  /** How far a sample was taken to speak, mm. */
  readonly speaksForMm: number;
  /** Footage from its first to its last sample; null when none of it was looked at. */
  readonly looked: Interval | null;
  readonly samples: number;
  readonly missingSamples: number;
  readonly saturatedSamples: number;
  /** Samples that a later stroke took the place of. */
  readonly readAgain: number;
  /** Samples in pipe that was left out, and those of them that would have made an indication. */
  readonly excludedSamples: number;
  readonly excludedAtThreshold: number;
  /** Pipe for which no sample spoke, mm: between first and last sample, outside what was left out. */
  readonly gapMm: number;
  /** Found, and shorter than the minimum length. */
  readonly tooShort: number;
}

/** Samples of a channel that have no footage: nobody looked at them. */
export interface NotPlaced {
  readonly channelId: string;
  readonly runId: string;
  readonly samples: number;
  readonly startedAt: string;
  readonly endedAt: string;
  readonly why: 'no-counter-period' | 'no-line-setup' | 'no-counter-readings';
}

const EDGES: readonly Edge[] = ['signal', 'gap', 'exclusion', 'end-of-data'];

type PackedPart = readonly [number, number, number, number, number, number, string, number, 0 | 1, number, number, number];
/** A place as it is stored: numbers in a fixed order, edges by their number. */
export type PackedPlace = readonly [number, number, string | null, readonly string[], readonly PackedPart[]];

export function packed({ fromMm, toMm, indicationId, standing, parts }: SettledPlace): PackedPlace {
  return [fromMm, toMm, indicationId, standing, parts.map((part) => [
    part.channel, part.stroke, part.fromMm, part.toMm, EDGES.indexOf(part.begins), EDGES.indexOf(part.ends), part.peak, part.peakMm, part.isBound ? 1 : 0,
    part.samples, part.runs, part.missingMm,
  ])];
}

export function unpacked([fromMm, toMm, indicationId, standing, parts]: PackedPlace): SettledPlace {
  return { fromMm, toMm, indicationId, standing, parts: parts.map(unpackedPart) };
}

function unpackedPart([channel, stroke, fromMm, toMm, begins, ends, peak, peakMm, bound, samples, runs, missingMm]: PackedPart): FoundPart {
  return { channel, stroke, fromMm, toMm, begins: edgeOf(begins), ends: edgeOf(ends), peak, peakMm, isBound: bound === 1, samples, runs, missingMm };
}

function edgeOf(number: number): Edge {
  const edge = EDGES[number];
  if (edge === undefined) throw new RangeError(`there is no edge ${number}`);
  return edge;
}

const MOST_DECIMALS = 9;

/** A value of samples as decimal text: the fewest digits that mean it, in the precision that it has; at most 9 decimals. */
export function digitsOf(value: number): string {
  const isSingle = Math.fround(value) === value;
  const means = (text: string): boolean => (isSingle ? Math.fround(Number(text)) : Number(text)) === value;
  for (let decimals = 0; decimals < MOST_DECIMALS; decimals += 1) {
    const text = value.toFixed(decimals);
    if (means(text)) return text;
  }
  return value.toFixed(MOST_DECIMALS);
}
