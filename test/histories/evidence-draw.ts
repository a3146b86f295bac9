import { Draws } from '../properties/line-draws.reference.js';
import {
  STEPS, type CoilFate, type EvidenceStory, type InspectionWord, type NonconformanceWord, type Said, type Span, type SpliceWord, type StoryCutOut, type StoryItem, type StoryPlan,
} from './evidence-story.js';

/** Coils of a group, which its strings share; each string is made of all of them, in their order. */
export const COILS_OF_GROUP = 3;
export const CHARACTERISTICS = ['outside diameter', 'wall thickness'] as const;
const POINT = 'P-1';
const RECORD_STEPS = [STEPS.first, STEPS.second, STEPS.third] as const;
const AGREED_STEPS = [STEPS.firstAgreed, STEPS.secondAgreed] as const;
/** Of so many strings one is released. */
const RELEASED_OF = 4;

/** What becomes of the coils of a group. */
export function drawFates(seed: number): CoilFate[] {
  const draws = new Draws(seed * 7 + 3);
  return Array.from({ length: COILS_OF_GROUP }, (): CoilFate => {
    if (draws.chance(0.2)) return { decided: null, permittedStep: null };
    const decision = draws.oneOf(['accept', 'accept', 'accept', 'accept-under-concession', 'hold', 'reject'] as const);
    return { decided: { step: draws.oneOf(RECORD_STEPS), decision }, permittedStep: draws.chance(0.25) ? STEPS.oneMore : null };
  });
}

/** A story in which much meets: pipe is short, and edges lie on the same places. */
export function drawStory(seed: number): EvidenceStory {
  const draws = new Draws(seed);
  const madeDm = drawMade(draws);
  const endDm = Math.max(...madeDm);
  const segments = drawSegments(draws, endDm);
  const plans = drawPlans(draws, endDm);
  const pieces = { draws, endDm, codesBy: (step: number) => plans.filter((plan) => plan.step <= step).flatMap(({ items }) => items.map(({ code }) => code)) };
  const splices = segments.slice(1).map(({ fromDm }, nth) => ({
    name: `S-${nth + 1}`, segment: nth, fromDm: fromDm - draws.whole(1, 3), toDm: fromDm + draws.whole(1, 3), isShown: draws.chance(0.4), said: drawSaid<SpliceWord>(draws, STEPS.setUp, ['accepted', 'accepted', 'accepted', 'open', 'in-doubt', 'rejected']),
  }));
  return { seed, madeDm, segments, splices, plans, cutOuts: drawCutOuts(draws, madeDm[0]), ...drawRecords(pieces, splices.map(({ name }) => name)), release: drawRelease(draws, seed, madeDm) };
}

interface Pieces { readonly draws: Draws; readonly endDm: number; readonly codesBy: (step: number) => string[] }

function drawMade(draws: Draws): readonly [number, number, number] {
  const first = draws.whole(100, 300);
  const second = first + draws.oneOf([0, 10, 60, 150, -20]);
  return [first, second, second + draws.oneOf([0, 25, 150, -30])];
}

function drawSegments(draws: Draws, endDm: number): Span[] {
  const [one, two] = [draws.whole(30, 60), draws.whole(70, 95)];
  return [{ fromDm: 0, toDm: one }, { fromDm: one, toDm: two }, { fromDm: two, toDm: endDm }];
}

const plain = { at: 'pipe', marginDm: null, exceptAt: [], characteristic: null, reachDm: null } as const;

function drawPlans(draws: Draws, endDm: number): StoryPlan[] {
  const first: StoryPlan = { step: STEPS.setUp, fromDm: draws.chance(0.1) ? draws.whole(1, 30) : 0, items: drawItems(draws) };
  if (draws.chance(0.5)) return [first];
  return [first, { step: draws.oneOf([STEPS.setUp, STEPS.second]), fromDm: draws.whole(40, endDm), items: drawItems(draws) }];
}

function drawItems(draws: Draws): StoryItem[] {
  const some = (chance: number, item: () => StoryItem): StoryItem[] => (draws.chance(chance) ? [item()] : []);
  return [
    { ...plain, code: 'OD-1', demands: 'dimension', characteristic: CHARACTERISTICS[0], reachDm: draws.oneOf([1, 20, 60, 200]), exceptAt: drawExceptions(draws) },
    { ...plain, ...drawScope(draws), code: POINT, demands: 'point' },
    ...some(0.6, () => ({ ...plain, ...drawScope(draws), code: 'WT-1', demands: 'dimension', characteristic: CHARACTERISTICS[1], reachDm: draws.oneOf([5, 40]) })),
    ...some(0.8, () => ({ ...plain, code: 'NC-1', demands: 'nonconformances-closed', exceptAt: draws.chance(0.3) ? drawExceptions(draws) : [] })),
    ...some(0.5, () => ({ ...plain, code: 'C-1', demands: 'coil-accepted', exceptAt: draws.chance(0.3) ? drawExceptions(draws) : [] })),
    ...some(0.5, () => ({ ...plain, code: 'SP-1', demands: 'splice-accepted', at: 'splices', marginDm: 0 })),
    ...some(0.5, () => ({ ...plain, code: 'RJ-1', demands: 'rejoin-accepted', at: 're-joins', marginDm: 0 })),
    ...some(0.5, () => ({ ...plain, code: 'REL', demands: 'released' })),
  ];
}

/** All pipe, or one kind of place. */
function drawScope(draws: Draws): Pick<StoryItem, 'at' | 'marginDm' | 'exceptAt'> {
  const at = draws.oneOf(['pipe', 'pipe', 'splices', 're-joins', 'lead-end', 'tail-end'] as const);
  if (at === 'pipe') return { at, marginDm: null, exceptAt: draws.chance(0.5) ? drawExceptions(draws) : [] };
  return { at, marginDm: draws.whole(1, 40), exceptAt: [] };
}

function drawExceptions(draws: Draws): StoryItem['exceptAt'] {
  return (['splices', 're-joins', 'lead-end', 'tail-end'] as const).filter(() => draws.chance(0.3)).map((at) => ({ at, marginDm: draws.whole(1, 30) }));
}

/** What was said first at a step, and mostly nothing else later. */
function drawSaid<Word extends string>(draws: Draws, step: number, words: readonly Word[]): Said<Word>[] {
  const later = RECORD_STEPS.filter((one) => one > step);
  const said = [{ step, word: draws.oneOf(words) }];
  for (const one of later) {
    const word = draws.oneOf(words);
    if (draws.chance(0.2) && word !== said.at(-1)?.word) said.push({ step: one, word });
  }
  return said;
}

/** Apart from each other, and away from the end of what the first readings made. */
function drawCutOuts(draws: Draws, madeDm: number): StoryCutOut[] {
  const found: StoryCutOut[] = [];
  for (let fromDm = draws.oneOf([0, 1, 5, 20, 50]); found.length < draws.whole(0, 2); fromDm += draws.whole(10, 80)) {
    const toDm = fromDm + draws.whole(1, 20);
    if (toDm + 5 >= madeDm) break;
    const step = draws.oneOf([STEPS.first, STEPS.second]);
    found.push({ name: `cut ${found.length}`, fromDm, toDm, step, rejoin: draws.chance(0.75) ? drawRejoin(draws, step) : null });
    fromDm = toDm;
  }
  return found;
}

const drawRejoin = (draws: Draws, step: number): StoryCutOut['rejoin'] => ({
  said: drawSaid(draws, step + 1, ['accepted', 'accepted', 'accepted', 'open', 'rejected'] as const), isWelded: draws.chance(0.8),
  examined: draws.oneOf([null, 'accepted', 'accepted', 'accepted', 'rejected', 'accepted-before-the-weld'] as const),
});

const times = <T>(draws: Draws, most: number, make: (nth: number) => T): T[] => Array.from({ length: draws.whole(0, most) }, (_, nth) => make(nth));

function drawRecords({ draws, endDm, codesBy }: Pieces, splices: readonly string[]): Pick<EvidenceStory, 'inspections' | 'nonconformances' | 'holds' | 'waivers' | 'attendances'> {
  const span = (longest: number): Span => {
    const fromDm = draws.whole(0, endDm - 1);
    return { fromDm, toDm: Math.min(endDm, fromDm + draws.whole(1, longest)) };
  };
  const voidAfter = (step: number): number | null => (step < STEPS.third && draws.chance(0.12) ? draws.oneOf(RECORD_STEPS.filter((one) => one > step)) : null);
  const withSaid = <Word extends string>(words: readonly Word[]): { said: Said<Word>[]; voidStep: number | null } => {
    const said = drawSaid(draws, draws.oneOf(RECORD_STEPS), words);
    return { said, voidStep: said.length > 1 ? null : voidAfter(said[0]?.step ?? STEPS.third) };
  };
  return {
    inspections: times(draws, 7, (nth) => ({
      name: `inspection ${nth}`, ...span(80), characteristic: draws.oneOf(CHARACTERISTICS), ...withSaid<InspectionWord>(['accepted', 'accepted', 'accepted', 'accepted', 'rejected', 'for-evaluation']),
    })),
    nonconformances: times(draws, 3, (nth) => ({
      name: `nonconformance ${nth}`, ...span(50), ofStrip: draws.chance(0.3), ...withSaid<NonconformanceWord>(['open', 'rework', 'use-as-is-under-concession', 'use-as-is-under-concession']),
    })),
    holds: times(draws, 2, (nth) => {
      const step = draws.oneOf(RECORD_STEPS);
      const isOfSplice = draws.chance(0.25);
      const liftedStep = step < STEPS.third && draws.chance(0.6) ? draws.oneOf(RECORD_STEPS.filter((one) => one > step)) : null;
      return {
        name: `hold ${nth}`, step, intervals: isOfSplice ? [] : [span(30), span(10)], splice: isOfSplice ? draws.oneOf(splices) : null, liftedStep, voidStep: liftedStep === null ? voidAfter(step) : null,
      };
    }),
    waivers: times(draws, 3, (nth) => {
      const step = draws.oneOf(AGREED_STEPS);
      return { name: `waiver ${nth}`, step, ...span(100), itemCode: draws.oneOf(codesBy(step)), voidStep: voidAfter(step) };
    }),
    attendances: times(draws, 3, (nth) => {
      const step = draws.oneOf(RECORD_STEPS);
      return { name: `attendance ${nth}`, step, ...span(120), itemCode: POINT, outcome: draws.oneOf(['accepted', 'accepted', 'accepted', 'not-accepted'] as const), voidStep: voidAfter(step) };
    }),
  };
}

function drawRelease(draws: Draws, seed: number, [first]: EvidenceStory['madeDm']): Span | null {
  const fromDm = draws.oneOf([0, 0, 10, 40]);
  return seed % RELEASED_OF === 0 ? { fromDm, toDm: draws.whole(fromDm + 10, first) } : null;
}
