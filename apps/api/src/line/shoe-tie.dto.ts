import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Computed, Measured, Part, Parts, Text, Whole } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { FOOTAGE_LIMIT_MM, PlaceInput, RestsOnAnswer } from './placed.dto.js';

/** The footage at the weld point: given, or by what a counter said. */
export class WeldPlaceInput extends OmitType(PlaceInput, ['station'] as const) {}

export class ShoeTieInput extends StringRecordInput {
  @Part({ description: 'The footage at the weld point at that time.', of: () => WeldPlaceInput })
  place!: WeldPlaceInput;

  @Whole({ description: 'Measured depth of the shoe.', example: 62_500, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' })
  shoeMdMm!: number;

  @Measured({ description: 'Standard uncertainty of the depth.', example: '50', min: 0, max: 1e6, unit: 'mm' })
  shoeUMm!: string;

  @Text({ description: 'How the depth was measured.', example: 'Wireline tag at the fold', max: 200 })
  method!: string;

  @Text({ description: 'Anything else worth knowing.', example: 'Tagged twice, same depth', max: 2000, optional: true })
  note?: string | null;
}

/** The tie's own fields of an answer. */
export class ShoeTieContent extends OmitType(ShoeTieInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {
  @Computed({ description: 'Footage at the weld point, mm, derived.', example: 140_840 })
  weldFootageMm!: number;

  @Computed({ description: 'Standard uncertainty of that footage, mm.', example: 5 })
  weldUMm!: number;

  @Parts({ description: 'The records the footage was derived from.', of: () => RestsOnAnswer, max: 10 })
  restsOn!: readonly RestsOnAnswer[];
}

export class ShoeTieAnswer extends IntersectionType(RecordAnswer, ShoeTieContent) {}
