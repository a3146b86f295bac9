import { decodeBlock, encodeBlock, type Samples } from '#libs/signals';
import { blocksOf, KINDS } from '../fixtures/signals.js';
import { median } from './load.js';

const BLOCKS = 60;
const ROUNDS = 9;
const RAW_BYTES = 4;
const SEED = 7;

/** Of one kind of signal: millions of samples a second, and the share of four bytes a value that blocks take. */
export interface SignalSpeed {
  readonly kind: string;
  readonly share: number;
  readonly encodedPerSecondM: number;
  readonly decodedPerSecondM: number;
  /** Copying the three arrays of a block into new memory, and nothing else. */
  readonly copiedPerSecondM: number;
  /** Times that encoding, and decoding, take as long as copying; medians of the rounds. */
  readonly encodeRatio: number;
  readonly decodeRatio: number;
}

/** Blocks of every kind encoded, decoded and copied in turn, in this process. */
export function signalSpeeds(): SignalSpeed[] {
  return KINDS.map((kind) => {
    const blocks = blocksOf(kind, SEED, BLOCKS);
    const samples = blocks.reduce((sum, { values }) => sum + values.length, 0);
    const encoded = blocks.map(encodeBlock);
    const times = Array.from({ length: ROUNDS + 1 }, () => ({
      copyMs: elapsedMs(() => blocks.map(copied)), encodeMs: elapsedMs(() => blocks.map(encodeBlock)), decodeMs: elapsedMs(() => encoded.map((bytes) => decodeBlock(bytes))),
    })).slice(1); // the first round warms up
    const perSecondM = (of: (time: (typeof times)[number]) => number): number => samples / median(times.map(of)) / 1000;
    return {
      kind: kind.name, share: encoded.reduce((sum, { length }) => sum + length, 0) / (samples * RAW_BYTES),
      encodedPerSecondM: perSecondM(({ encodeMs }) => encodeMs), decodedPerSecondM: perSecondM(({ decodeMs }) => decodeMs), copiedPerSecondM: perSecondM(({ copyMs }) => copyMs),
      encodeRatio: median(times.map(({ encodeMs, copyMs }) => encodeMs / copyMs)), decodeRatio: median(times.map(({ decodeMs, copyMs }) => decodeMs / copyMs)),
    };
  });
}

const copied = ({ positions, values, statuses }: Samples): Samples => ({ positions: positions.slice(), values: values.slice(), statuses: statuses.slice() });

/** Keeps what `work` makes until the clock has been read, so that it cannot be left out. */
function elapsedMs(work: () => readonly unknown[]): number {
  const began = performance.now();
  const made = work();
  const ms = performance.now() - began;
  if (made.length !== BLOCKS) throw new Error(`${made.length} blocks`);
  return ms;
}
