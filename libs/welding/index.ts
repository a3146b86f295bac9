export { HEAT_INPUT_METHODS } from './energy-per-length.js';
export type { HeatInput, HeatInputFigure, HeatInputMethod, NoHeatInput } from './energy-per-length.js';
export { arcEnergy, heatInputAsme, heatInputEn, linearEnergy } from './heat-input.js';
export type { ArcReadings, PowerReadings } from './heat-input.js';
export { procedureChecker } from './procedure-check.js';
export type { ProcedureCheck } from './procedure-check.js';
export type { ProcedureLine } from './procedure-line.js';
export { WELD_CHOICE_NAMES, WELD_CHOICES, WINDOW_RULE } from './procedure.js';
export type { WeldChoice, WeldList, WeldProcedure, WeldRange } from './procedure.js';
export type { NotComputable, Quantity } from './quantity.js';
export { seamJunctions, spliceGeometry } from './splice-geometry.js';
export type { SeamJunction, SeenEdge, SpliceGeometry } from './splice-geometry.js';
export { PROCESSES_WITH_EFFICIENCY, thermalEfficiency } from './thermal-efficiency.js';
export { HARDNESS_LOCATIONS, hardnessLimit, hardnessLocation, judgeWeldHardness } from './weld-hardness.js';
export type { HardnessLimit, HardnessLine, HardnessLocation, HardnessReading, HeatTreatment, PlaceOfReading, WeldZones } from './weld-hardness.js';
export {
  CRACK_LIMIT, excessWeldMetalLimit, misalignmentLimit, rootPenetrationLimit, undercutLimit,
} from './weld-imperfection.js';
export type { ImperfectionLimit, QualityLevel } from './weld-imperfection.js';
export type { ActualWeld, ChosenValue, ComputedWeldValue, ReportedWeldValue, WeldValue } from './weld-value.js';
export { findWeldVariable, WELD_VARIABLES } from './weld-variable.js';
export type { Bounds, WeldVariable, WeldVariableKind } from './weld-variable.js';
