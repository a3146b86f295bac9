export { CHARACTERISTICS, findCharacteristic, STRIP_UNITS } from './characteristic.js';
export type { Bounds, Characteristic, CharacteristicKind, StripUnit } from './characteristic.js';
export { carbonEquivalentCen, carbonEquivalentCsa } from './carbon-equivalent-numbers.js';
export type { EquivalentNumber, GroupTerm } from './carbon-equivalent-numbers.js';
export { carbonEquivalent, elementsOf, governingEquivalent } from './carbon-equivalent.js';
export type { EquivalentBounds, EquivalentTerm, LinearEquivalent, MassFractionBounds } from './carbon-equivalent.js';
export { agreement, coilLengthFromDiameters, coilLengthFromMass, plateMassKg } from './coil-length.js';
export type { Agreement, CoilByDiameters, CoilByMass, CoilLength, LengthInput, Measured } from './coil-length.js';
export { derivedValues } from './derived-value.js';
export type { DerivedValue } from './derived-value.js';
export { likeNumber, normalNumber } from './document-number.js';
export type { NearMatch } from './document-number.js';
export { ELONGATION_SI, ELONGATION_USC, minimumElongation5lPercent, minimumElongationPercent, minimumElongationUscPercent } from './elongation.js';
export {
  camberLimit, categoryOfYield, EN_10051_FACTORS_1991, lengthTolerancePlusMm, squarenessLimitMm, uncroppedEndLengthM,
} from './en-10051-rules.js';
export type { CamberLimit, StripEdge, YieldCategory } from './en-10051-rules.js';
export { EN_10051_CATEGORY_A, EN_10051_LOW_CARBON } from './en-10051-tables.js';
export {
  EN_10131_BELOW_260_NORMAL, EN_10131_BELOW_260_SPECIAL, EN_10131_FROM_260_NORMAL, EN_10131_FROM_260_SPECIAL, EN_10131_WELD_ZONE,
} from './en-10131-tables.js';
export type {
  DocumentFault, En10168Dimension, En10168Document, En10168Field, En10168Product, En10168Quantity, FieldLeftOut,
} from './en10168-document.js';
export { EN_10168_CODES, EN_10168_GROUPS, meaningOfCode } from './en10168-fields.js';
export type { En10168Codes, En10168Group } from './en10168-fields.js';
export { appliesToThickness } from './grade.js';
export type { Grade, GradeLine, GradeThickness } from './grade.js';
export { findGrade, GRADES } from './grades.js';
export { evaluator } from './evaluation.js';
export type { Evaluation, EvaluationLine, StripRules } from './evaluation.js';
export { effectiveLimits } from './effective-limits.js';
export type { EffectiveLimits, OrderedSize } from './effective-limits.js';
export { closedFormHv, E140_CELLS, hbwFromHrc, hrcFromHv, hvFromHrc } from './hardness-conversion.js';
export type { ConvertedHardness, HardnessCell } from './hardness-conversion.js';
export {
  atLeast, INSPECTION_DOCUMENT_TYPES, inspectionDocument, isInspectionDocumentType, isTypeOf1991, TYPES_OF_1991,
} from './inspection-document.js';
export type { InspectionDocument, InspectionDocumentType, TypeOf1991 } from './inspection-document.js';
export { paperFromEn10168 } from './paper-from-en10168.js';
export type { PaperFromEn10168 } from './paper-from-en10168.js';
export type { Analysis, Paper, PaperLine, PrintedValue } from './paper.js';
export { requirementFaults, requirementName } from './requirement.js';
export type { Requirement, RequirementFault } from './requirement.js';
export { slipOf } from './slip.js';
export type { Slip } from './slip.js';
export { printedText } from './sourced-value.js';
export type { SourcedValue, ValueSource } from './sourced-value.js';
export { limitsText, requirementText, specificationDifferences } from './specification-difference.js';
export type { Provisions, RevisionText, SpecificationDifference } from './specification-difference.js';
export { checkToleranceTable, findToleranceTable, THICKNESS_TOLERANCE_TABLES, thicknessTolerance } from './thickness-tolerance.js';
export type { MissingTolerance, ThicknessTolerance, ToleranceCell, ToleranceRow, ToleranceTable } from './thickness-tolerance.js';
