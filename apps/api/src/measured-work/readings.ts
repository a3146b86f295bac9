import { judge, type ConformityRules } from '#libs/conformity';
import type { ProcedureLine } from '#libs/welding';
import type { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import type { IndicationEvaluation } from '../indication-evaluations/indication-evaluation.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { StepReading } from '../splice-steps/splice-step.entity.js';
import type { WeldReading } from '../welds/weld.entity.js';
import type { Margin, MarginedReading } from './measured-record.js';

const AS_READ: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };

/** A value beside the limits it was entered with. */
interface LimitedValue {
  readonly printed: string;
  readonly unit: string;
  readonly min: string | null;
  readonly max: string | null;
}

/** How far a value lies from its nearer limit, negative beyond it; null without limits, or where the digits do not say. */
export function marginOf({ printed, unit, min, max }: LimitedValue): Margin | null {
  if (min === null && max === null) return null;
  const { margin } = judge({ min, max, unit }, AS_READ, { toDecimals: null, expandedU: null })({ printed, unit, multiplier: '1', expandedU: null });
  return margin === null ? null : { value: margin, unit };
}

/** What was measured of the wall at a repair, with one instrument; what was left of it has its limit. */
export function repairReadings({ instrumentId, depthRemovedMm, remainingWallMm, wallLimitMm }: Repair, withId: string): MarginedReading[] {
  if (instrumentId !== withId) return [];
  const mm = (name: string, printed: string | null, min: string | null): MarginedReading[] =>
    (printed === null ? [] : [{ said: `${name} ${printed} mm`, margin: marginOf({ printed, unit: 'mm', min, max: null }) }]);
  return [...mm('depth removed', depthRemovedMm, null), ...mm('remaining wall', remainingWallMm, wallLimitMm)];
}

/** What was measured of an indication; depth and wall may have their limits. */
export function evaluationReadings({ measuredDepthMm, measuredLengthMm, remainingWallMm, limitMinWallMm, limitMaxDepthMm }: IndicationEvaluation): MarginedReading[] {
  const mm = (name: string, printed: string | null, limits: { readonly min: string | null; readonly max: string | null }): MarginedReading[] =>
    (printed === null ? [] : [{ said: `${name} ${printed} mm`, margin: marginOf({ printed, unit: 'mm', ...limits }) }]);
  return [
    ...mm('depth', measuredDepthMm, { min: null, max: limitMaxDepthMm }), ...mm('length', measuredLengthMm, { min: null, max: null }),
    ...mm('remaining wall', remainingWallMm, { min: limitMinWallMm, max: null }),
  ];
}

/** A reading of a chart that was taken again, beside the specification of the chart. */
export function repeatedReadings({ repeatedValue }: ChartReaction, { title, unit, specification }: ControlChart): MarginedReading[] {
  if (repeatedValue === null) return [];
  return [{ said: `${title}, repeated ${repeatedValue} ${unit}`, margin: marginOf({ printed: repeatedValue, unit, min: specification?.lower ?? null, max: specification?.upper ?? null }) }];
}

/** The reading of an inspection; a visual one has none. */
export function inspectionReadings({ characteristic, value, unit, limitMin, limitMax }: Inspection): MarginedReading[] {
  if (value === null || unit === null) return [];
  return [{ said: `${characteristic} ${value} ${unit}`, margin: marginOf({ printed: value, unit, min: limitMin, max: limitMax }) }];
}

/** The readings of an incoming check, told once for each of their margins from what the coil was ordered to. */
export function checkReadings({ characteristic, readings, unit, instrumentId }: IncomingCheck, margins: readonly Margin[]): MarginedReading[] {
  const byNumber = instrumentId === null ? ', its instrument named by number only' : '';
  const said = `${characteristic} ${readings.map(({ printed }) => printed).join(', ').slice(0, 300)} ${unit}${byNumber}`;
  return margins.length === 0 ? [{ said, margin: null }] : margins.map((margin) => ({ said, margin }));
}

/** The readings of a splice step that were taken with an instrument. */
export function stepReadings(readings: readonly StepReading[], instrumentId: string): MarginedReading[] {
  return readings.filter((one) => one.instrumentId === instrumentId)
    .map((one) => ({ said: `${one.measured} ${one.printed} ${one.unit}`, margin: marginOf(one) }));
}

/** The readings of a weld that were taken with an instrument, by the lines of its procedure. */
export function weldReadings(readings: readonly WeldReading[], lines: readonly ProcedureLine[], instrumentId: string): MarginedReading[] {
  return readings.flatMap((one, index): MarginedReading[] => {
    if (one.instrumentId !== instrumentId) return [];
    const line = lines.find(({ source }) => source?.label === `readings[${index}].printed`);
    const margin = line?.margin == null || line.unit === null ? null : { value: line.margin, unit: line.unit };
    return [{ said: `${one.variable} ${one.printed} ${one.unit}`, margin }];
  });
}
