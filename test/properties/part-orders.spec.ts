import { describe, expect, jest, test } from '@jest/globals';
import { BLOCK_SAMPLES, evenEdges, type Samples } from '#libs/signals';
import { LineKnowledge } from '../../apps/api/src/line/line-knowledge.js';
import { blocksBetween } from '../../apps/api/src/signals/block-span.js';
import { ChannelDirectory } from '../../apps/api/src/signals/channel-directory.js';
import { joinedStretches, type JoinedStretch } from '../../apps/api/src/signals/joined-stretches.js';
import { stretchesOf } from '../../apps/api/src/signals/stretch.js';
import { emptySamples, randomFrom, type Random } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { wrongWith } from './signals.judged.js';
import { plainOf, pyramidOf, storeOf, viewOfRuns } from './signals.channel.js';
import { walkColumns } from './signals.reference.js';

jest.setTimeout(120_000);

const SEED = seedFromEnvironment().seed ?? 13;
const US_A_MM = 6_000;

/** A part: one block or several, when it was read, and which way the pipe went. */
interface Part {
  readonly blocks: readonly Samples[];
  readonly fromUs: number;
  readonly toUs: number;
}

/** Pipe read from one position on, a millimetre a sample, in parts of any size; time goes on from `fromUs`. */
function partsOf(random: Random, count: number, start: number, way: 1 | -1, fromUs: number): Part[] {
  let position = start;
  const clock = (at: number): number => fromUs + Math.abs(at - start) * US_A_MM;
  return Array.from({ length: count }, () => {
    const first = position;
    const blocks = Array.from({ length: 1 + Math.floor(random() * 6) }, (_, nth, whole = random() < 0.7) => {
      const samples = emptySamples(whole || nth === 0 ? BLOCK_SAMPLES : 1 + Math.floor(random() * BLOCK_SAMPLES));
      for (let index = 0; index < samples.values.length; index += 1, position += way) {
        samples.positions[index] = position;
        samples.values[index] = 5 + Math.sin(position / 900) + random() * 0.1;
      }
      return samples;
    });
    return { blocks, fromUs: clock(first), toUs: clock(position - way) };
  });
}

function shuffled<T>(all: readonly T[], random: Random): T[] {
  return all.map((one) => [random(), one] as const).sort(([a], [b]) => a - b).map(([, one]) => one);
}

/** What a channel holds that these parts came to, in this order. */
function channelWith(parts: readonly Part[]): { readonly directory: ChannelDirectory; readonly blocks: readonly Samples[]; readonly joined: JoinedStretch[] } {
  const directory = new ChannelDirectory();
  directory.know({ id: 'u', runId: 'r', position: 'counter', decimals: 0 });
  for (const { blocks, fromUs, toUs } of parts) {
    const samples = blocks.reduce((sum, { values }) => sum + values.length, 0);
    let before = 0;
    for (const { positions } of blocks) {
      const at = (index: number): number => (samples === 1 ? fromUs : fromUs + Math.round(((toUs - fromUs) * index) / (samples - 1)));
      directory.add({
        uploadId: 'u', samples: positions.length, firstPosition: positions[0] as number, lastPosition: positions.at(-1) as number,
        fromUs: at(before), toUs: at(before + positions.length - 1), unread: 0, knownUs: 0,
      });
      before += positions.length;
    }
  }
  const line = new LineKnowledge({
    masterCounter: 'C', setups: [], cutOuts: [], periods: [{
      record: { kind: 'counter-period', id: 'p', version: 1 }, counter: 'C', during: { from: '1960-01-01T00:00:00Z', until: null }, startReading: 0, start: { kind: 'established', footageMm: 0 },
      scaleMmPerCount: 1, scaleRelativeU: 0.001,
    }],
  });
  const { stretches } = stretchesOf(directory, directory.blocks, { line, station: null, counterOf: () => 'C', logOf: () => ({ timesUs: [], footagesMm: [] }) });
  return { directory, blocks: parts.flatMap((part) => part.blocks), joined: joinedStretches(directory, stretches) };
}

const runsOf = (directory: ChannelDirectory, { stretch, parts }: JoinedStretch, low: number, high: number): { readonly fromBlock: number; readonly toBlock: number }[] =>
  parts.map(({ fromBlock, toBlock }) => blocksBetween(directory, { fromBlock, toBlock, positionsRise: stretch.positionsRise }, low, high));

describe('the same parts in any order', () => {
  test('are one stretch along the pipe, forward or back, and every column of it is as a walk over the samples has it', () => {
    const random = randomFrom(SEED);
    const met = { exact: 0, shared: 0, apart: 0 };
    for (let trial = 0; trial < 12; trial += 1) {
      const way = trial % 3 === 2 ? -1 : 1;
      const inOrder = partsOf(random, 12, 1_000_000, way, 0);
      const { directory, blocks, joined } = channelWith(trial === 0 ? inOrder : shuffled(inOrder, random));
      expect(joined).toHaveLength(1);
      const [whole] = joined as [JoinedStretch];
      if (whole.parts.length > 1) met.apart += 1;
      const [levels, plain] = [pyramidOf(blocks), plainOf(blocks)];
      const store = storeOf(blocks, levels);
      const positions = plain.map(({ position }) => position);
      const [low, high] = [positions.reduce((a, b) => Math.min(a, b)), positions.reduce((a, b) => Math.max(a, b))];
      for (let window = 0; window < 12; window += 1) {
        const length = (high - low) ** (0.3 + 0.7 * random());
        const from = low - 500 + random() * (high - low + 1_000 - length);
        const edges = evenEdges(from, from + length, 1 + Math.floor(300 ** random()));
        const { columns } = viewOfRuns(runsOf(directory, whole, edges[0] as number, edges.at(-1) as number), edges, store);
        const walked = walkColumns(plain, edges);
        expect(columns.flatMap((column, index) => wrongWith(column, walked, index))).toEqual([]);
        for (const { sharpness } of columns) if (sharpness !== 'coarse') met[sharpness] += 1;
        expect(columns.some(({ sharpness }) => sharpness === 'coarse')).toBe(false);
      }
    }
    expect(Object.values(met).every((count) => count > 8)).toBe(true);
  });

  test('with pipe that went back between them are as many goes as when they come in order', () => {
    const random = randomFrom(SEED + 1);
    const there = partsOf(random, 5, 0, 1, 0);
    const endMm = there.reduce((sum, { blocks }) => sum + blocks.reduce((own, { values }) => own + values.length, 0), 0);
    const back = partsOf(random, 3, endMm - 1, -1, endMm * US_A_MM);
    const again = partsOf(random, 5, endMm, 1, 10 * endMm * US_A_MM);
    const ends = ({ joined }: ReturnType<typeof channelWith>): unknown[] => joined.map(({ stretch, parts }) => [stretch.falls, parts[0]?.firstPosition, parts.at(-1)?.lastPosition]);
    const inOrder = ends(channelWith([...there, ...back, ...again]));
    expect(inOrder).toHaveLength(3);
    for (let trial = 0; trial < 10; trial += 1) expect(ends(channelWith(shuffled([...there, ...back, ...again], random)))).toEqual(inOrder);
  });

  test('that overlap along the pipe stay apart: the pipe was read twice', () => {
    const random = randomFrom(SEED + 2);
    const [first, second] = [partsOf(random, 3, 0, 1, 0), partsOf(random, 3, 2_000, 1, 1e12)];
    expect(channelWith(shuffled([...first, ...second], random)).joined).toHaveLength(2);
  });
});
