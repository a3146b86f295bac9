import { Choice, Computed, Id, Measured, Parts, Text, When } from '../http/fields.js';
import { TIME_LEFT_STATES, type TimeLeft, type TimeLeftState } from './time-left.js';

/** Said with every answer of time left. */
export const NO_INTERLOCK = 'A record of what counter and line set-up said at that moment; no interlock: nothing here stops the line.';

const ANY = { min: -1e6, max: 1e6 };

/** A reading of the master counter that a speed rests on. */
export class SpeedReadingAnswer {
  @Id({ description: 'The counter reading.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06' })
  id!: string;

  @Computed({ description: 'The version used.', example: 1 })
  version!: number;

  @When({ description: 'When it was read.', example: '2026-03-02T08:14:00.000000Z' })
  at!: string;

  @Computed({ description: 'Footage at the weld point then, mm.', example: 212_000 })
  footageMm!: number;
}

/** How long a place on the pipe has to the hang-off, past which nothing more can be done. */
export class TimeLeftAnswer implements TimeLeft {
  @When({ description: 'The moment it is answered for.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Choice({
    description: 'running-out: there are minutes; standing, moving-away: none runs out while it stays so; not-known: `because` says why.',
    example: 'running-out', of: TIME_LEFT_STATES,
  })
  state!: TimeLeftState;

  @Computed({ description: 'Pipe to the hang-off from the end of the place that gets there first, at the nearest of the range of its path, mm.', example: 25_000, optional: true })
  leftMm!: number | null;

  @Computed({ description: 'Expanded uncertainty (k = 2) of that, mm.', example: 20, optional: true })
  plusMinusMm!: number | null;

  @Measured({ description: 'Minutes at the recent speed, rounded down.', example: '5.0', min: 0, max: 1e9, unit: 'min', optional: true })
  minutes!: string | null;

  @Measured({ description: 'The recent speed; negative backwards.', example: '5.00', ...ANY, unit: 'm/min', optional: true })
  speedMPerMin!: string | null;

  @Parts({ description: 'The two counter readings that the speed rests on, the earlier first.', of: () => SpeedReadingAnswer, max: 2 })
  readings!: SpeedReadingAnswer[];

  @Computed({ description: 'How old the last counter reading was, seconds.', example: 60, optional: true })
  readingAgeS!: number | null;

  @Id({ description: 'The line set-up that says where the hang-off is.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05', optional: true })
  lineSetupId!: string | null;

  @Text({ description: 'What it rests on, or why it is not known.', example: '25.000 m at 5.00 m/min', max: 500 })
  because!: string;

  @Text({ description: 'What this is, and is not.', example: NO_INTERLOCK, max: 300 })
  caution!: string;
}

/** Time left as it is answered. */
export const timeLeftAnswer = (left: TimeLeft): TimeLeftAnswer => ({ ...left, readings: left.readings.map((one) => ({ ...one })), caution: NO_INTERLOCK });
