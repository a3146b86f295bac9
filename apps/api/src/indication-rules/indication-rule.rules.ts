import { compare, decimal } from '#libs/exact';
import type { IndicationRule } from '#libs/indications';
import type { Channel } from '../channels/channel.entity.js';
import type { FieldProblem } from '../http/problem.js';
import type { IndicationRuleInput } from './indication-rule.dto.js';
import type { IndicationRuleVersion, RuleChannel } from './indication-rule.entity.js';

/** A rule as people name it. */
export const ruleName = ({ name, revision }: Pick<IndicationRuleVersion, 'name' | 'revision'>): string => `${name} revision ${revision}`;

/** What contradicts itself in a rule, field by field. */
export function ruleFaults({ channels, jointMm }: Pick<IndicationRuleInput, 'channels' | 'jointMm'>): FieldProblem[] {
  return [
    ...channels.flatMap(({ channelId }, index) => (channels.findIndex((one) => one.channelId === channelId) < index
      ? [{ field: `channels[${index}].channelId`, value: channelId, limit: 'each channel once' }] : [])),
    ...channels.flatMap((one, index) => (isBeyond(one) ? [{ field: `channels[${index}].release`, value: one.release, limit: beside(one) }] : [])),
    ...(jointMm != null && channels.length === 1 ? [{ field: 'jointMm', value: jointMm, limit: 'only beside several channels' }] : []),
  ];
}

type Levels = Pick<RuleChannel, 'sense' | 'threshold' | 'release'>;

function isBeyond({ sense, threshold, release }: Levels): boolean {
  const order = compare(decimal(release), decimal(threshold));
  return sense === 'above' ? order > 0 : order < 0;
}

const beside = ({ sense, threshold }: Levels): string => (sense === 'above' ? `at most the threshold of ${threshold}` : `at least the threshold of ${threshold}`);

/** Channels of which nobody says how far a sample speaks: sampled by time, without a window of speed. */
export function speechFaults(channels: readonly { readonly speaksForMm?: number | null }[], rows: readonly Pick<Channel, 'sampling' | 'speedWindow'>[]): FieldProblem[] {
  return channels.flatMap(({ speaksForMm }, index) => {
    const row = rows[index];
    if (row === undefined || (speaksForMm ?? pitchMmOf(row)) !== null) return [];
    return [{ field: `channels[${index}].speaksForMm`, value: null, limit: 'needed for a channel that is sampled by time and has no window of speed' }];
  });
}

/** Samples further apart than so many times their usual distance leave a gap, as where coverage is asked for. Our own choice. */
const GAP_FROM = 1.5;

/**
 * How far a sample of a channel speaks, whole mm: to the next one where that is not too far, and a millimetre more since footage
 * is rounded to whole ones. By time the usual distance is the most that the line runs in between within the window of its
 * technique. Null where neither tells.
 */
export function pitchMmOf({ sampling, speedWindow }: Pick<Channel, 'sampling' | 'speedWindow'>): number | null {
  if (sampling.per === 'length') return Math.floor(Number(sampling.everyMm) * GAP_FROM) + 1;
  if (speedWindow === null) return null;
  const mmPerMs = Number(speedWindow.toMPerMin) / 60;
  return Math.floor(Number(sampling.everyMs) * mmPerMs * GAP_FROM) + 1;
}

/** The rule of one of its channels as it is computed with. */
export function ruleOf(rule: Pick<IndicationRuleVersion, 'minimumLengthMm' | 'combiningMm' | 'bridgedGapMm'>, { sense, threshold, release }: Levels): IndicationRule {
  const { minimumLengthMm, combiningMm, bridgedGapMm } = rule;
  return { sense, threshold: Number(threshold), release: Number(release), minimumLengthMm, combiningMm, bridgedGapMm };
}
