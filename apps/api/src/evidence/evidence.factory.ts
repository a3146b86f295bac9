import type { EvidenceState, JudgedStretch, Saying } from '#libs/evidence';
import { interval, IntervalSet } from '#libs/intervals';
import type { ControlPlanItem, EvidenceDemand } from '../control-plans/control-plan-item.js';
import { ControlPlan } from '../control-plans/control-plan.entity.js';
import type { EvidenceAnswer, EvidenceOnWallStretch } from './evidence.dto.js';
import type { PlannedItem } from './evidence-map.js';
import type { RecordTestimony } from './record-testimony.js';

/** An instant of the demo's first day. */
export const at = (clock: string): string => `2026-03-02T${clock}:00.000000Z`;

export const mm = (fromMm: number, toMm: number): IntervalSet => IntervalSet.of(interval(fromMm, toMm));

/** A word by a record of that id, entered in time at six o'clock, but for what a test changes. */
export const said = (says: Saying, fromMm: number, toMm: number, id: string, changes: Partial<RecordTestimony> = {}): RecordTestimony => ({
  says, fromMm, toMm, because: `${id} says so`, records: [{ kind: 'weld', id, version: 1, label: id.toUpperCase() }], onTimeFromMm: 0, enteredAt: at('06:00'), saidAt: changes.enteredAt ?? at('06:00'), ...changes,
});

/** An item of a plan for all pipe, on the first 1,000 mm. */
export const planned = (code: string, planId = 'plan', demands: EvidenceDemand = 'dimension', pipe = mm(0, 1_000)): PlannedItem => ({
  plan: Object.assign(new ControlPlan(), { id: planId, version: 1, document: 'CP-3', revision: '2' }), planned: pipe, demanded: pipe,
  item: { code, clause: '5.1', demands, at: 'pipe', marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null } satisfies ControlPlanItem,
});

/** `confirmed 0-500 late by 0,1`, in order of footage. */
export const shown = (stretches: readonly JudgedStretch[]): string[] =>
  stretches.map(({ fromMm, toMm, state, late, by }) => `${state} ${fromMm}-${toMm}${late ? ' late' : ''}${by.length === 0 ? '' : ` by ${by.join()}`}`);

/** A stretch of a wall whose pipe begins at footage 7 m and is as long as it is deep. */
export const onWall = (mdFromMm: number, mdToMm: number, state: EvidenceState, late = false): EvidenceOnWallStretch => ({
  mdFromMm, mdToMm, fromPlusMinusMm: 12, toPlusMinusMm: 15, pipe: { fromMm: 7_000, toMm: Math.max(7_001, 7_000 + mdToMm - mdFromMm), state, late, items: ['D-1'] },
});

/** An answer about no pipe, but for what a test changes. */
export const anAnswer = (changes: Partial<EvidenceAnswer>): EvidenceAnswer => ({
  string: { kind: 'casing-string', id: 's', version: 1, label: 'String' }, asKnownAt: null, pipe: { lengthMm: 0, intervals: [] }, plans: [], states: [], verdict: [], items: [], walls: [], shoe: null,
  notLocated: null, withoutPlanMm: 0, cautions: ['Mind this.', 'And that.'], ...changes,
});
