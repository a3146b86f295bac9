import { badness, judgedOn, type PlainHistory, type PlainJudged, type PlainVerdict, type PlainWord, verdictOn } from '../properties/evidence.reference.js';
import {
  LINE_DM, STEPS, type CoilFate, type EvidenceStory, type NonconformanceWord, type Said, type Span, type StoryCutOut, type StoryHold, type StoryItem, type StoryNonconformance, type StoryPlan,
} from './evidence-story.js';

/**
 * What stands for the pipe of a story, walked place by place with the story in hand. Nothing of the product is asked: pipe is a list
 * of decimetres that are there or were cut out, what is known goes by steps, and every record is looked at anew at every place.
 * A re-join is one millimetre of pipe to both sides of its weld, so that three millimetres of each decimetre are walked: the first,
 * one inside, and the last.
 */
const MM = 100;
/** Before any pipe was made: nothing is late that was known by then, or that nobody had to enter. */
const BEFORE_ALL = -1;
/** Millimetres of a decimetre that are walked. */
const WALKED = [0, 50, MM - 1] as const;

/** What is said of a place: null for an item of a plan that does not hold there. */
export interface WalkedPlace {
  readonly mm: number;
  /** By item, in the order of the plans; the last is that of the holds. */
  readonly lines: readonly (PlainJudged | null)[];
  readonly verdict: PlainVerdict;
}

/** An item with the plan it is of. */
export interface WalkedItem {
  readonly plan: StoryPlan;
  readonly item: StoryItem;
}

/** A word of a record, with the step at which it came to say so. */
interface KnownWord extends PlainWord {
  readonly saidAt: number;
}

/** The string as known at a step. */
export class Walk {
  readonly plans: readonly StoryPlan[];
  readonly items: readonly WalkedItem[];
  readonly madeDm: number;
  private readonly cuts: readonly StoryCutOut[];
  /** Of each decimetre, how many below it were not cut out. */
  private readonly netDm: readonly number[];
  private readonly words: readonly (readonly KnownWord[])[];
  private readonly held: readonly KnownWord[];
  private readonly clock: PlainHistory;
  /** Each walk is gone once, with what asks for releases and without. */
  private readonly walked = new Map<boolean, WalkedPlace[]>();

  constructor(private readonly story: EvidenceStory, private readonly fates: readonly CoilFate[], private readonly step: number, private readonly released: readonly WalkedRelease[] = []) {
    this.cuts = story.cutOuts.filter((cut) => cut.step <= step);
    this.madeDm = Math.max(...readingsBy(story, step));
    this.netDm = Array.from({ length: this.madeDm + 1 }, (_, dm) => countUpTo(dm, (one) => !this.isCut(one)));
    this.plans = story.plans.filter((plan) => plan.step <= step).toSorted((a, b) => a.fromDm - b.fromDm);
    this.items = this.plans.flatMap((plan) => plan.items.map((item) => ({ plan, item })));
    this.clock = { pipe: [], joints: [], endCells: 0, hungOff: Array.from({ length: step + 1 }, (_, at) => hungOffMm(story, this.cuts, at, step)), items: [] };
    this.words = this.items.map(({ item }) => this.wordsOf(item));
    this.held = story.holds.filter((hold) => this.isHeld(hold)).flatMap((hold) => this.pipeOfHold(hold).map((span) => word(hold.name, 'failed', span, hold.step)));
  }

  /** Every place of the pipe that is walked, in order. `isReleaseAsked` false: as a release is given, without the items that ask for one. */
  places(isReleaseAsked = true): readonly WalkedPlace[] {
    const walked = this.walked.get(isReleaseAsked) ?? this.walk(isReleaseAsked);
    this.walked.set(isReleaseAsked, walked);
    return walked;
  }

  private walk(isReleaseAsked: boolean): WalkedPlace[] {
    const found: WalkedPlace[] = [];
    for (let dm = 0; dm < this.madeDm; dm += 1) {
      if (!this.isCut(dm)) for (const mm of WALKED) found.push(this.placeAt(dm * MM + mm, isReleaseAsked));
    }
    return found;
  }

  private placeAt(mm: number, isReleaseAsked: boolean): WalkedPlace {
    const lines = [...this.items.map((one, nth) => (isReleaseAsked || one.item.demands !== 'released' ? this.lineAt(one, this.words[nth] ?? [], mm) : null)), this.holdsAt(mm)];
    const codes = [...this.items.map(({ item }) => item.code), 'hold'];
    return { mm, lines, verdict: verdictOn(lines.map((judged, nth) => ({ key: codes[nth] ?? '', judged }))) };
  }

  private lineAt({ plan, item }: WalkedItem, words: readonly KnownWord[], mm: number): PlainJudged | null {
    if (this.planAt(mm) !== plan) return null;
    const isDemanded = this.isAt(item.at, item.marginDm ?? 0, mm) && !item.exceptAt.some(({ at, marginDm }) => this.isAt(at, marginDm, mm));
    if (!isDemanded) return { state: 'not-required', late: false, otherwise: null, by: [] };
    const here = words.filter(({ from, to }) => from <= mm && mm < to);
    const lastBad = Math.max(-1, ...here.filter(({ says }) => says === 'failed' || says === 'suspect').map(({ saidAt }) => saidAt));
    const hasFailed = here.some(({ says }) => says === 'failed');
    // Who waives answers for what could be known then; nobody agrees beforehand to what fails.
    const counting = here.filter(({ id, saidAt }) => !id.startsWith('waiver') || (saidAt >= lastBad && !hasFailed));
    return judgedOn(counting, this.clock, mm);
  }

  private holdsAt(mm: number): PlainJudged | null {
    const here = this.held.filter(({ from, to }) => from <= mm && mm < to);
    return here.length === 0 ? null : judgedOn(here, this.clock, mm);
  }

  private planAt(mm: number): StoryPlan | undefined {
    return this.plans.findLast(({ fromDm }) => fromDm * MM <= mm);
  }

  private isCut(dm: number): boolean {
    return this.cuts.some(({ fromDm, toDm }) => fromDm <= dm && dm < toDm);
  }

  /** How much pipe that stands is below a place. */
  private netOf(mm: number): number {
    const dm = Math.min(this.madeDm, Math.floor(mm / MM));
    return (this.netDm[dm] ?? 0) * MM + (dm >= this.madeDm || this.isCut(dm) ? 0 : mm % MM);
  }

  /** Whether a place lies at joints, or at an end, by pipe that stands. */
  private isAt(at: StoryItem['at'], marginDm: number, mm: number): boolean {
    const net = this.netOf(mm);
    switch (at) {
      case 'pipe': return true;
      case 'lead-end': return net < marginDm * MM;
      case 'tail-end': return net >= this.netOf(this.madeDm * MM) - marginDm * MM;
      case 'splices': return this.story.splices.some(({ fromDm, toDm }) => this.isBy(net, [this.netOf(fromDm * MM), this.netOf(toDm * MM)], marginDm * MM));
      case 're-joins': return this.cuts.some(({ fromDm }) => this.netOf(fromDm * MM) > 0 && this.isBy(net, [this.netOf(fromDm * MM) - 1, this.netOf(fromDm * MM) + 1], Math.max(0, marginDm * MM - 1)));
    }
  }

  /** Nothing lies by a joint of which nothing stands. */
  private isBy(net: number, [from, to]: readonly [number, number], marginMm: number): boolean {
    return from < to && net >= from - marginMm && net < to + marginMm;
  }

  private wordsOf(item: StoryItem): KnownWord[] {
    const waived = this.story.waivers.filter((one) => one.itemCode === item.code && this.isKnown(one.step, one.voidStep)).map((one) => word(one.name, 'waived', one, one.step));
    return [...this.recordedFor(item), ...waived];
  }

  private recordedFor(item: StoryItem): KnownWord[] {
    switch (item.demands) {
      case 'dimension': return this.measured(item);
      case 'point': return this.story.attendances.filter((one) => one.itemCode === item.code && this.isKnown(one.step, one.voidStep))
        .map((one) => word(one.name, one.outcome === 'accepted' ? 'confirmed' : 'failed', one, one.step));
      case 'nonconformances-closed': return this.nonconforming();
      case 'coil-accepted': return this.fates.flatMap((fate, nth) => this.coilWords(fate, nth));
      case 'splice-accepted': return this.spliceWords();
      case 'rejoin-accepted': return this.cuts.flatMap((cut) => this.rejoinWords(cut));
      case 'released': return this.releasedWords();
    }
  }

  private isKnown(step: number, voidStep: number | null): boolean {
    return step <= this.step && (voidStep === null || voidStep > this.step);
  }

  /** What a record says by now, and since when. */
  private lastOf<Word extends string>(said: readonly Said<Word>[]): Said<Word> | undefined {
    return said.findLast((one) => one.step <= this.step);
  }

  private measured({ characteristic, reachDm }: StoryItem): KnownWord[] {
    return this.story.inspections.flatMap((one) => {
      const [first, last] = [one.said[0], this.lastOf(one.said)];
      if (one.characteristic !== characteristic || first === undefined || last === undefined || !this.isKnown(first.step, one.voidStep)) return [];
      const onCoils = this.story.segments.filter((segment) => segment.fromDm < one.toDm && one.fromDm < segment.toDm);
      const reach = {
        fromDm: Math.max(one.fromDm - (reachDm ?? 0), Math.min(one.fromDm, ...onCoils.map(({ fromDm }) => fromDm))),
        toDm: Math.min(one.toDm + (reachDm ?? 0), Math.max(one.toDm, ...onCoils.map(({ toDm }) => toDm))),
      };
      const say = (says: PlainWord['says'], span: Span): KnownWord => word(one.name, says, span, first.step, last.step);
      if (last.word === 'accepted') return [say('confirmed', reach)];
      if (last.word === 'for-evaluation') return [say('suspect', reach)];
      return [say('failed', one), say('suspect', { fromDm: reach.fromDm, toDm: one.fromDm }), say('suspect', { fromDm: one.toDm, toDm: reach.toDm })];
    });
  }

  /** Word by word of each decimetre: open ones fail it; else a concession stands on it; else what was made good, or that nothing names it. */
  private nonconforming(): KnownWord[] {
    const standing = this.story.nonconformances.flatMap((one) => {
      const [first, last] = [one.said[0], this.lastOf(one.said)];
      return first === undefined || last === undefined || !this.isKnown(first.step, one.voidStep) ? [] : [{ one, first, last }];
    });
    const found: KnownWord[] = [];
    for (let dm = 0; dm < this.madeDm; dm += 1) {
      const here = standing.filter(({ one }) => this.pipeOf(one).some(({ fromDm, toDm }) => fromDm <= dm && dm < toDm));
      const worst = (['open', 'use-as-is-under-concession', 'rework'] as const).find((stage) => here.some(({ last }) => last.word === stage));
      const deciding = here.filter(({ last }) => last.word === worst);
      const place = { fromDm: dm, toDm: dm + 1 };
      found.push(...deciding.map(({ one, first, last }) => word(one.name, CLOSED_SAYS[last.word], place, first.step, last.step)));
      if (here.length === 0) found.push(word('none', 'confirmed', place, BEFORE_ALL));
    }
    return found;
  }

  /** Strip of a coil that it names lies in the pipe of one segment. */
  private pipeOf(one: StoryNonconformance): Span[] {
    if (!one.ofStrip) return [one];
    const segment = segmentOf(this.story, one);
    return segment === undefined ? [] : [{ fromDm: Math.max(one.fromDm, segment.fromDm), toDm: Math.min(one.toDm, segment.toDm) }];
  }

  private coilWords({ decided, permittedStep }: CoilFate, nth: number): KnownWord[] {
    const segment = this.story.segments[nth];
    if (segment === undefined) return [];
    const decision = decided !== null && decided.step <= this.step ? decided : null;
    const permitted = permittedStep !== null && permittedStep <= this.step ? [word(`permit again ${nth}`, 'waived', segment, permittedStep)] : [];
    // A decision ends the permit that was there before.
    if (decision === null) return [word(`permit ${nth}`, 'waived', segment, BEFORE_ALL), ...permitted];
    const says = { accept: 'confirmed', 'accept-under-concession': 'waived', hold: 'suspect', reject: 'failed' } as const;
    return [word(`decision ${nth}`, says[decision.decision], segment, decision.step), ...permitted];
  }

  private spliceWords(): KnownWord[] {
    return this.story.splices.flatMap((splice) => {
      const last = this.lastOf(splice.said);
      if (last === undefined) return [];
      const says = { rejected: 'failed', 'in-doubt': 'suspect', open: 'awaited', accepted: splice.isShown && !this.isTurnedDown(splice) ? 'confirmed' : 'suspect' } as const;
      return [word(splice.name, says[last.word], splice, STEPS.setUp, last.step)];
    });
  }

  /** An examination that rejected lies on what stands of it: that of a re-join reaches a decimetre to both sides. */
  private isTurnedDown({ fromDm, toDm }: Span): boolean {
    const standing = Array.from({ length: toDm - fromDm }, (_, nth) => fromDm + nth).filter((dm) => !this.isCut(dm));
    const rejected = this.cuts.filter(({ rejoin }) => rejoin?.examined === 'rejected' && (rejoin.said[0]?.step ?? Infinity) <= this.step);
    return standing.some((dm) => rejected.some((cut) => cut.fromDm - 1 <= dm && dm < cut.toDm + 1));
  }

  private rejoinWords({ name, fromDm, toDm, rejoin }: StoryCutOut): KnownWord[] {
    const [first, last] = [rejoin?.said[0], this.lastOf(rejoin?.said ?? [])];
    if (rejoin === null || first === undefined || last === undefined) return [];
    const isShown = rejoin.isWelded && rejoin.examined === 'accepted';
    const says = { rejected: 'failed', open: 'awaited', accepted: isShown ? 'confirmed' : 'suspect' } as const;
    const said = word(name, says[last.word], { fromDm, toDm }, first.step, last.step);
    return [{ ...said, from: fromDm * MM - 1, to: fromDm * MM }, { ...said, from: toDm * MM, to: toDm * MM + 1 }];
  }

  private releasedWords(): KnownWord[] {
    return this.released.filter(({ step }) => step <= this.step).flatMap(({ mm, stands, step }) => mm.map((at) => ({ id: 'release', says: stands(at) ? 'confirmed' : 'suspect', from: at, to: at + 1, enteredAt: step, saidAt: step } as const)));
  }

  private isHeld({ step, voidStep, liftedStep }: StoryHold): boolean {
    return this.isKnown(step, voidStep) && (liftedStep === null || liftedStep > this.step);
  }

  private pipeOfHold({ intervals, splice }: StoryHold): Span[] {
    return [...intervals, ...this.story.splices.filter(({ name }) => name === splice)];
  }
}

/** A release, with the places of its pipe and whether it stands on each. */
export interface WalkedRelease {
  readonly step: number;
  readonly mm: readonly number[];
  readonly stands: (mm: number) => boolean;
}

const CLOSED_SAYS: Readonly<Record<NonconformanceWord, PlainWord['says']>> = { open: 'failed', 'use-as-is-under-concession': 'waived', rework: 'confirmed' };

const word = (id: string, says: PlainWord['says'], { fromDm, toDm }: Span, enteredAt: number, saidAt = enteredAt): KnownWord => ({ id, says, from: fromDm * MM, to: toDm * MM, enteredAt, saidAt });

/** The segment that the beginning of a span lies in. */
export const segmentOf = ({ segments }: EvidenceStory, { fromDm }: Span): Span | undefined => segments.find((one) => one.fromDm <= fromDm && fromDm < one.toDm);

function countUpTo(end: number, isMeant: (nth: number) => boolean): number {
  let count = 0;
  for (let nth = 0; nth < end; nth += 1) if (isMeant(nth)) count += 1;
  return count;
}

/** What the counter had read by a step. */
function readingsBy({ madeDm: [first, second, third] }: EvidenceStory, step: number): number[] {
  return [first, ...(step >= STEPS.ranOn ? [second] : []), ...(step >= STEPS.ranOnAgain ? [third] : [])];
}

/** The pipe that had passed the hang-off by a step, at each reading until then: back from the weld point by what stands of it. What is known now says what was cut. */
function hungOffMm(story: EvidenceStory, cuts: readonly StoryCutOut[], at: number, known: number): number {
  const [first, second = first, third = second] = readingsBy(story, known) as [number, number?, number?];
  const passed = [passedBy(first, [])];
  if (at >= STEPS.first) passed.push(passedBy(first, cuts.filter(({ step }) => step === STEPS.first)));
  if (at >= STEPS.ranOn) passed.push(passedBy(second, cuts.filter(({ step }) => step === STEPS.first)));
  if (at >= STEPS.second) passed.push(passedBy(second, cuts));
  if (at >= STEPS.ranOnAgain) passed.push(passedBy(third, cuts));
  return Math.max(...passed) * MM;
}

function passedBy(weldDm: number, cuts: readonly Span[]): number {
  let [dm, way] = [weldDm, 0];
  while (dm > 0 && way < LINE_DM) {
    dm -= 1;
    if (!cuts.some(({ fromDm, toDm }) => fromDm <= dm && dm < toDm)) way += 1;
  }
  return way < LINE_DM ? 0 : dm;
}

/** The places of a release that are worse than they were: the plans' lines and the holds, those for releases left out. */
export function worsened(before: Walk, after: Walk, { fromDm, toDm }: Span): number[] {
  const then = new Map(before.places(false).map((place) => [place.mm, place]));
  const order = (walk: Walk): (StoryItem | null)[] => [...walk.items.map(({ item }) => item), null];
  return after.places(false).filter(({ mm }) => fromDm * MM <= mm && mm < toDm * MM).filter(({ mm, lines }) => {
    const earlier = then.get(mm);
    return lines.some((line, nth) => isWorse(earlier?.lines[order(before).indexOf(order(after)[nth] ?? null)] ?? null, line));
  }).map(({ mm }) => mm);
}

/** Where nothing was asked for, pipe is as good as conceded; what speaks against pipe of which nothing was known is worse to who signed. */
function isWorse(before: PlainJudged | null, after: PlainJudged | null): boolean {
  if (after === null) return false;
  if (before?.state === 'missing' && after.state === 'suspect') return true;
  const then = before === null || before.state === 'not-required' ? 'conceded' : before.state;
  return badness(after.state) > badness(then);
}
