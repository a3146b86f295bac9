import { IntervalSet, type Interval } from '#libs/intervals';
import type { FieldProblem } from '../http/problem.js';
import { intervalFaults } from '../line/given-place.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import type { Finding } from '../records/plausibility.js';
import type { EvidenceWaiverInput } from './evidence-waiver.dto.js';

type Said = Pick<EvidenceWaiverInput, 'from' | 'to' | 'basis' | 'nonconformanceId'>;

/** What does not go together in a waiver: its place, and a nonconformance beside what was agreed before, or none beside a concession. */
export function waiverFaults({ from, to, basis, nonconformanceId }: Said): FieldProblem[] {
  const isOf = (basis === 'concession') === (nonconformanceId != null);
  return [
    ...intervalFaults({ from, to: to ?? null }),
    ...(isOf ? [] : [{ field: 'nonconformanceId', value: nonconformanceId ?? null, limit: 'the nonconformance of a concession, and none of a waiver' }]),
  ];
}

/** A concession of pipe that its nonconformance does not concern is taken and marked; one of strip alone says nothing of pipe. */
export function concessionFindings(span: Interval, { id, extent }: Pick<Nonconformance, 'id' | 'extent'>): Finding[] {
  const concerned = IntervalSet.from(extent);
  if (concerned.isEmpty || concerned.covers(span)) return [];
  return [{ tier: 'noted', field: 'nonconformanceId', value: id, limit: 'one that concerns all of this pipe' }];
}
