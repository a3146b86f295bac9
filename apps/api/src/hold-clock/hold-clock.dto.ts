import { CLOCK_STATES, RECENT_US, WHERES, type ClockState, type Where } from '#libs/hold-clock';
import { Choice, Computed, Id, Measured, Part, Parts, Text, Texts, When } from '../http/fields.js';
import { DISPOSITION_KINDS } from '../nonconformances/nonconformance-parts.dto.js';
import { SpeedReadingAnswer } from '../time-left/time-left.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { CLOCK_KINDS, type ClockKind } from './clock-sources.js';

const MINUTES = { min: 0, max: 1e9, unit: 'min', optional: true };
const SPEED = { min: -1e6, max: 1e6, unit: 'm/min', optional: true };

/** Beyond so long without a reading the counter says nothing of now, seconds. */
export const STALE_AFTER_S = RECENT_US / 1e6;

export class MinutesAnswer {
  @Measured({ description: 'At the greatest of the recent speeds, from the near end of all that is not certain; rounded down.', example: '4.6', ...MINUTES })
  least!: string | null;

  @Measured({ description: 'At the speed now; rounded down. Absent while the line stands or runs backwards.', example: '5.0', ...MINUTES })
  central!: string | null;

  @Measured({ description: 'At the least of the recent speeds, from the far end; rounded up. Absent where the line stood or ran backwards lately: there is no end to it.', example: '5.5', ...MINUTES })
  greatest!: string | null;
}

/** A station of the line set-up that is still ahead, or the weld point. */
export class StationAheadAnswer {
  @Text({ description: 'The station.', example: 'wall gauge', max: 200 })
  name!: string;

  @Choice({ description: 'What it is to this line.', example: null, of: ['hang-off', 'weld-point'], optional: true })
  role!: 'hang-off' | 'weld-point' | null;

  @Computed({ description: 'Pipe to it, at the nearest of the range of its path, less what the line ran since its last reading at the speed now; whole mm, rounded down.', example: 1_200 })
  leftMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2) of that, mm.', example: 20 })
  plusMinusMm!: number;

  @Part({ description: 'Minutes to it; absent without a speed.', of: () => MinutesAnswer, optional: true })
  minutes!: MinutesAnswer | null;
}

export class PlacePartAnswer extends IntervalAnswer {
  @Choice({ description: 'Where it was at the last reading.', example: 'on-the-line', of: WHERES })
  where!: Where;
}

export class FeasibleDispositionAnswer {
  @Choice({ description: 'As nonconformances are disposed of.', example: 'repair', of: DISPOSITION_KINDS })
  kind!: (typeof DISPOSITION_KINDS)[number];

  @Text({ description: 'What it comes to at this place.', example: 'stop the line and repair it', max: 300 })
  how!: string;

  @Text({ description: 'What has to be so for it to be feasible, which no record here says.', example: null, max: 300, optional: true })
  provided!: string | null;
}

/** Something open, and how long it has. */
export class ClockItemAnswer {
  @Choice({ description: 'What it is.', example: 'indication', of: CLOCK_KINDS })
  what!: ClockKind;

  @Part({ description: 'Its record.', of: () => RecordLink })
  record!: RecordLink;

  @Text({ description: 'Why it is open.', example: 'nobody evaluated it', max: 5000 })
  open!: string;

  @Choice({
    description:
      'running-out: there are minutes; passing: a part is past the hang-off, and the rest follows; standing, moving-away: none runs out while it stays so; stale: the counter said nothing for too long; not-known: `because` says why.',
    example: 'running-out', of: CLOCK_STATES,
  })
  state!: ClockState;

  @Choice({ description: 'Where the end of it lies that gets to the hang-off next.', example: 'on-the-line', of: WHERES })
  where!: Where;

  @Parts({ description: 'Its footage, divided by where it was at the last reading.', of: () => PlacePartAnswer, max: 10_000 })
  parts!: PlacePartAnswer[];

  @Computed({ description: 'Pipe to the hang-off, as of the stations; absent where it is not known.', example: 25_000, optional: true })
  leftMm!: number | null;

  @Computed({ description: 'Expanded uncertainty (k = 2) of that, mm.', example: 20, optional: true })
  plusMinusMm!: number | null;

  @Part({ description: 'Minutes to the hang-off; absent without a speed, and of what is past.', of: () => MinutesAnswer, optional: true })
  minutes!: MinutesAnswer | null;

  @Parts({ description: 'The weld point while it is strip, every later station and the hang-off; the nearest first.', of: () => StationAheadAnswer, max: 100 })
  stations!: StationAheadAnswer[];

  @Text({ description: 'What that rests on, or why it is not known.', example: '25.000 m at 5.00 m/min', max: 500 })
  because!: string;

  @Parts({ description: 'What is still feasible for all of it, by where it was at the last reading; none where that is not known.', of: () => FeasibleDispositionAnswer, max: 20 })
  dispositions!: FeasibleDispositionAnswer[];
}

export const LINE_STATES = ['running', 'standing', 'backwards', 'stale', 'not-known'] as const;
export type LineState = (typeof LINE_STATES)[number];

/** How the line runs, by its master counter. */
export class LineRunAnswer {
  @Choice({ description: 'stale: the last reading is older than `staleAfterS`, or the only recent one; nothing is said of now then.', example: 'running', of: LINE_STATES })
  state!: LineState;

  @Text({ description: 'The same in words.', example: 'the line runs at 5.00 m/min', max: 500 })
  because!: string;

  @Measured({ description: 'The speed now; negative backwards.', example: '5.00', ...SPEED })
  speedMPerMin!: string | null;

  @Measured({ description: 'The least of the recent speeds.', example: '4.60', ...SPEED })
  leastMPerMin!: string | null;

  @Measured({ description: 'The greatest of the recent speeds.', example: '5.50', ...SPEED })
  greatestMPerMin!: string | null;

  @Computed({ description: 'How many readings these rest on.', example: 121, optional: true })
  speedReadings!: number | null;

  @Computed({ description: 'The time from the first of them to the last, whole seconds.', example: 600, optional: true })
  overS!: number | null;

  @Parts({ description: 'The two readings that the speed now rests on, the earlier first.', of: () => SpeedReadingAnswer, max: 2 })
  readings!: SpeedReadingAnswer[];

  @Part({ description: 'The last reading.', of: () => SpeedReadingAnswer, optional: true })
  lastReading!: SpeedReadingAnswer | null;

  @Computed({ description: 'How old it was, whole seconds.', example: 3, optional: true })
  readingAgeS!: number | null;

  @Computed({ description: 'A reading older than this says nothing of now, seconds.', example: STALE_AFTER_S })
  staleAfterS!: number;

  @Id({ description: 'The line set-up in force, which says where stations and hang-off are.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05', optional: true })
  lineSetupId!: string | null;
}

/** A page of what is open on a string, with how long each has to the hang-off. */
export class HoldClockAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'The moment it is told for.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'How the line runs.', of: () => LineRunAnswer })
  line!: LineRunAnswer;

  @Computed({ description: 'Open things of which something has not passed the hang-off.', example: 4 })
  ahead!: number;

  @Computed({ description: 'Open things that have passed it.', example: 1 })
  past!: number;

  @Computed({ description: 'How many more lie wholly in pipe that was cut out, and are left out.', example: 0 })
  cutOut!: number;

  @Parts({ description: 'Soonest at the hang-off first; those that have passed it come after all others.', of: () => ClockItemAnswer, max: 500 })
  items!: ClockItemAnswer[];

  @Text({ description: 'Ask for the next page with `after`.', example: null, max: 20, optional: true })
  next!: string | null;

  @Texts({ description: 'What to bear in mind.', example: ['This is a record, not an interlock: nothing here stops the line. Anyone on shift may stop it.'], max: 10, each: 500 })
  cautions!: string[];
}
