import { microseconds } from '#libs/persistence';
import { openOfRepairs } from '../reinspections/reinspection-answer.js';
import type { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import { placeOfStep } from '../splice-steps/splice-step-label.js';
import { SPLICE_STAGES } from '../splice-steps/splice-step.dto.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';

type Stage = (typeof SPLICE_STAGES)[number];
type Outcome = SpliceStep['outcome'];
type Step = Pick<SpliceStep, 'stage' | 'station' | 'outcome' | 'observedAt' | 'marks'>;

/** Where a splice stands at one stage: by its last step, while one that was rejected stays told. */
export interface StageState {
  readonly stage: Stage;
  readonly state: Outcome | 'missing';
}

/** When a splice was welded, and when it was repaired by whatever method. */
export interface SpliceMade {
  readonly weldedAt: readonly string[];
  readonly repairedAt: readonly string[];
}

const BY_GRAVITY: readonly Outcome[] = ['accepted', 'held', 'rejected'];
const AFTER_WELDING = SPLICE_STAGES.filter((stage) => stage !== 'preparation');

/**
 * The state of each stage, in their order. The last step of a stage decides, the gravest of one instant; a sighting is judged at its
 * own station, the gravest of all stations being the state of the stage. Steps may come in any order.
 */
export function stageStates(steps: readonly Step[], made: SpliceMade): StageState[] {
  return SPLICE_STAGES.map((stage) => ({ stage, state: gravest(lastOfPlaces(stage, steps, made).map(({ outcome }) => outcome)) ?? 'missing' }));
}

/**
 * What is open of a splice: a stage that is missing or not accepted, one that was accepted after an earlier rejection without
 * a new weld or a repair between, stages out of their order in time, a reading beyond its limit, and that it was never welded.
 */
export function openOfSplice(steps: readonly Step[], made: SpliceMade): string[] {
  const { weldedAt } = made;
  return [
    ...(weldedAt.length === 0 ? ['no weld of it is on record'] : []),
    ...SPLICE_STAGES.flatMap((stage) => notAccepted(stage, steps, made)),
    ...places(steps).flatMap(({ place, own }) => notMadeAgain(place, own, made)),
    ...beforeTheWeld(steps, Math.max(-Infinity, ...weldedAt.map(microseconds))),
    ...steps.flatMap(({ stage, marks }) => marks.filter(({ kind }) => kind === 'out-of-specification').map(({ value, limit }) => `${stage}: ${value}, ${limit}`)),
  ];
}

/**
 * What is open of a splice after its repairs: what is open after each, and the stages, from the release of the flat strip on, that
 * were gone through before one after which something is open. Once all of it was looked at again they stand by what was seen then.
 */
export function openAfterRepairs(steps: readonly Step[], repairs: readonly RepairStateAnswer[]): string[] {
  const last = repairs.filter(({ isClosed }) => !isClosed).reduce<RepairStateAnswer | null>((latest, one) => (
    latest === null || microseconds(one.at) > microseconds(latest.at) ? one : latest), null);
  const before = last === null ? [] : AFTER_WELDING.filter((stage) => isAllUpTo(microseconds(last.at), steps, stage));
  return [...openOfRepairs(repairs), ...before.map((stage) => `${stage} was done before the repair of ${last?.at ?? ''}, and says nothing of it`)];
}

function notAccepted(stage: Stage, steps: readonly Step[], made: SpliceMade): string[] {
  const lasts = lastOfPlaces(stage, steps, made);
  if (lasts.length === 0) return [`${stage} is missing`];
  return lasts.filter(({ outcome }) => outcome !== 'accepted').map((step) => `${placeOfStep(step)} is ${step.outcome}`);
}

/**
 * The last step at each place of a stage. What a station saw counts no more once the splice was welded or repaired after it and accepted at a
 * station after that: a splice does not come by the same station again.
 */
function lastOfPlaces(stage: Stage, steps: readonly Step[], { weldedAt, repairedAt }: SpliceMade): Step[] {
  const lasts = places(steps.filter((one) => one.stage === stage)).flatMap(({ own }) => own.slice(-1));
  const isPast = (last: Step): boolean => lasts.some((later) => later.outcome === 'accepted' && liesBetween([...weldedAt, ...repairedAt], last, later));
  return lasts.filter((last) => last.outcome === 'accepted' || !isPast(last));
}

/** The steps by stage and station, each in turn of time, the gravest last of one instant. */
function places(steps: readonly Step[]): { readonly place: string; readonly own: readonly Step[] }[] {
  const inOrder = SPLICE_STAGES.flatMap((stage) => steps.filter((one) => one.stage === stage));
  return [...new Set(inOrder.map(placeOfStep))].map((place) => ({ place, own: inOrder.filter((one) => placeOfStep(one) === place).sort(inTurn) }));
}

/**
 * A second look that passes does not undo a rejection: what was rejected has to be made anew in between. A weld does that, and a weld
 * repair as a weld. Grinding, heat treatment and the like do it too: they take away or change what was rejected, and what has to be
 * looked at again after them is told of the repair.
 */
function notMadeAgain(place: string, own: readonly Step[], { weldedAt, repairedAt }: SpliceMade): string[] {
  const rejected = own.findLastIndex(({ outcome }) => outcome === 'rejected');
  const [before, after] = [own[rejected], own.slice(rejected + 1).find(({ outcome }) => outcome === 'accepted')];
  if (before === undefined || after === undefined || liesBetween([...weldedAt, ...repairedAt], before, after)) return [];
  return [`${place} was accepted after it had been rejected, and was neither welded again nor repaired in between`];
}

/** What examines a weld comes after it: what was accepted before the last weld, or at its instant, says nothing of it. */
const beforeTheWeld = (steps: readonly Step[], lastWeldUs: number): string[] =>
  AFTER_WELDING.filter((stage) => isAllUpTo(lastWeldUs, steps, stage)).map((stage) => `${stage} was done before the last weld, and says nothing of it`);

/** There are steps of the stage, and none after the instant. */
function isAllUpTo(us: number, steps: readonly Step[], stage: Stage): boolean {
  const own = steps.filter((one) => one.stage === stage);
  return own.length > 0 && own.every(({ observedAt }) => microseconds(observedAt) <= us);
}

/** Some of the instants lies after one step and before the other; what is of the instant of a step is neither. */
const liesBetween = (instants: readonly string[], one: Step, other: Step): boolean =>
  instants.map(microseconds).some((us) => us > microseconds(one.observedAt) && us < microseconds(other.observedAt));

const gravest = (outcomes: readonly Outcome[]): Outcome | null => BY_GRAVITY.findLast((outcome) => outcomes.includes(outcome)) ?? null;

const inTurn = (one: Step, other: Step): number =>
  microseconds(one.observedAt) - microseconds(other.observedAt) || BY_GRAVITY.indexOf(one.outcome) - BY_GRAVITY.indexOf(other.outcome);
