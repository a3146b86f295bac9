import { Computed, Part } from '../http/fields.js';
import { PlaceInput } from './placed.dto.js';

/** One of several places of a record. */
export class ExtentInput {
  @Part({ description: 'Where it is, or where it begins.', of: () => PlaceInput })
  from!: PlaceInput;

  @Part({
    description: 'Where it ends; absent for a single place.', of: () => PlaceInput, optional: true,
    example: { footageMm: 212_600, uMm: '5' },
  })
  to?: PlaceInput | null;
}

/** Footage of an extent, derived. */
export class FootageExtent {
  @Computed({ description: 'Where it begins, mm.', example: 212_000 })
  fromMm!: number;

  @Computed({ description: 'Where it ends, mm; half-open.', example: 212_600 })
  toMm!: number;
}
