import { isWorse, type EvidenceState } from '#libs/evidence';
import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds, type RecordVersion } from '#libs/persistence';
import type { StringModel } from '../line/length-models.service.js';
import type { FrozenEvidence, FrozenLine, FrozenRecord } from '../releases/frozen-evidence.js';
import { itemAnswer } from './evidence-answer.js';
import { linesToRelease, type MapLine, type MapLines } from './evidence-map.js';

/** The evidence of an interval as a release freezes it: every line but those that ask for a release. */
export function freeze({ ground: { stringId, pipe, model }, plans, lines }: MapLines, interval: Interval): FrozenEvidence {
  const asked = pipe.intersect(interval);
  const frozen = linesToRelease(lines).map((line) => frozenLine(line, asked)).filter(({ stretches }) => stretches.length > 0);
  const own = new Set(frozen.map(({ key }) => key));
  const used = plans.filter(({ id }) => lines.some(({ key, of }) => of?.plan.id === id && own.has(key)));
  return {
    stringId, fromMm: interval.fromMm, toMm: interval.toMm, plans: used.map((row) => frozenRecord('control-plan', row)), footageRestsOn: footageRestsOn(model, interval.toMm),
    worst: worstOf(frozen, asked.subtract(plannedOf(lines))), lines: frozen,
  };
}

const plannedOf = (lines: readonly MapLine[]): IntervalSet => IntervalSet.from(lines.flatMap(({ of }) => of?.planned.intervals ?? []));

function frozenLine(line: MapLine, asked: IntervalSet): FrozenLine {
  const { code, stretches, testimonies } = itemAnswer(line, asked);
  return {
    key: line.key, code, stretches: stretches.map(({ fromMm, toMm, state, late, otherwise, by }) => ({ fromMm, toMm, state, late, otherwise, by })),
    testimonies: testimonies.map(({ says, because, records }) => ({ says, because, records: records.map(({ kind, id, version, label }) => ({ kind, id, version, label })) })),
  };
}

/** Pipe that no plan holds for is missing, whatever else is on record. */
function worstOf(lines: readonly FrozenLine[], unplanned: IntervalSet): EvidenceState {
  const states = lines.flatMap(({ stretches }) => stretches.map(({ state }) => state));
  return states.reduce<EvidenceState>((worst, state) => (isWorse(state, worst) ? state : worst), unplanned.isEmpty ? 'not-required' : 'missing');
}

/** The periods of the master counter by which that pipe has its footage: those that began before all of it was made. What came later moves none of it. */
export function footageRestsOn({ string, lengths, records }: StringModel, toMm: number): FrozenRecord[] {
  const madeUs = lengths.lengths.weldFootage.find(({ footageMm }) => footageMm >= toMm)?.atUs ?? Infinity;
  const began = records.periods.filter(({ counter, observedAt }) => counter === string.masterCounter && microseconds(observedAt) <= madeUs);
  return began.map((row) => frozenRecord('counter-period', row)).sort((a, b) => (a.id < b.id ? -1 : 1));
}

const frozenRecord = (kind: string, { id, version }: RecordVersion): FrozenRecord => ({ kind, id, version });
