import { createApp } from '../../apps/api/src/create-app.js';
import { readConfiguration } from '../../apps/api/src/configuration.js';
import { ENTITIES } from '../../apps/api/src/app.module.js';
import { SignalStrokes } from '../../apps/api/src/signals/signal-strokes.service.js';
import { IndicationDetector, type IndicationRule, type SampleBlock } from '../../libs/indications/index.js';
import { IntervalSet } from '../../libs/intervals/index.js';
import { createDataSource } from '../../libs/persistence/index.js';
import { median } from './load.js';
import type { ViewedString } from './views.js';

const ROUNDS = 5;
const RULE: IndicationRule = { sense: 'below', threshold: 4.8, release: 4.85, minimumLengthMm: 3, combiningMm: 20, bridgedGapMm: 5 };
const BASE = { pitchMm: 1, excluded: IntervalSet.from([]) };

/** Samples a second of processor time in this process, but for `wall`; medians. */
export interface StoredDetection {
  readonly samples: number;
  readonly indications: number;
  readonly reading: number;
  readonly both: number;
  readonly detector: number;
  /** Both, by the clock. */
  readonly wall: number;
}

/** All samples of a channel read from the store, with and without the detector, and the detector alone on them. */
export async function detectionOverStored(databaseUrl: string, { stringId, channelId }: ViewedString): Promise<StoredDetection> {
  const dataSource = await createDataSource({ url: databaseUrl, entities: ENTITIES, role: 'everymetre_app' }).initialize();
  const app = await createApp({ configuration: readConfiguration({ DATABASE_URL: databaseUrl }), dataSource });
  try {
    const strokes = app.get(SignalStrokes);
    const each = async (take: (block: SampleBlock) => void): Promise<void> => {
      for (const { blocks } of await strokes.of(stringId, channelId, null, null)) for await (const block of blocks) take(block);
    };
    const kept: SampleBlock[] = [];
    await each((block) => { kept.push(block); });
    const samples = kept.reduce((sum, { values }) => sum + values.length, 0);
    const detected = async (from: (take: (block: SampleBlock) => void) => Promise<void>): Promise<number> => {
      const detector = new IndicationDetector(RULE, BASE);
      let found = 0;
      await from((block) => { found += detector.add(block).indications.length; });
      return found + detector.rest().indications.length;
    };
    const again = (take: (block: SampleBlock) => void): Promise<void> => { kept.forEach(take); return Promise.resolve(); };
    const indications = await detected(again);
    const rounds: Record<'reading' | 'both' | 'detector', Cost>[] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      rounds.push({ reading: await costOf(() => each(() => undefined)), both: await costOf(() => detected(each)), detector: await costOf(() => detected(again)) });
    }
    const rate = (of: (round: (typeof rounds)[number]) => number): number => samples / median(rounds.map(of));
    return { samples, indications, reading: rate(({ reading }) => reading.cpuS), both: rate(({ both }) => both.cpuS), detector: rate(({ detector }) => detector.cpuS), wall: rate(({ both }) => both.wallS) };
  } finally {
    await app.close();
    await dataSource.destroy();
  }
}

interface Cost {
  readonly cpuS: number;
  readonly wallS: number;
}

async function costOf(work: () => Promise<unknown>): Promise<Cost> {
  const [began, before] = [performance.now(), process.cpuUsage()];
  await work();
  const { user, system } = process.cpuUsage(before);
  return { cpuS: (user + system) / 1e6, wallS: (performance.now() - began) / 1000 };
}
