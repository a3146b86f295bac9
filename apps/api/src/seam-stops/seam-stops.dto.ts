import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

export const COUNTER_BASES = ['at a reading', 'between readings', 'after the last reading'] as const;

/** Footage at the weld point when the line stopped, as the record says. */
export class StatedFootageAnswer {
  @Computed({ description: 'Footage, mm.', example: 212_000 })
  footageMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 10 })
  plusMinusMm!: number;

  @Choice({ description: 'What was given.', example: 'footage', of: ['footage', 'counter reading'] })
  basis!: 'footage' | 'counter reading';
}

/** The same as the readings of the master counter say. */
export class CountedFootageAnswer {
  @Computed({ description: 'Footage, mm.', example: 212_140 })
  footageMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm.', example: 0 })
  plusMinusMm!: number;

  @Choice({ description: 'What it rests on.', example: 'at a reading', of: COUNTER_BASES })
  basis!: (typeof COUNTER_BASES)[number];
}

/** Both figures beside each other; neither is chosen. */
export class StopFootageAnswer {
  @Part({ description: 'By the record of the stop.', of: () => StatedFootageAnswer })
  byRecord!: StatedFootageAnswer;

  @Part({ description: 'By the counter; absent when its readings say nothing.', of: () => CountedFootageAnswer, optional: true })
  byCounter!: CountedFootageAnswer | null;

  @Computed({ description: 'Counter less record, mm.', example: 140, optional: true })
  differenceMm!: number | null;

  @YesNo({ description: 'The difference is within its expanded uncertainty (k = 2).', example: false, optional: true })
  agrees!: boolean | null;

  @Text({ description: 'What that means for the intervals.', example: 'the counter says 140 mm more than the record', max: 500 })
  words!: string;
}

/** Affected pipe by one figure for the footage at the weld point. */
export class AffectedByOne {
  @Computed({ description: 'Footage for the middle of the path, mm; absent before the lead end.', example: 205_800, optional: true })
  nearestMm!: number | null;

  @Part({ description: 'Certainly affected footage; absent when none is certain.', of: () => IntervalAnswer, optional: true })
  certain!: IntervalAnswer | null;

  @Part({ description: 'Possibly affected footage.', of: () => IntervalAnswer })
  possible!: IntervalAnswer;
}

/** The pipe that stood somewhere when the line stopped, and the half length of influence to both sides. */
export class AffectedAnswer {
  @Part({ description: 'Certainly affected footage, by every figure held; absent when none is certain.', of: () => IntervalAnswer, optional: true })
  certain!: IntervalAnswer | null;

  @Part({ description: 'Possibly affected footage, by any figure held; absent when no pipe stood there.', of: () => IntervalAnswer, optional: true })
  possible!: IntervalAnswer | null;

  @Parts({ description: 'What of it was cut out since the stop, by footage: it is no part of the string any more.', of: () => IntervalAnswer, max: 1000, example: [] })
  cutOutSince!: IntervalAnswer[];

  @Part({ description: 'By the record alone.', of: () => AffectedByOne, optional: true })
  byRecord!: AffectedByOne | null;

  @Part({ description: 'By the counter alone.', of: () => AffectedByOne, optional: true })
  byCounter!: AffectedByOne | null;

  @Text({ description: 'Why there is no interval.', example: null, max: 300, optional: true })
  because!: string | null;
}

export class AffectedAtStation {
  @Text({ description: 'The station.', example: 'wall gauge', max: 60 })
  name!: string;

  @YesNo({ description: 'It is where the pipe hangs in the well: past it nothing more can be done.', example: false })
  isHangOff!: boolean;

  @Part({ description: 'The pipe that stood there.', of: () => AffectedAnswer })
  affected!: AffectedAnswer;
}

export class StopLastedAnswer {
  @When({ description: 'When the line ran again; absent while that is not recorded.', example: '2026-03-02T08:40:00.000000Z', optional: true })
  until!: string | null;

  @Part({ description: 'The start or restart.', of: () => RecordLink, optional: true })
  endedBy!: RecordLink | null;

  @Computed({ description: 'How long, seconds; absent while the stop is open.', example: 1_500, optional: true })
  seconds!: number | null;

  @YesNo({ description: 'No start or restart after it is recorded.', example: false })
  isOpen!: boolean;
}

/** One stop of the seam weld. */
export class SeamStopAnswer {
  @Part({ description: 'The record of the stop.', of: () => RecordLink })
  event!: RecordLink;

  @When({ description: 'When the line stopped.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Text({ description: 'Why.', example: 'Strip caught at the entry guide', max: 2000 })
  cause!: string;

  @Part({ description: 'How long it lasted.', of: () => StopLastedAnswer })
  lasted!: StopLastedAnswer;

  @Part({ description: 'Footage at the weld point.', of: () => StopFootageAnswer })
  footage!: StopFootageAnswer;

  @Part({ description: 'The line set-up in force; absent when none was.', of: () => RecordLink, optional: true })
  lineSetup!: RecordLink | null;

  @Part({ description: 'The pipe at the weld point itself.', of: () => AffectedAnswer })
  atWeldPoint!: AffectedAnswer;

  @Parts({ description: 'The pipe at each station of that set-up, in its order.', of: () => AffectedAtStation, max: 100 })
  stations!: AffectedAtStation[];

  @Texts({ description: 'What is missing or odd about the stop.', example: [], max: 10, each: 500 })
  remarks!: string[];
}

export class SeamStopsAsked {
  @Computed({ description: 'Half length of influence, mm.', example: 150 })
  influenceMm!: number;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;
}

/** The stops of a string and what each affected. */
export class SeamStopsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'What was asked.', of: () => SeamStopsAsked })
  asked!: SeamStopsAsked;

  @Parts({ description: 'The stops, in the order of time.', of: () => SeamStopAnswer, max: 100_000 })
  stops!: SeamStopAnswer[];

  @Texts({ description: 'What to bear in mind.', example: ['An affected interval says where to look, not that the pipe is bad.'], max: 10, each: 500 })
  cautions!: string[];
}
