import { AT_LEAST, IndicationDetector, type IndicationRule, MEASURED, type SampleBlock, type SignalBase } from '../../libs/indications/index.js';
import { interval, IntervalSet } from '../../libs/intervals/index.js';
import { median } from './load.js';

const BLOCK = 4096;
/** 10 km at a sample a millimetre. */
const SAMPLES = 10_000_000;
const THRESHOLD = 50;
const RULE: IndicationRule = { sense: 'above', threshold: THRESHOLD, release: 40, minimumLengthMm: 3, combiningMm: 20, bridgedGapMm: 5 };
const ROUNDS = 5;

/** What a signal has of everything that is not quiet, as one sample in so many; 0 for none. */
export interface SignalMake {
  readonly what: string;
  readonly indicationEvery: number;
  readonly missingEvery: number;
  readonly saturatedEvery: number;
  readonly spliceEvery: number;
}

export const MAKES: readonly SignalMake[] = [
  { what: 'quiet', indicationEvery: 0, missingEvery: 0, saturatedEvery: 0, spliceEvery: 0 },
  { what: 'an indication of 12 mm a metre, a sample in 5,000 missing, a splice every 300 m', indicationEvery: 1000, missingEvery: 5000, saturatedEvery: 0, spliceEvery: 300_000 },
  { what: 'the same with saturated samples', indicationEvery: 1000, missingEvery: 5000, saturatedEvery: 2000, spliceEvery: 300_000 },
  { what: 'an indication of 12 mm every 25 mm', indicationEvery: 25, missingEvery: 5000, saturatedEvery: 0, spliceEvery: 300_000 },
];

interface Signal {
  readonly blocks: readonly SampleBlock[];
  readonly base: SignalBase;
}

const isEvery = (at: number, every: number): boolean => every > 0 && at % every === 0;

function signalOf({ indicationEvery, missingEvery, saturatedEvery, spliceEvery }: SignalMake): Signal {
  let seed = 1;
  const noise = (): number => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return seed / 2 ** 32;
  };
  const valueAt = (at: number): number => {
    if (isEvery(at, missingEvery)) return Number.NaN;
    return indicationEvery > 0 && at % indicationEvery < 12 ? 45 + 40 * noise() : 5 + 30 * noise();
  };
  const blocks = Array.from({ length: Math.ceil(SAMPLES / BLOCK) }, (_, nth) => {
    const places = Array.from({ length: Math.min(BLOCK, SAMPLES - nth * BLOCK) }, (_place, index) => nth * BLOCK + index);
    return {
      positionsMm: Int32Array.from(places), values: Float32Array.from(places, valueAt),
      bounds: saturatedEvery === 0 ? null : Uint8Array.from(places, (at) => (isEvery(at, saturatedEvery) ? AT_LEAST : MEASURED)),
    };
  });
  const splices = spliceEvery === 0 ? [] : Array.from({ length: SAMPLES / spliceEvery }, (_, nth) => interval((nth + 1) * spliceEvery, (nth + 1) * spliceEvery + 500));
  return { blocks, base: { pitchMm: 1, excluded: IntervalSet.from(splices) } };
}

/** Compares each sample with the threshold and counts: the least that anything which finds indications has to do. */
function bareLoop(blocks: readonly SampleBlock[]): number {
  let found = 0;
  for (const { values } of blocks) {
    for (let index = 0; index < values.length; index += 1) if ((values[index] as number) >= THRESHOLD) found += 1;
  }
  return found;
}

function detectAll({ blocks, base }: Signal): number {
  const detector = new IndicationDetector(RULE, base);
  return blocks.reduce((sum, block) => sum + detector.add(block).indications.length, 0) + detector.rest().indications.length;
}

function timed(work: () => number): { readonly seconds: number; readonly found: number } {
  const begun = performance.now();
  const found = work();
  return { seconds: (performance.now() - begun) / 1000, found };
}

export interface DetectionSpeed {
  /** Samples a second, medians. */
  readonly bare: number;
  readonly detector: number;
  /** Time of the detector over that of the bare loop. */
  readonly timeRatio: number;
  readonly indications: number;
}

/** Turns about between the bare loop and the detector on one signal, on one core. */
export function compareDetection(make: SignalMake): DetectionSpeed {
  const signal = signalOf(make);
  bareLoop(signal.blocks);
  const { found } = timed(() => detectAll(signal));
  const rounds = Array.from({ length: ROUNDS }, () => ({ bare: timed(() => bareLoop(signal.blocks)).seconds, detector: timed(() => detectAll(signal)).seconds }));
  const [bareS, detectorS] = [median(rounds.map(({ bare }) => bare)), median(rounds.map(({ detector }) => detector))];
  return { bare: SAMPLES / bareS, detector: SAMPLES / detectorS, timeRatio: detectorS / bareS, indications: found };
}
