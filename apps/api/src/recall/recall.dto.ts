import { Choice, Computed, Id, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink, ShoeAnswer, TraceStringAnswer } from '../trace/trace.dto.js';
import { MOST_LINKS } from './link-list.js';
import { RECALLED } from './recall-question.js';

const MOST_INTERVALS = 100_000;

/** Records named in an answer: all of them, or the first 500 and how many there are. */
export class LinkListAnswer {
  @Computed({ description: 'How many there are.', example: 12 })
  total!: number;

  @YesNo({ description: 'There are more than are named here.', example: false })
  truncated!: boolean;

  @Parts({ description: 'The records.', of: () => RecordLink, max: MOST_LINKS })
  links!: RecordLink[];
}

export class KindListAnswer extends LinkListAnswer {
  @Text({ description: 'The kind of record.', example: 'shoe-tie', max: 40 })
  kind!: string;
}

export class RecallAsked {
  @Choice({ description: 'What it was recalled from.', example: 'heat', of: RECALLED })
  by!: (typeof RECALLED)[number];

  @Part({ description: 'The record; null for a batch, which is none.', of: () => RecordLink, optional: true })
  record!: RecordLink | null;

  @Text({ description: 'The batch asked for.', example: null, max: 60, optional: true })
  batch!: string | null;

  @When({ description: 'The time asked for; absent for the last reading of each string.', example: null, optional: true })
  at!: string | null;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;
}

/** Intervals that are certainly, by the best estimate, and possibly concerned. */
export class SetsAnswer {
  @Parts({ description: 'Of records certainly concerned, and whatever the uncertainty of their ends (k = 2).', of: () => IntervalAnswer, max: MOST_INTERVALS })
  certain!: IntervalAnswer[];

  @Parts({ description: 'Of records certainly concerned, by the best estimate.', of: () => IntervalAnswer, max: MOST_INTERVALS })
  nominal!: IntervalAnswer[];

  @Parts({ description: 'Of all records, possibly concerned ones too: each end widened by its uncertainty (k = 2).', of: () => IntervalAnswer, max: MOST_INTERVALS })
  possible!: IntervalAnswer[];

  @Computed({ description: 'Length of the best estimate, mm.', example: 37_760 })
  nominalMm!: number;
}

export class RecalledWall extends SetsAnswer {
  @Choice({ description: 'Which wall; the intervals are measured depths.', example: 'outer', of: ['outer', 'inner'] })
  wall!: 'outer' | 'inner';
}

export class RecalledElsewhere {
  @Choice({ description: 'Where it is.', example: 'on-the-line', of: ['on-the-line', 'lead-end', 'cut-out', 'not-yet-made'] })
  place!: string;

  @Parts({ description: 'Footage there.', of: () => IntervalAnswer, max: MOST_INTERVALS })
  footage!: IntervalAnswer[];

  @Computed({ description: 'Its length, mm.', example: 18_000 })
  totalMm!: number;
}

export class NotLocatedAnswer {
  @Text({ description: 'A stable name of the reason.', example: 'no-hang-off', max: 60 })
  code!: string;

  @Text({ description: 'In words.', example: 'this string has no hang-off yet', max: 400 })
  detail!: string;
}

/** What a record concerned stands for on its string. */
export class ConcernedAnswer {
  @Part({ description: 'The record.', of: () => RecordLink })
  record!: RecordLink;

  @YesNo({ description: 'It is certainly concerned; false: possibly, because nobody can tell.', example: true })
  isCertain!: boolean;

  @Text({ description: 'What it has to do with the record recalled from, where that is not plain.', example: null, max: 1000, optional: true })
  because!: string | null;

  @Part({ description: 'Its footage.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Computed({ description: 'Expanded uncertainty (k = 2) of its beginning, mm.', example: 10 })
  fromPlusMinusMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of its end, mm.', example: 10 })
  toPlusMinusMm!: number;
}

export class RecalledString {
  @Part({ description: 'The string.', of: () => TraceStringAnswer })
  string!: TraceStringAnswer;

  @Computed({ description: 'How many records on it are concerned.', example: 2 })
  concernedTotal!: number;

  @YesNo({ description: 'More records are concerned than are named here; the intervals tell of all.', example: false })
  concernedTruncated!: boolean;

  @Parts({ description: 'The records concerned.', of: () => ConcernedAnswer, max: MOST_LINKS })
  concerned!: ConcernedAnswer[];

  @Part({ description: 'The footage concerned.', of: () => SetsAnswer })
  footage!: SetsAnswer;

  @Part({ description: 'The fold; absent where nothing hangs.', of: () => ShoeAnswer, optional: true })
  shoe!: ShoeAnswer | null;

  @Parts({ description: 'Measured depths on both walls; none where nothing hangs.', of: () => RecalledWall, max: 2 })
  walls!: RecalledWall[];

  @Parts({ description: 'Where the rest is.', of: () => RecalledElsewhere, max: 4 })
  elsewhere!: RecalledElsewhere[];

  @Part({ description: 'Why there are no depths.', of: () => NotLocatedAnswer, optional: true })
  notLocated!: NotLocatedAnswer | null;

  @Part({ description: 'Nonconformances that are not closed on the possible ground.', of: () => LinkListAnswer })
  openNonconformances!: LinkListAnswer;

  @Part({ description: 'Inspection entries on the possible ground.', of: () => LinkListAnswer })
  inspections!: LinkListAnswer;
}

export class CoilUsedOn {
  @Part({ description: 'The coil segment.', of: () => RecordLink })
  segment!: RecordLink;

  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;

  @Part({ description: 'Strip from the head of the coil, mm.', of: () => IntervalAnswer })
  strip!: IntervalAnswer;
}

/** Where the strip of a coil went. */
export class RecalledCoil {
  @Part({ description: 'The coil.', of: () => RecordLink })
  coil!: RecordLink;

  @Computed({ description: 'Strip length, mm.', example: 655_000 })
  lengthMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of the length, mm.', example: 3_275 })
  lengthPlusMinusMm!: number;

  @Choice({ description: 'What the length rests on.', example: 'as stated', of: ['as stated', 'from its mass'] })
  basis!: 'as stated' | 'from its mass';

  @Computed({ description: 'Strip that segments on any string were made of, mm.', example: 640_000 })
  usedMm!: number;

  @Computed({ description: 'Strip cropped, mm.', example: 1_200 })
  cropMm!: number;

  @Computed({ description: 'Strip left over as recorded, mm.', example: 13_000 })
  restMm!: number;

  @Parts({ description: 'Strip positions that no segment was made of, crops and rest among them.', of: () => IntervalAnswer, max: 10_000 })
  notUsed!: IntervalAnswer[];

  @Computed({ description: 'Length less used, cropped and left over, mm: strip whose whereabouts are not on record.', example: 800 })
  unaccountedMm!: number;

  @Parts({ description: 'Its segments.', of: () => CoilUsedOn, max: 10_000 })
  usedOn!: CoilUsedOn[];
}

/** Everything that follows from one record, and where it is. */
export class RecallAnswer {
  @Part({ description: 'What was asked.', of: () => RecallAsked })
  asked!: RecallAsked;

  @Parts({ description: 'Every string concerned.', of: () => RecalledString, max: 10_000 })
  strings!: RecalledString[];

  @Parts({ description: 'The coils concerned, and where their strip went.', of: () => RecalledCoil, max: 10_000 })
  coils!: RecalledCoil[];

  @Parts({ description: 'Records concerned that have no footage of their own.', of: () => KindListAnswer, max: 40 })
  others!: KindListAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['Evidence that is missing is not a clean result.'], max: 20, each: 500 })
  cautions!: string[];
}
