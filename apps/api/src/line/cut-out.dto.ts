import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Part, Text, When } from '../http/fields.js';
import { RecordAnswer } from '../records/record.dto.js';
import { PlacedContent, PlacedInput, PlaceInput } from './placed.dto.js';

export class CutOutInput extends OmitType(PlacedInput, ['to'] as const) {
  @When({
    description: 'When the ends were joined again: from then on the pipe is shorter. Places are read as before the cut.',
    example: '2026-03-03T14:20:00Z',
  })
  override observedAt!: string;

  @Part({ description: 'Where the removed pipe ends: what trimming and upset took at the re-join belongs to it.', of: () => PlaceInput, example: { footageMm: 212_640, uMm: '5' } })
  to!: PlaceInput;

  @Text({ description: 'Why it was cut out.', example: 'Seam defect at the splice LM-02 to LM-03', max: 500 })
  cause!: string;

  @Text({ description: 'The piece kept, if any.', example: 'LM-P4', max: 80, optional: true })
  piece?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Both cuts square', max: 2000, optional: true })
  note?: string | null;
}

/** The cut-out's own fields of an answer. */
export class CutOutContent extends IntersectionType(
  PlacedContent,
  OmitType(CutOutInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class CutOutAnswer extends IntersectionType(RecordAnswer, CutOutContent) {}
