import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Parts, Text, Texts } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';
import { WeldChosenPart, WeldReadingPart } from '../welds/weld.dto.js';

/** Pipe that is replaced is cut out and joined again: see cut-outs and re-joins. */
export const REPAIR_METHODS = ['grinding', 'machining', 'weld-repair', 'heat-treatment', 'straightening', 'sleeve'] as const;
export type RepairMethod = (typeof REPAIR_METHODS)[number];

/** Thicker than any wall of such a pipe. Common practice, no published source. */
const THICKEST_MM = 100;

/** `doneBy` is who repaired; `observedAt` is when it was done: what was seen at that instant or before says nothing of it. */
export class RepairInput extends PlacedInput {
  @Choice({ description: 'How it was repaired.', example: 'grinding', of: REPAIR_METHODS })
  method!: RepairMethod;

  @Text({ description: 'What was found, and is repaired.', example: 'Scratch 0.3 mm deep along the seam, 40 mm long', max: 2000 })
  found!: string;

  @Id({ description: 'The splice it is a repair of.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c', optional: true })
  spliceId?: string | null;

  @Id({ description: 'The re-join it is a repair of; not beside a splice.', example: null, optional: true })
  rejoinId?: string | null;

  @Id({ description: 'The inspection that asked for it.', example: null, optional: true })
  inspectionId?: string | null;

  @Id({ description: 'The nonconformance that asked for it.', example: null, optional: true })
  nonconformanceId?: string | null;

  @Measured({ description: 'Greatest depth of metal taken away, digits as read.', example: '0.35', min: 0, max: THICKEST_MM, unit: 'mm', optional: true })
  depthRemovedMm?: string | null;

  @Measured({ description: 'Least wall that was left, digits as read.', example: '4.62', min: 0, max: THICKEST_MM, unit: 'mm', optional: true })
  remainingWallMm?: string | null;

  @Measured({ description: 'The least wall that is asked for; only beside the wall that was left.', example: '4.50', min: 0, max: THICKEST_MM, unit: 'mm', optional: true })
  wallLimitMm?: string | null;

  @Id({ description: 'The instrument that depth or wall was measured with.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  instrumentId?: string | null;

  @Id({ description: 'The revision of the welding procedure; only and always for a weld-repair.', example: null, optional: true })
  weldProcedureId?: string | null;

  @Parts({ description: 'What was set and measured at the weld; empty for other methods.', of: () => WeldReadingPart, max: 100, example: [] })
  readings!: WeldReadingPart[];

  @Parts({ description: 'What was chosen for the weld; empty for other methods.', of: () => WeldChosenPart, max: 30, example: [] })
  chosen!: WeldChosenPart[];

  @Text({ description: 'Batch of the filler; only for a weld-repair.', example: null, max: 60, optional: true })
  fillerBatch?: string | null;

  @Texts({ description: 'Photos: SHA-256 of files sent to /api/files before.', example: [], max: 20, each: 64 })
  photoSha256s!: string[];

  @Text({ description: 'Anything else worth knowing.', example: 'Blended 1:4 to both sides', max: 2000, optional: true })
  note?: string | null;
}

/** The repair's own fields of an answer. */
export class RepairContent extends IntersectionType(
  PlacedContent,
  OmitType(RepairInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class RepairAnswer extends IntersectionType(RecordAnswer, RepairContent) {}
