import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Computed, Id, Part, Parts, Text } from '../http/fields.js';
import { ExtentInput, FootageExtent } from '../line/extent.dto.js';
import { RestsOnAnswer } from '../line/placed.dto.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';
import {
  CoilExtentAnswer, CoilExtentInput, ContainmentAnswer, ContainmentInput, DispositionInput, FoundAnswer, FoundInput, RequirementInput,
} from './nonconformance-parts.dto.js';
import { EXTENT_BASES, ORIGINS, SEVERITIES, STAGES } from './nonconformance.entity.js';

const MOST_EXTENTS = 50;

/** It names pipe of its string, strip of coils, or both. */
export class NonconformanceInput extends RecordInput {
  @Text({ description: 'What it is, in a line.', example: 'Wall below minimum after splice S-3', max: 200 })
  title!: string;

  @Choice({ description: 'By its effect on containment.', example: 'major', of: SEVERITIES })
  severity!: (typeof SEVERITIES)[number];

  @Choice({ description: 'Where it came to light.', example: 'line', of: ORIGINS })
  origin!: (typeof ORIGINS)[number];

  @Id({ description: 'The casing string; absent when only strip is concerned.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03', optional: true })
  stringId?: string | null;

  @Parts({ description: 'The pipe it concerns, on its string.', of: () => ExtentInput, max: MOST_EXTENTS, optional: true })
  extents?: ExtentInput[] | null;

  @Parts({ description: 'The strip it concerns.', of: () => CoilExtentInput, max: MOST_EXTENTS, optional: true })
  coilExtents?: CoilExtentInput[] | null;

  @Choice({ description: 'How the extent is known.', example: 'bracketed', of: EXTENT_BASES })
  extentBasis!: (typeof EXTENT_BASES)[number];

  @Part({ description: 'What was asked for.', of: () => RequirementInput })
  requirement!: RequirementInput;

  @Part({ description: 'What was found: a value, words, or both.', of: () => FoundInput })
  found!: FoundInput;

  @Part({ description: 'What was done at once.', of: () => ContainmentInput, optional: true })
  containment?: ContainmentInput | null;

  @Choice({ description: 'How far it has come; closed only with a disposition.', example: 'open', of: STAGES })
  stage!: (typeof STAGES)[number];

  @Part({ description: 'What was decided.', of: () => DispositionInput, optional: true })
  disposition?: DispositionInput | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Splices S-2 and S-4 gauged: conform', max: 4000, optional: true })
  note?: string | null;
}

/** The nonconformance's own fields of an answer. */
export class NonconformanceContent extends OmitType(NonconformanceInput, [
  'id', 'observedAt', 'doneBy', 'source', 'confirm', 'extents', 'coilExtents', 'found', 'containment',
] as const) {
  @Computed({ description: 'Its number, without gaps.', example: 7 })
  number!: number;

  @Text({ description: 'Its number as people say it.', example: 'NC-0007', max: 40 })
  label!: string;

  @Parts({ description: 'The pipe it concerns, as given.', of: () => ExtentInput, max: MOST_EXTENTS })
  extents!: ExtentInput[];

  @Parts({ description: 'The same as footage, derived; sorted, no two touching.', of: () => FootageExtent, max: MOST_EXTENTS })
  footage!: FootageExtent[];

  @Parts({ description: 'The records the footage was derived from.', of: () => RestsOnAnswer, max: 1000 })
  restsOn!: readonly RestsOnAnswer[];

  @Parts({ description: 'The strip it concerns.', of: () => CoilExtentAnswer, max: MOST_EXTENTS })
  coilExtents!: CoilExtentAnswer[];

  @Part({ description: 'What was found.', of: () => FoundAnswer })
  found!: FoundAnswer;

  @Part({ description: 'What was done at once.', of: () => ContainmentAnswer, optional: true })
  containment!: ContainmentAnswer | null;
}

export class NonconformanceAnswer extends IntersectionType(RecordAnswer, NonconformanceContent) {}
