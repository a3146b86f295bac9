export { PART_ENCODINGS } from './content-encoding.js';
export { decodePart } from './decode-part.js';
export { PartError, type PartErrorCode, type PartFault } from './part-error.js';
export {
  PART_LIMITS, type CounterPosition, type DecodedColumn, type DecodedPart, type Direction, type PartEncoding, type PartFormat, type PartLimits, type PartShape,
  type PositionColumn, type TimePosition, type ValueColumn,
} from './part.js';
export { applyRules, NO_RULES, type ReadingRules } from './reading-rules.js';
export { EXPORT_COLUMNS, type ExportBlock, type ExportBlocks, type ExportShape } from './export.js';
export { writeArrow } from './write-arrow.js';
export { writeCsv } from './write-csv.js';
