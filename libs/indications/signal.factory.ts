import { IntervalSet } from '#libs/intervals';
import { detectIndications, type Detection, type IndicationRule, type SampleBlock, type SignalBase } from '#libs/indications';

export const RULE: IndicationRule = { sense: 'above', threshold: 50, release: 30, minimumLengthMm: 0, combiningMm: 0, bridgedGapMm: 0 };
export const BASE: SignalBase = { pitchMm: 1, excluded: IntervalSet.empty };

/** One sample a millimetre from `fromMm` on; null is missing. */
export function signal(values: readonly (number | null)[], fromMm = 0): SampleBlock {
  return {
    positionsMm: Int32Array.from(values, (_value, index) => fromMm + index), values: Float32Array.from(values, (value) => value ?? Number.NaN), bounds: null,
  };
}

export function detect(block: SampleBlock, rule: Partial<IndicationRule> = {}, base: Partial<SignalBase> = {}): Detection {
  return detectIndications([block], { ...RULE, ...rule }, { ...BASE, ...base });
}
