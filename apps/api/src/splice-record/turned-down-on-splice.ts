import { compareSensitivity, type OpenPoint, type RepairEvent } from '#libs/reinspection';
import type { RecordedLook, RecordedRepair } from '../reinspections/looks.js';
import { openInWords } from '../reinspections/open-words.js';
import { turnedDown } from '../reinspections/reinspection-answer.js';

/**
 * What was held or rejected of a splice since its last weld, by examinations of their own and by those of its steps, in words. A step has no
 * footage but that of the splice: what it rejected, wherever that was, is settled once the splice was repaired and the same method, at least as
 * sensitive, passed it after that.
 */
export function turnedDownOnSplice(made: RepairEvent, repairs: readonly RecordedRepair[], looks: readonly RecordedLook[]): string[] {
  return turnedDown(made, repairs, looks).map((point) => withoutPassed(point, repairs, looks)).filter(({ on }) => !on.isEmpty).map(openInWords);
}

function withoutPassed(point: OpenPoint<RecordedLook>, repairs: readonly RecordedRepair[], looks: readonly RecordedLook[]): OpenPoint<RecordedLook> {
  const [rejected] = point.since;
  if (rejected === undefined || point.reason !== 'rejected' || rejected.record.kind !== 'splice-step') return point;
  const repairedUs = Math.min(...repairs.map(({ atUs }) => atUs).filter((atUs) => atUs > rejected.atUs));
  const passed = looks.filter((look) => look.outcome === 'accepted' && look.atUs > repairedUs && look.method === rejected.method && compareSensitivity(look, rejected) === 'as-sensitive');
  return { ...point, on: passed.reduce((left, { on }) => left.subtract(on), point.on) };
}
