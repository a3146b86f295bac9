import { PIPE_MARK_KINDS, TRACK_MARK_KINDS } from '#libs/reports';
import { Choice, Computed, Figures, Part, Parts, Text, Texts, When, Whole } from '../http/fields.js';
import { THRESHOLD_SENSES } from '../channels/channel.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { AXES, WIDEST_PX } from './signal-view-question.js';

const KINDS = [...PIPE_MARK_KINDS, ...TRACK_MARK_KINDS] as const;
export const SHARPNESSES = ['exact', 'shared', 'coarse'] as const;
const SHARPNESS_LETTERS = 'e: the samples of the column and no others; s: some of its neighbours may be in it; c: read too coarsely to tell whether anything lies in it';

/** Something on record at a place of the view. */
export class ViewMarkAnswer extends IntervalAnswer {
  @Choice({ description: 'What it is.', example: 'splice', of: KINDS })
  kind!: (typeof KINDS)[number];

  @Text({ description: 'Its name, time or cause.', example: 'W-03', max: 200 })
  label!: string;

  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;
}

/** The columns of a view, one list a figure; a column is the same place in all of them. */
export class ViewColumnsAnswer {
  @Figures({ description: 'Least value; null where nothing was read: a gap.', example: [4.98, null], max: WIDEST_PX })
  min!: (number | null)[];

  @Figures({ description: 'Greatest value.', example: [5.06, null], max: WIDEST_PX })
  max!: (number | null)[];

  @Figures({ description: 'Mean of what was measured; bounds ("≥ 100") enter no mean.', example: [5.02, null], max: WIDEST_PX })
  mean!: (number | null)[];

  @Figures({ description: 'Samples that lie there, read or not.', example: [4096, 0], max: WIDEST_PX })
  samples!: (number | null)[];

  @Figures({ description: 'Those of them that are missing.', example: [0, 0], max: WIDEST_PX })
  missing!: (number | null)[];

  @Figures({ description: 'Those that look stuck or cannot be.', example: [0, 0], max: WIDEST_PX })
  doubtful!: (number | null)[];

  @Figures({ description: 'Those that are bounds: with one, the greatest says "at least", or the least "at most".', example: [0, 0], max: WIDEST_PX })
  saturated!: (number | null)[];

  @Figures({ description: 'How many goes along the pipe have samples there: more than one where it was read again, and where two of them meet.', example: [1, 0], max: WIDEST_PX })
  looks!: (number | null)[];

  @Text({ description: `A letter a column. ${SHARPNESS_LETTERS}.`, example: 'ee', max: WIDEST_PX })
  sharpness!: string;
}

export class ViewThreshold {
  @Choice({ description: 'On which side of it an indication lies.', example: 'below', of: THRESHOLD_SENSES })
  sense!: (typeof THRESHOLD_SENSES)[number];

  @Text({ description: 'The level, in the unit of the channel.', example: '4.5', max: 40 })
  level!: string;
}

export class SignalViewAnswer {
  @Part({ description: 'The casing string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Text({ description: 'Unit of the values.', example: 'mm', max: 20 })
  unit!: string;

  @Choice({ description: 'What the pipe is laid out by: footage, or measured depth on a wall.', example: 'footage', of: AXES })
  by!: (typeof AXES)[number];

  @Part({ description: 'The interval: of footage, or of depth.', of: () => IntervalAnswer, example: { fromMm: 0, toMm: 10_000 } })
  interval!: IntervalAnswer;

  @Whole({ description: 'How many columns.', example: 2, min: 1, max: WIDEST_PX, unit: 'columns' })
  widthPx!: number;

  @Computed({ description: 'Greatest expanded uncertainty (k = 2) of a depth in it, mm; null by footage.', example: null, optional: true })
  plusMinusMm!: number | null;

  @When({ description: 'The instant whose knowledge it shows; null: now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'The threshold of the channel.', of: () => ViewThreshold, optional: true, example: { sense: 'below', level: '4.5' } })
  threshold!: ViewThreshold | null;

  @Part({ description: 'The columns.', of: () => ViewColumnsAnswer })
  columns!: ViewColumnsAnswer;

  @Parts({ description: 'What is on record there.', of: () => ViewMarkAnswer, max: 100_000 })
  marks!: ViewMarkAnswer[];

  @Computed({ description: 'Samples of the channel that have no footage, anywhere: their counter had no period, or its station no set-up, or no reading was near, or they lie beyond 2,147 km.', example: 0 })
  unplacedSamples!: number;

  @Texts({ description: 'What to mind.', example: ['Records are not a safety interlock.'], max: 20, each: 500 })
  cautions!: string[];
}
