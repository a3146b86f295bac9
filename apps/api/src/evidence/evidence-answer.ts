import { pipeByState, withinInterval, type JudgedStretch, type VerdictStretch } from '#libs/evidence';
import { IntervalSet, type Interval } from '#libs/intervals';
import { metres } from '../destructive-coverage/test-coverage.js';
import { CONTROL_PLANS, linkOf } from '../recall/record-kinds.js';
import { linkTo } from '../trace/record-link.js';
import type { EvidenceItemAnswer, EvidencePlanAnswer, EvidenceStateMetres, EvidenceVerdictAnswer, TestimonyAnswer } from './evidence.dto.js';
import { HOLDS_KEY, type EvidenceMap, type MapLine } from './evidence-map.js';
import type { RecordTestimony } from './record-testimony.js';

/** The verdict within some pipe, by footage, with items by their codes. */
export function verdictWithin({ lines, verdict }: Pick<EvidenceMap, 'lines' | 'verdict'>, asked: IntervalSet): EvidenceVerdictAnswer[] {
  const codes = new Map(lines.map(({ key, of }) => [key, of?.item.code ?? HOLDS_KEY]));
  const named = ({ fromMm, toMm, state, late, by }: VerdictStretch): EvidenceVerdictAnswer => ({ fromMm, toMm, state, late, items: by.map((key) => codes.get(key) ?? key) });
  return clipped(verdict, asked).map(named);
}

/** An item's line within some pipe; only the testimonies that decide something there. */
export function itemAnswer({ of, stretches, testimonies }: MapLine, asked: IntervalSet): EvidenceItemAnswer {
  const own = clipped(stretches, asked);
  const told = [...new Set(own.flatMap(({ by }) => by))].sort((a, b) => a - b);
  const placeOf = new Map(told.map((nth, place) => [nth, place]));
  return {
    plan: of === null ? null : linkOf(CONTROL_PLANS, of.plan), code: of?.item.code ?? HOLDS_KEY, clause: of?.item.clause ?? null, demands: of?.item.demands ?? null, at: of?.item.at ?? null,
    states: stateMetres(own),
    stretches: own.map(({ fromMm, toMm, state, late, otherwise, by }) => ({ fromMm, toMm, state, late, otherwise, by: by.map((nth) => placeOf.get(nth) as number) })),
    testimonies: told.map((nth) => testimonyAnswer(testimonies[nth] as RecordTestimony)),
  };
}

const testimonyAnswer = ({ fromMm, toMm, says, because, records, enteredAt }: RecordTestimony): TestimonyAnswer => ({ fromMm, toMm, says, because, records, enteredAt });

/** The states that some of the pipe is in, worst first. */
export function stateMetres(stretches: readonly (Interval & Pick<JudgedStretch, 'state'>)[]): EvidenceStateMetres[] {
  return pipeByState(stretches).filter(({ pipe }) => !pipe.isEmpty).map(({ state, pipe }) => ({ state, metres: metres(pipe) }));
}

export function planAnswers({ plans, lines }: EvidenceMap, asked: IntervalSet): EvidencePlanAnswer[] {
  return plans.map((plan) => {
    const planned = lines.find(({ of }) => of?.plan.id === plan.id)?.of?.planned ?? IntervalSet.empty;
    return { plan: linkTo('control-plan', plan, CONTROL_PLANS.label(plan)), pipe: metres(planned.intersect(asked)) };
  });
}

/** Stretches, in order of footage, within some pipe. */
export function clipped<S extends Interval>(stretches: readonly S[], asked: IntervalSet): S[] {
  return asked.intervals.flatMap((part) => withinInterval(stretches, part));
}
