import { IntersectionType, OmitType } from '@nestjs/swagger';
import { REPEAT_RULES, type RepeatRule } from '#libs/reference-checks';
import { Choice, Measured, Measureds, Part, ShortName, Text, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';

export const CHANNEL_MEASURES = [
  'wall-thickness', 'eddy-current-amplitude', 'ultrasonic-amplitude', 'flux-leakage-amplitude', 'weld-power', 'temperature', 'speed', 'other',
] as const;
export type ChannelMeasure = (typeof CHANNEL_MEASURES)[number];

export const CHANNEL_ZONES = ['seam', 'heat-affected-zone', 'body', 'whole'] as const;
export const SAMPLED_PER = ['length', 'time'] as const;
/** What reaches a threshold: a value at or above it, or at or below it. */
export const THRESHOLD_SENSES = ['above', 'below'] as const;
export type ThresholdSense = (typeof THRESHOLD_SENSES)[number];

/** What applies unless the project says otherwise: see FOUR_HOURLY of libs/reference-checks for where it comes from. */
export const USUAL_CHECK_MINUTES = 240;

const UNIT = 'in the unit of the channel';
const LARGEST = 1e9;

/** How far apart samples are, by length of pipe or by time. */
export class ChannelSamplingPart {
  @Choice({ description: 'By length of pipe, or by time.', example: 'length', of: SAMPLED_PER })
  per!: (typeof SAMPLED_PER)[number];

  @Measured({ description: 'Length of pipe between samples; for length alone.', example: '1.0', min: 0.001, max: 100_000, unit: 'mm', optional: true })
  everyMm?: string | null;

  @Measured({ description: 'Time between samples; for time alone.', example: null, min: 0.001, max: 3_600_000, unit: 'ms', optional: true })
  everyMs?: string | null;
}

/** Where an indication begins. */
export class ChannelThresholdPart {
  @Choice({ description: 'Which side of it is an indication; what lies on it is one.', example: 'above', of: THRESHOLD_SENSES })
  sense!: ThresholdSense;

  @Measured({ description: 'The level.', example: '60', min: -LARGEST, max: LARGEST, unit: UNIT })
  level!: string;
}

/** The values at which the instrument shows no more: what was measured may lie beyond. */
export class SaturationPart {
  @Measured({ description: 'The highest value it shows.', example: '100', min: -LARGEST, max: LARGEST, unit: UNIT, optional: true })
  high?: string | null;

  @Measured({ description: 'The lowest value it shows.', example: null, min: -LARGEST, max: LARGEST, unit: UNIT, optional: true })
  low?: string | null;
}

/** Values outside it are unlikely to have been measured. */
export class PlausibleRangePart {
  @Measured({ description: 'From.', example: '0', min: -LARGEST, max: LARGEST, unit: UNIT, optional: true })
  from?: string | null;

  @Measured({ description: 'To.', example: '100', min: -LARGEST, max: LARGEST, unit: UNIT, optional: true })
  to?: string | null;
}

/** Speeds of the pipe at which the technique is good. */
export class SpeedWindowPart {
  @Measured({ description: 'The lowest.', example: '4', min: 0, max: 1000, unit: 'm/min' })
  fromMPerMin!: string;

  @Measured({ description: 'The highest.', example: '18', min: 0.001, max: 1000, unit: 'm/min' })
  toMPerMin!: string;
}

/** One stream of samples of the line: what is measured, where and how. `observedAt` is from when on it is so. */
export class ChannelInput extends StringRecordInput {
  @ShortName({ description: 'Its name, as the line computer sends it; unique on the string.', example: 'ET-seam-1' })
  name!: string;

  @Choice({ description: 'What is measured.', example: 'eddy-current-amplitude', of: CHANNEL_MEASURES })
  measures!: ChannelMeasure;

  @Text({ description: 'The unit as printed.', example: '%', max: 20 })
  unit!: string;

  @Choice({ description: 'The method of examination, as ISO 9712 abbreviates it: every amplitude has one, and what tells of the process has none.', example: 'ET', of: EXAMINATION_METHODS, optional: true })
  method?: (typeof EXAMINATION_METHODS)[number] | null;

  @Text({ description: 'The technique, with its revision.', example: 'ET-02 rev 1', max: 80, optional: true })
  technique?: string | null;

  @Text({ description: 'The station of the line where it is measured; the weld point when absent.', example: 'eddy head', max: 60, optional: true })
  station?: string | null;

  @Choice({ description: 'What of the pipe it sees.', example: 'seam', of: CHANNEL_ZONES })
  zone!: (typeof CHANNEL_ZONES)[number];

  @Text({ description: 'The probe, as it is marked.', example: 'P-14', max: 80, optional: true })
  probe?: string | null;

  @Measured({ description: 'Where around the pipe it begins to see, clockwise from the top, looking as the line set-up says.', example: '345', min: 0, max: 360, unit: '°', optional: true })
  clockFromDeg?: string | null;

  @Measured({ description: 'Where around the pipe it ends; a smaller one than the beginning goes over the top.', example: '15', min: 0, max: 360, unit: '°', optional: true })
  clockToDeg?: string | null;

  @Part({ description: 'How far apart its samples are.', of: () => ChannelSamplingPart, example: { per: 'length', everyMm: '1.0' } })
  sampling!: ChannelSamplingPart;

  @Part({ description: 'Where an indication begins; absent for a channel without indications.', of: () => ChannelThresholdPart, optional: true, example: { sense: 'above', level: '60' } })
  threshold?: ChannelThresholdPart | null;

  @YesNo({ description: 'True when every metre has to be inspected by it.', example: true })
  required!: boolean;

  @Measureds({ description: 'What the device sends when it read nothing.', example: ['-999'], min: -LARGEST, max: LARGEST, unit: UNIT, most: 20, optional: true })
  missingValues?: string[] | null;

  @Part({ description: 'Where it saturates.', of: () => SaturationPart, optional: true, example: { high: '100', low: null } })
  saturatesAt?: SaturationPart | null;

  @Part({ description: 'What it can sensibly read.', of: () => PlausibleRangePart, optional: true, example: { from: '0', to: '100' } })
  plausible?: PlausibleRangePart | null;

  @Whole({ description: 'So many identical readings in a row look stuck.', example: 400, min: 2, max: 1_000_000, unit: '', optional: true })
  stuckAfter?: number | null;

  @Measured({ description: 'The least noise that it usually shows; less looks uncoupled.', example: '2', min: 0, max: LARGEST, unit: UNIT, optional: true })
  noiseFloorLeast?: string | null;

  @Part({ description: 'Speeds at which its technique is good.', of: () => SpeedWindowPart, optional: true, example: { fromMPerMin: '4', toMPerMin: '18' } })
  speedWindow?: SpeedWindowPart | null;

  @Whole({ description: 'Pipe that has to be covered on each side of a splice.', example: 500, min: 0, max: 1_000_000, unit: 'mm', optional: true })
  spliceMarginMm?: number | null;

  @Choice({ description: 'Which look counts where pipe was read twice: the better proven one, or the latest.', example: 'best', of: REPEAT_RULES })
  repeats!: RepeatRule;

  @Whole({ description: `Longest time between reference checks while it runs; ${USUAL_CHECK_MINUTES} when absent.`, example: 240, min: 1, max: 10_080, unit: 'min', optional: true })
  checkEveryMinutes?: number | null;

  @Whole({ description: 'How long after a change or an end its reference check may come; 0 when absent.', example: 15, min: 0, max: 1440, unit: 'min', optional: true })
  checkGraceMinutes?: number | null;

  @Text({ description: 'Where the rule for its checks comes from: document, revision, clause.', example: 'Inspection plan rev 2, 5.1', max: 200, optional: true })
  checkRuleSource?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The channel's own fields of an answer. */
export class ChannelContent extends OmitType(ChannelInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ChannelAnswer extends IntersectionType(RecordAnswer, ChannelContent) {}
