import { USUAL_OF_AT_LEAST } from '#libs/channel-watch';
import type { Channel } from '../channels/channel.entity.js';
import type { WatchRuleAnswer } from './channel-watch.dto.js';
import { percent, type UnjudgedNoise } from './watch-findings.js';
import type { WatchLimits } from './watch-limits.js';

const OWN = 'Common practice, no published source; the limit is our own choice.';
const OF_CHANNEL = 'Common practice, no published source; the limit is the one of the channel.';

/** Every rule with whether it was applied. */
export function rulesTold(channel: Channel, { windowMm, lostFromMm, mostImplausible, mostSaturated, leastOfUsualNoise }: WatchLimits, unjudged: UnjudgedNoise): WatchRuleAnswer[] {
  const { noiseFloorLeast, stuckAfter, spliceMarginMm, unit, zone } = channel;
  return [
    noiseFloorLeast === null
      ? { rule: 'noise-floor', applied: false, words: 'The channel gives no least noise floor.' }
      : { rule: 'noise-floor', applied: true, words: `Noise of a window of ${windowMm} mm below ${noiseFloorLeast} ${unit}: the lower median of the standard deviations of its cells of 256 samples. ${tooFew(unjudged)}${OF_CHANNEL}` },
    stuckAfter === null
      ? { rule: 'identical-values', applied: false, words: 'The channel does not say how many identical readings look stuck.' }
      : { rule: 'identical-values', applied: true, words: `${stuckAfter} identical readings or more in a row, also over parts and uploads that followed each other. ${OF_CHANNEL}` },
    { rule: 'lost-coupling', applied: true, words: `Missing samples in a row over at least ${lostFromMm} mm. Where nothing was sent at all there is no sample to miss: coverage tells of that. ${OWN}` },
    spliceMarginMm === null
      ? { rule: 'probe-lifted-over-splice', applied: false, words: 'The channel does not say how much pipe beside a splice it has to cover.' }
      : { rule: 'probe-lifted-over-splice', applied: true, words: `Pipe within ${spliceMarginMm} mm of a splice that a run went over without a valid sample, or with its probe marked as lifted. ${OF_CHANNEL}` },
    {
      rule: 'off-weld-line', applied: true,
      words: `Marks that say so. ${offSeam(zone, unjudged, leastOfUsualNoise)}`,
    },
    { rule: 'implausible-share', applied: true, words: `More than ${percent(mostImplausible)} of the samples of a window. ${OWN}` },
    { rule: 'saturated-share', applied: true, words: `More than ${percent(mostSaturated)} of the samples of a window. ${OWN}` },
  ];
}

/** Pipe of which the noise is not known must not look quiet enough. */
function tooFew({ tooFew: { isEmpty, totalLengthMm } }: UnjudgedNoise): string {
  return isEmpty ? '' : `Over ${totalLengthMm} mm no cell has 16 values that were read: nothing is said of their noise. `;
}

function offSeam(zone: Channel['zone'], unjudged: UnjudgedNoise, least: number): string {
  if (zone !== 'seam') return 'The signal itself is asked of channels over the seam only.';
  const seen = `Windows with less than ${percent(least)} of the noise that is usual in their run: it shows a probe that left a weld noisier than the body, for the lesser part of a run, `
    + 'and neither one that was beside the weld most of the time, nor a weld as quiet as the body.';
  return `${seen} ${tooFew(unjudged)}${unjudged.isUsualKnown ? '' : `Some runs have fewer than ${USUAL_OF_AT_LEAST} windows in what was asked: what is usual there is not known, and nothing is said of them by their noise. `}${OWN}`;
}
