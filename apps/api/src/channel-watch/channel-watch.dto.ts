import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

export const WATCH_RULES = [
  'noise-floor', 'identical-values', 'lost-coupling', 'probe-lifted-over-splice', 'off-weld-line', 'implausible-share', 'saturated-share',
] as const;
export type WatchRule = (typeof WATCH_RULES)[number];

/** A rule, and whether it could be applied. */
export class WatchRuleAnswer {
  @Choice({ description: 'The rule.', example: 'noise-floor', of: WATCH_RULES })
  rule!: WatchRule;

  @YesNo({ description: 'It was applied; false means that nothing is known by it, not that nothing was found.', example: true })
  applied!: boolean;

  @Text({ description: 'What it looks for and where its limit comes from, or why it was not applied.', example: 'The channel gives no least noise floor.', max: 1000 })
  words!: string;
}

/** Something that looks as if the channel had been blind. */
export class WatchFindingAnswer {
  @Choice({ description: 'By which rule.', example: 'noise-floor', of: WATCH_RULES })
  rule!: WatchRule;

  @Part({ description: 'Footage.', of: () => IntervalAnswer })
  interval!: IntervalAnswer;

  @Part({ description: 'The inspection run.', of: () => RecordLink })
  run!: RecordLink;

  @When({ description: 'When it was read, to the block of samples; absent where a mark alone says it.', example: '2026-03-02T06:10:00.000000Z', optional: true })
  from!: string | null;

  @When({ description: 'Until when.', example: '2026-03-02T06:10:04.000000Z', optional: true })
  until!: string | null;

  @Computed({ description: 'The worst figure; absent where a mark alone says it.', example: 0.4, optional: true })
  figure!: number | null;

  @Computed({ description: 'Its limit.', example: 2, optional: true })
  limit!: number | null;

  @Text({ description: 'The unit of both.', example: '%', max: 20, optional: true })
  unit!: string | null;

  @Text({ description: 'In words.', example: 'noise of 0.4 %, below the usual least of 2 %', max: 1000 })
  words!: string;

  @Parts({ description: 'Records that say so too, or that it is about: marks, the splice.', of: () => RecordLink, max: 100_000, example: [] })
  records!: RecordLink[];
}

/** What had to be read for the answer. */
export class WatchCostAnswer {
  @Computed({ description: 'Samples that were judged.', example: 212_000 })
  samples!: number;

  @Computed({ description: 'Blocks of them.', example: 52 })
  blocks!: number;

  @Computed({ description: 'Blocks whose samples had to be read one by one, for what their summaries left open.', example: 2 })
  blocksRead!: number;
}

export class ChannelWatchAsked {
  @Computed({ description: 'From this footage on, mm; absent for the beginning.', example: 0, optional: true })
  fromMm!: number | null;

  @Computed({ description: 'Up to this footage, mm; absent for the end.', example: 212_000, optional: true })
  toMm!: number | null;

  @Computed({ description: 'Windows of so much pipe, mm.', example: 1_000 })
  windowMm!: number;

  @When({ description: 'As known at; absent for now.', example: '2026-03-13T12:00:00Z', optional: true })
  asKnownAt!: string | null;
}

export class ChannelWatchAnswer {
  @Part({ description: 'The casing string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'The channel.', of: () => RecordLink })
  channel!: RecordLink;

  @Part({ description: 'What was asked.', of: () => ChannelWatchAsked })
  asked!: ChannelWatchAsked;

  @Parts({ description: 'Every rule.', of: () => WatchRuleAnswer, max: WATCH_RULES.length })
  rules!: WatchRuleAnswer[];

  @Parts({ description: 'What was found, by footage.', of: () => WatchFindingAnswer, max: 1_000_000 })
  findings!: WatchFindingAnswer[];

  @Part({ description: 'What was read for it.', of: () => WatchCostAnswer })
  cost!: WatchCostAnswer;

  @Texts({ description: 'What to keep in mind.', example: ['A finding is a question to the channel, not a defect of the pipe.'], max: 10, each: 500 })
  cautions!: string[];
}
