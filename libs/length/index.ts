export { certainAndPossible } from './certain-and-possible.js';
export type { CertainAndPossible, UncertainSegment } from './certain-and-possible.js';
export { coilLengthMm, STEEL_DENSITY_KG_PER_M3 } from './coil-length.js';
export { chainPeriods, footageAtReading, readingAtFootage } from './counter.js';
export type { CounterPeriod, PeriodStart, RecordedCounterPeriod } from './counter.js';
export { explainInnerMd, explainOuterMd, explainWeldFootage } from './explain-depth.js';
export { foldHoopStrain, outerWallThicknessMm } from './fold.js';
export { innerWallMap } from './inner-wall-map.js';
export { lastIndexWhere } from './last-index-where.js';
export { LengthError } from './length-error.js';
export type { LengthErrorCode } from './length-error.js';
export { LengthModel } from './length-model.js';
export { NetLengths, netLengthMap } from './net-lengths.js';
export { OuterWallMap } from './outer-wall-map.js';
export type { DepthBasis, OuterKnot, TiePoint } from './outer-wall-map.js';
export { PiecewiseLinearMap } from './piecewise-linear-map.js';
export type { EndSlopes, Knot } from './piecewise-linear-map.js';
export { stationsAhead } from './place.js';
export type { DistanceToStation, Place, Station } from './place.js';
export { compareSums, pipeInPlace, pipeMade, stripConsumed } from './reconciliation.js';
export type { CoilUse, LengthSum, SumDifference, SumName } from './reconciliation.js';
export { roundMm } from './round-mm.js';
export type { Shoe, ShoeDepthQuestion, ShoeQuestion, WeldFootageQuestion } from './shoe.js';
export { clockHoursDownHole, facingOf, spliceHandOn } from './sides.js';
export type { Facing, FormedSurface, SpliceHand, ViewingDirection } from './sides.js';
export { materialAtStation } from './stations.js';
export type { PathDistance, StationMaterial } from './stations.js';
export type {
  CutOut,
  DefaultRatio,
  HangOff,
  HangOffPath,
  ShoeTie,
  StringLengths,
  WeldFootage,
} from './string-lengths.js';
export { elongationOf, stripMap } from './strip-map.js';
export type { CoilSegment, Elongation } from './strip-map.js';
export { tieReport } from './tie-report.js';
export type { Residual, TieReportLine } from './tie-report.js';
export { COVERAGE_FACTOR, rootSumOfSquares } from './uncertainty.js';
export { Wall } from './wall.js';
export type { Beyond, DepthFigure, FootageFigure, Span, WallName, WallPiece } from './wall.js';
export type { WeldFootageBasis, WeldFootageFigure } from './weld-footage.js';
