import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import type { ControlPlanItem } from '../../control-plans/control-plan-item.js';
import { inspectionLabel } from '../../inspections/inspection-label.js';
import type { SeenInspection } from '../../inspections/seen-inspection.js';
import { INSPECTIONS } from '../../recall/record-kinds.js';
import { linkTo } from '../../trace/record-link.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { oncePerRow } from '../once-per-row.js';
import { testimonies, type OnTimeFrom, type RecordTestimony } from '../record-testimony.js';

/** A characteristic of the pipe was inspected closely enough, and accepted. */
@Injectable()
export class DimensionInspected implements EvidenceSource {
  readonly demands = 'dimension';
  readonly restsOn = [INSPECTIONS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround, item: ControlPlanItem): Promise<RecordTestimony[]> {
    const rows = (await this.records.inspections(ground)).filter(({ characteristic }) => characteristic === item.characteristic);
    return rows.flatMap((row) => this.said(row, ground, item.reachMm ?? 0));
  }

  private readonly said = oncePerRow((row: SeenInspection, { segments, onTimeFrom }, reachMm) => saidBy(row, reachOf(row.span, reachMm, segments), onTimeFrom));
}

/**
 * A reading stands for its reach, by the plan's word: between two readings nothing was measured. One that was rejected fails its
 * own place and puts its reach in doubt; one for evaluation puts both in doubt.
 */
export function saidBy(row: SeenInspection, reach: IntervalSet, onTimeFrom: OnTimeFrom): RecordTestimony[] {
  const { span, verdict, value, unit, characteristic, enteredAt, knownFrom } = row;
  const read = value === null ? characteristic : `${characteristic} ${value} ${unit ?? ''}`;
  const said = { records: [linkTo('inspection', row, inspectionLabel(row))], enteredAt: [enteredAt], knownFrom };
  if (verdict === 'accepted') return testimonies(reach, { ...said, says: 'confirmed', because: `${read}: accepted` }, onTimeFrom);
  const beside = reach.subtract(span);
  if (verdict === 'for-evaluation') return testimonies(reach, { ...said, says: 'suspect', because: `${read}: to be evaluated` }, onTimeFrom);
  return [
    ...testimonies(span, { ...said, says: 'failed', because: `${read}: rejected` }, onTimeFrom),
    ...testimonies(beside, { ...said, says: 'suspect', because: `${read} was rejected within the reach of this place` }, onTimeFrom),
  ];
}

/** The plan's reach to both sides, within the coils that the reading itself is on: it says nothing of other strip. On pipe of no known coil it ends where one begins. */
export function reachOf(span: Interval, reachMm: number, segments: readonly { readonly span: Interval }[]): IntervalSet {
  const whole = IntervalSet.of({ fromMm: Math.max(0, span.fromMm - reachMm), toMm: span.toMm + reachMm });
  const isOwn = (segment: { readonly span: Interval }): boolean => segment.span.fromMm < span.toMm && span.fromMm < segment.span.toMm;
  const own = segments.filter(isOwn);
  return (own.length === 0 ? whole.subtract(spansOf(segments)) : whole.intersect(spansOf(own))).union(span);
}

const spansOf = (segments: readonly { readonly span: Interval }[]): IntervalSet => IntervalSet.from(segments.map(({ span }) => span));
