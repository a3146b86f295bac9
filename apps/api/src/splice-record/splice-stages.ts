import { microseconds } from '#libs/persistence';
import { openOfRepairs } from '../reinspections/reinspection-answer.js';
import type { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import { SPLICE_STAGES } from '../splice-steps/splice-step.dto.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';

type Stage = (typeof SPLICE_STAGES)[number];
type Step = Pick<SpliceStep, 'stage' | 'outcome' | 'observedAt' | 'marks'>;

/** Where a splice stands at one stage: by its last step, while one that was rejected stays told. */
export interface StageState {
  readonly stage: Stage;
  readonly state: 'accepted' | 'held' | 'rejected' | 'missing';
}

/** The state of each stage, in their order. The last step of a stage decides; steps may come in any order. */
export function stageStates(steps: readonly Step[]): StageState[] {
  return SPLICE_STAGES.map((stage) => {
    const last = steps.filter((one) => one.stage === stage).reduce<Step | null>((latest, one) => (latest === null || isLater(one, latest) ? one : latest), null);
    return { stage, state: last?.outcome ?? 'missing' };
  });
}

/**
 * What is open of a splice: a stage that is missing or not accepted, one that was accepted after an earlier rejection without
 * a new weld between, stages out of their order in time, a reading beyond its limit, and that it was never welded.
 */
export function openOfSplice(steps: readonly Step[], weldedAt: readonly string[]): string[] {
  const states = stageStates(steps);
  const lastWeld = weldedAt.reduce<string | null>((latest, one) => (latest === null || microseconds(one) > microseconds(latest) ? one : latest), null);
  return [
    ...(lastWeld === null ? ['no weld of it is on record'] : []),
    ...states.flatMap(({ stage, state }) => (state === 'accepted' ? [] : [state === 'missing' ? `${stage} is missing` : `${stage} is ${state}`])),
    ...SPLICE_STAGES.flatMap((stage) => notWeldedAgain(stage, steps, weldedAt)),
    ...beforeTheWeld(steps, lastWeld),
    ...steps.flatMap(({ stage, marks }) => marks.filter(({ kind }) => kind === 'out-of-specification').map(({ value, limit }) => `${stage}: ${value}, ${limit}`)),
  ];
}

/** A second look that passes does not undo a rejection: the weld has to be made again in between. */
function notWeldedAgain(stage: Stage, steps: readonly Step[], weldedAt: readonly string[]): string[] {
  const own = steps.filter((one) => one.stage === stage).sort((one, other) => (isLater(one, other) ? 1 : -1));
  const rejected = own.findLastIndex(({ outcome }) => outcome === 'rejected');
  const after = own.slice(rejected + 1).find(({ outcome }) => outcome === 'accepted');
  const before = own[rejected];
  if (rejected < 0 || before === undefined || after === undefined) return [];
  const isWelded = weldedAt.some((at) => microseconds(at) > microseconds(before.observedAt) && microseconds(at) <= microseconds(after.observedAt));
  return isWelded ? [] : [`${stage} was accepted after it had been rejected, and was not welded again in between`];
}

/** What examines a weld comes after it: what was accepted before the last weld says nothing of it. */
function beforeTheWeld(steps: readonly Step[], lastWeld: string | null): string[] {
  if (lastWeld === null) return [];
  const stages = SPLICE_STAGES.filter((stage) => stage !== 'preparation');
  return stages.flatMap((stage) => {
    const own = steps.filter((one) => one.stage === stage);
    const isAfter = own.some(({ observedAt }) => microseconds(observedAt) >= microseconds(lastWeld));
    return own.length === 0 || isAfter ? [] : [`${stage} was done before the last weld, and says nothing of it`];
  });
}

/**
 * What is open of a splice after its repairs: what is open after each, and the stages, from the release of the flat strip on, that
 * were gone through before one after which something is open. Once all of it was looked at again they stand by what was seen then.
 */
export function openAfterRepairs(steps: readonly Step[], repairs: readonly RepairStateAnswer[]): string[] {
  const last = repairs.filter(({ isClosed }) => !isClosed).reduce<RepairStateAnswer | null>((latest, one) => (
    latest === null || microseconds(one.at) > microseconds(latest.at) ? one : latest), null);
  const before = last === null ? [] : SPLICE_STAGES.filter((stage) => stage !== 'preparation').filter((stage) => {
    const own = steps.filter((one) => one.stage === stage);
    return own.length > 0 && own.every(({ observedAt }) => microseconds(observedAt) <= microseconds(last.at));
  });
  return [...openOfRepairs(repairs), ...before.map((stage) => `${stage} was done before the repair of ${last?.at ?? ''}, and says nothing of it`)];
}

const isLater = (one: Step, other: Step): boolean => microseconds(one.observedAt) > microseconds(other.observedAt);
