import { Choice, Computed, Id, Measured, Part, Parts, Text, Whole, YesNo } from '../http/fields.js';
import { StringRecordInput } from '../records/record.dto.js';

/** 100 km of pipe: beyond any string this machine can make. */
export const FOOTAGE_LIMIT_MM = 100_000_000;

/** A place on the pipe: either `footageMm`, or `counterReading`, with the station where it was read. */
export class PlaceInput {
  @Whole({ description: 'Footage.', example: 212_000, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  footageMm?: number | null;

  @Measured({
    description: 'What the counter said when the place was at the station, digits as read.',
    example: null, min: -1e9, max: 1e9, unit: 'counts', optional: true,
  })
  counterReading?: string | null;

  @Text({ description: 'Which counter; the master counter when absent.', example: null, max: 40, optional: true })
  counter?: string | null;

  @Text({ description: 'Which station of the line; the weld point when absent.', example: null, max: 60, optional: true })
  station?: string | null;

  @Measured({
    description: 'Standard uncertainty of what is given.', example: '5', min: 0, max: 1e6, unit: 'mm', optional: true,
  })
  uMm?: string | null;
}

/** A record at a place or over an interval of pipe. */
export class PlacedInput extends StringRecordInput {
  @Part({ description: 'Where it is, or where it begins.', of: () => PlaceInput })
  from!: PlaceInput;

  @Part({
    description: 'Where it ends; absent for a single place.', of: () => PlaceInput, optional: true,
    example: { footageMm: 212_383, uMm: '5' },
  })
  to?: PlaceInput | null;
}

/** A record that a position rests on. */
export class RestsOnAnswer {
  @Choice({ description: 'Its kind.', example: 'counter-period', of: ['counter-period', 'line-setup'] })
  kind!: 'counter-period' | 'line-setup';

  @Id({ description: 'Its id.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b04' })
  id!: string;
}

/** Where a placed record is: as given, and as derived. */
export class PlacedContent {
  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;

  @Part({ description: 'Where it is or begins, as given.', of: () => PlaceInput })
  from!: PlaceInput;

  @Part({ description: 'Where it ends, as given.', of: () => PlaceInput, optional: true, example: { footageMm: 212_383, uMm: '5' } })
  to!: PlaceInput | null;

  @Computed({ description: 'Footage where it begins, derived.', example: 212_000 })
  footageFromMm!: number;

  @Computed({ description: 'Footage where it ends, derived; half-open.', example: 212_383 })
  footageToMm!: number;

  @Computed({ description: 'Standard uncertainty of the beginning, mm.', example: 5 })
  footageFromUMm!: number;

  @Computed({ description: 'Standard uncertainty of the end, mm.', example: 5 })
  footageToUMm!: number;

  @YesNo({ description: 'Predicted upstream of the weld point; to be confirmed.', example: false })
  predicted!: boolean;

  @Parts({ description: 'The records the position was derived from.', of: () => RestsOnAnswer, max: 10 })
  restsOn!: readonly RestsOnAnswer[];
}
