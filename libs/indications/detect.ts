import { type DetectionCounts, IndicationDetector, type Settled, type SignalBase } from './detector.js';
import type { IndicationRule } from './rule.js';
import type { SampleBlock } from './samples.js';

export interface Detection extends Settled {
  readonly counts: DetectionCounts;
}

/** All indications of the blocks of one channel, in order of footage. Throws RangeError as the detector does. */
export function detectIndications(blocks: Iterable<SampleBlock>, rule: IndicationRule, base: SignalBase): Detection {
  const detector = new IndicationDetector(rule, base);
  const settled = [...blocks].map((block) => detector.add(block));
  const all = [...settled, detector.rest()];
  return {
    indications: all.flatMap(({ indications }) => indications),
    gaps: all.flatMap(({ gaps }) => gaps),
    counts: detector.counts(),
  };
}
