import { v7 as uuidv7 } from 'uuid';
import { TEST_PASSWORD, type Answer, type SignedIn } from '../setup/api.js';
import type { Fields } from '../setup/string-bench.js';
import type { Draws } from '../properties/line-draws.reference.js';
import { LINE_DM, STEPS, type CoilFate, type EvidenceStory, type Span, type StoryCutOut, type StoryItem, type StoryNonconformance, type StoryPlan, type StorySplice } from './evidence-story.js';
import { segmentOf } from './evidence-walk.reference.js';

const MM = 100;
const DAY = '2026-03-02';
export const atClock = (clock: string): string => `${DAY}T${clock}:00Z`;
const OBSERVED = atClock('09:00');
const EARLY = '2026-01-01T00:00:00Z';

/** Who plays, and what all strings share. */
export interface EvidenceStage {
  readonly engineer: SignedIn;
  readonly inspector: SignedIn;
  readonly wellId: string;
  readonly procedureId: string;
}

/** Coils that a group of strings is made of. */
export interface CoilGroup {
  readonly coilIds: readonly string[];
  readonly fates: readonly CoilFate[];
}

/** Asks again with what was asked about confirmed. Throws what is not taken. */
export async function taken(by: SignedIn, method: 'POST' | 'PATCH', path: string, body: Fields, headers: Record<string, string> = {}): Promise<Answer> {
  const sent = (confirm: Fields): Promise<Answer> => by.send(method, `/api/${path}`, { body: { ...body, ...confirm }, headers });
  const first = await sent({});
  const isAsked = first.status === 422 && String(first.body['type']).endsWith(':implausible');
  const answer = isAsked ? await sent({ confirm: (first.body['errors'] as Fields[]).map(({ confirm }) => confirm) }) : first;
  if (answer.status !== 200 && answer.status !== 201) throw new Error(`${method} ${path} ${JSON.stringify(body)}: ${answer.status} ${JSON.stringify(answer.body)}`);
  return answer;
}

/** A string with the story that is played on it, one step after another. What is of one step is entered at once, in an order that is drawn. */
export class PlayedString {
  readonly ids = new Map<string, string>();
  private readonly versions = new Map<string, number>();

  private constructor(
    readonly story: EvidenceStory,
    readonly group: CoilGroup,
    readonly stringId: string,
    private readonly stage: EvidenceStage,
    private readonly order: Draws,
    private readonly stripFromMm: number,
  ) {}

  /** A string of which nothing is recorded yet. `stripFromMm`: where its strip begins on each of its coils. */
  static async of(story: EvidenceStory, group: CoilGroup, stage: EvidenceStage, order: Draws, stripFromMm: number): Promise<PlayedString> {
    const stringId = uuidv7();
    await taken(stage.engineer, 'POST', 'casing-strings', {
      id: stringId, observedAt: EARLY, wellId: stage.wellId, name: `String ${stringId}`, footageLimitMm: 1_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '1', lengthRatioU: '0',
    });
    return new PlayedString(story, group, stringId, stage, order, stripFromMm);
  }

  async play(step: number): Promise<void> {
    for (const wave of this.wavesOf(step)) await Promise.all(this.shuffled(wave).map((enter) => enter()));
  }

  /** What a later wave of a step names is entered in an earlier one. */
  private wavesOf(step: number): (() => Promise<unknown>)[][] {
    const { story } = this;
    if (step === STEPS.setUp) return this.setUp();
    if (step === STEPS.ranOn) return [this.counted('11:50', story.madeDm[0]), this.counted('11:51', story.madeDm[1])];
    if (step === STEPS.ranOnAgain) return [this.counted('12:50', story.madeDm[1]), this.counted('12:51', story.madeDm[2])];
    const cuts = story.cutOuts.filter((cut) => cut.step === step).map((cut) => () => this.cutOut(cut));
    const plans = story.plans.filter((plan) => plan.step === step).map((plan) => () => this.plan(plan));
    return [[...plans, ...cuts, ...this.entries(step), ...this.changes(step)], this.rejoined(step)];
  }

  private setUp(): (() => Promise<unknown>)[][] {
    const { story } = this;
    const stations = [{ name: 'hang-off', role: 'hang-off', pathMinMm: LINE_DM * MM, pathMaxMm: LINE_DM * MM, uMm: '0' }];
    return [
      [
        () => this.enter('line-setups', 'setup', { observedAt: EARLY, viewing: 'down-the-hole', stations }),
        () => this.enter('counter-periods', 'period', { observedAt: atClock('05:00'), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0' }),
      ],
      this.counted('06:00', 0), this.counted('09:30', story.madeDm[0]),
      [
        ...story.segments.map((span, nth) => () => this.enter('coil-segments', `segment ${nth}`, {
          observedAt: OBSERVED, coilId: this.group.coilIds[nth], ...placed(span), stripFromMm: this.stripFromMm, stripToMm: this.stripFromMm + (span.toDm - span.fromDm) * MM, runs: 'head-first',
        })),
        ...story.splices.map((splice) => () => this.spliced(splice)),
        ...story.plans.filter(({ step }) => step === STEPS.setUp).map((plan) => () => this.plan(plan)),
      ],
      story.splices.filter(({ isShown }) => isShown).flatMap((splice) => this.shown(splice)),
    ];
  }

  private counted(clock: string, madeDm: number): (() => Promise<unknown>)[] {
    return [() => this.enter('counter-readings', `reading ${clock}`, { observedAt: atClock(clock), reading: String(madeDm * MM) })];
  }

  private plan({ fromDm, items }: StoryPlan): Promise<void> {
    return this.enter('control-plans', `plan ${fromDm}`, { observedAt: OBSERVED, document: 'Control plan', revision: String(fromDm), fromMm: fromDm * MM, items: items.map(itemBody) });
  }

  private spliced(splice: StorySplice): Promise<void> {
    const { coilIds } = this.group;
    return this.enter('splices', splice.name, {
      observedAt: OBSERVED, number: splice.name, leavingCoilId: coilIds[splice.segment], enteringCoilId: coilIds[splice.segment + 1], angleDeg: '90', hand: 'square', confirmed: true, ...placed(splice),
      ...spliceSays(splice.said[0]?.word ?? 'open'),
    });
  }

  private shown({ name }: StorySplice): (() => Promise<unknown>)[] {
    const step = (stage: string, clock: string, station: string | null = null) => (): Promise<unknown> => this.enter('splice-steps', `${name} ${stage}`, {
      observedAt: atClock(clock), spliceId: this.idOf(name), stage, outcome: 'accepted', station, readings: [], examinations: [], coupons: [], photoSha256s: [],
    });
    return [
      step('preparation', '08:00'), () => this.weld(`${name} weld`, '08:05', { spliceId: this.idOf(name) }), step('flat-strip-release', '08:10'), step('after-forming', '08:15'), step('station-sighting', '08:20', 'hang-off'),
    ];
  }

  private weld(name: string, clock: string, of: Fields): Promise<void> {
    return this.enter('welds', name, { observedAt: atClock(clock), ...of, weldProcedureId: this.stage.procedureId, readings: [{ variable: 'current', printed: '180', unit: 'A' }], chosen: [{ choice: 'process', value: '135' }] });
  }

  private async cutOut({ name, step, fromDm, toDm }: StoryCutOut): Promise<void> {
    await this.enter('cut-outs', name, { observedAt: atClock(step === STEPS.first ? '10:50' : '12:05'), ...placed({ fromDm, toDm }), cause: 'Tried cut' });
  }

  private rejoined(step: number): (() => Promise<unknown>)[] {
    return this.story.cutOuts.filter(({ rejoin }) => rejoin?.said[0]?.step === step).map((cut) => () => this.rejoin(cut));
  }

  private async rejoin({ name, step, fromDm, toDm, rejoin }: StoryCutOut): Promise<void> {
    if (rejoin === null) return;
    const [joined, welded, examined] = step === STEPS.first ? ['10:51', '10:55', '10:58'] : ['12:06', '12:08', '12:09'];
    await this.enter('rejoins', `${name} rejoin`, { observedAt: atClock(joined), cutOutId: this.idOf(name), procedure: 'Pipe weld', verdict: rejoin.said[0]?.word });
    const rejoinId = this.idOf(`${name} rejoin`);
    const isBefore = rejoin.examined === 'accepted-before-the-weld';
    if (rejoin.isWelded) await this.weld(`${name} weld`, welded, { rejoinId });
    if (rejoin.examined === null) return;
    await this.enter('examinations', `${name} examination`, {
      observedAt: atClock(isBefore ? (step === STEPS.first ? '10:40' : '12:00') : examined), rejoinId, ...placed({ fromDm: Math.max(0, fromDm - 1), toDm: toDm + 1 }), method: 'MT', technique: 'MT-1', outcome: isBefore ? 'accepted' : rejoin.examined,
      standsInFor: [], photoSha256s: [],
    });
  }

  /** Records that are new at a step. */
  private entries(step: number): (() => Promise<unknown>)[] {
    const { inspections, nonconformances, holds, waivers, attendances } = this.story;
    const at = { observedAt: OBSERVED };
    return [
      ...inspections.filter(({ said }) => said[0]?.step === step).map((one) => () => this.enter('inspections', one.name, {
        ...at, ...placed(one), kind: 'dimensional', characteristic: one.characteristic, value: '5', unit: 'mm', verdict: one.said[0]?.word,
      })),
      ...nonconformances.filter(({ said }) => said[0]?.step === step).map((one) => () => this.enter('nonconformances', one.name, { ...at, ...this.nonconformanceBody(one), ...this.nonconformanceSays(one.said[0]?.word) })),
      ...holds.filter((one) => one.step === step).map((one) => () => this.enter('holds', one.name, {
        ...at, cause: 'Odd sound', intervals: one.intervals.map(placed), coilIds: [], spliceIds: one.splice === null ? [] : [this.idOf(one.splice)],
      })),
      ...waivers.filter((one) => one.step === step).map((one) => () => this.enter('evidence-waivers', one.name, {
        ...at, ...placed(one), itemCode: one.itemCode, basis: 'waiver', agreedBy: 'Purchaser', agreement: 'Letter 12', grounds: 'Gauge under repair', nonconformanceId: null,
      })),
      ...attendances.filter((one) => one.step === step).map((one) => () => this.enter('attendances', one.name, {
        ...at, ...placed(one), itemCode: one.itemCode, outcome: one.outcome, attendedBy: [{ name: 'Edda Voss', party: 'customer' }], note: 'Seen at the station',
      })),
    ];
  }

  private nonconformanceBody(one: StoryNonconformance): Fields {
    const segment = segmentOf(this.story, one);
    const strip = segment === undefined || !one.ofStrip ? null : {
      coilId: this.group.coilIds[this.story.segments.indexOf(segment)], stripFromMm: this.stripFromMm + (one.fromDm - segment.fromDm) * MM, stripToMm: this.stripFromMm + (Math.min(one.toDm, segment.toDm) - segment.fromDm) * MM,
    };
    return {
      stringId: this.stringId, title: 'Mark', severity: 'minor', origin: 'line', extents: strip === null ? [placed(one)] : [], coilExtents: strip === null ? [] : [strip], extentBasis: 'measured',
      requirement: { document: 'Plan', revision: '1', clause: '4', limit: 'no mark' }, found: { text: 'Mark', method: 'seen', instrument: 'eye', at: OBSERVED, by: this.stage.inspector.personId },
    };
  }

  private nonconformanceSays(word: string | undefined): Fields {
    if (word === 'open') return { stage: 'open' };
    return { stage: 'closed', disposition: { kind: word, text: 'Looked at', approvedBy: this.stage.engineer.personId, approvedAt: OBSERVED } };
  }

  /** What is said anew of records, withdrawn and lifted at a step. */
  private changes(step: number): (() => Promise<unknown>)[] {
    const { story } = this;
    const later = <One extends { readonly said: readonly { readonly step: number; readonly word: string }[] }>(list: readonly One[], change: (one: One, word: string) => Promise<unknown>): (() => Promise<unknown>)[] =>
      list.flatMap((one) => one.said.slice(1).filter((said) => said.step === step).map(({ word }) => () => change(one, word)));
    const gone = (list: readonly { readonly name: string; readonly voidStep: number | null }[], path: string): (() => Promise<unknown>)[] =>
      list.filter(({ voidStep }) => voidStep === step).map(({ name }) => () => this.change(path, name, 'void', {}));
    return [
      ...later(story.inspections, ({ name }, verdict) => this.change('inspections', name, null, { verdict })),
      ...later(story.nonconformances, ({ name }, word) => this.change('nonconformances', name, null, this.nonconformanceSays(word))),
      ...later(story.splices, ({ name }, word) => this.change('splices', name, null, spliceSays(word))),
      ...later(story.cutOuts.flatMap(({ name, rejoin }) => (rejoin === null ? [] : [{ name: `${name} rejoin`, said: rejoin.said }])), ({ name }, verdict) => this.change('rejoins', name, null, { verdict })),
      ...gone(story.inspections, 'inspections'), ...gone(story.nonconformances, 'nonconformances'), ...gone(story.holds, 'holds'), ...gone(story.waivers, 'evidence-waivers'), ...gone(story.attendances, 'attendances'),
      ...story.holds.filter(({ liftedStep }) => liftedStep === step).map(({ name }) => () => this.enter('hold-liftings', `${name} lifted`, {
        observedAt: OBSERVED, holdId: this.idOf(name), grounds: 'Looked at', evidence: 'Visual inspection', ownHoldBecause: 'Alone on shift',
      })),
    ];
  }

  async enter(path: string, name: string, content: Fields): Promise<void> {
    const id = uuidv7();
    const answer = await taken(this.stage.engineer, 'POST', path, { id, stringId: this.stringId, ...content });
    this.ids.set(name, id);
    this.versions.set(name, Number(answer.body['version'] ?? 1));
  }

  private async change(path: string, name: string, how: 'void' | null, changes: Fields): Promise<void> {
    const id = this.idOf(name);
    const version = this.versions.get(name) ?? 1;
    const headers = { 'if-match': `"${version}"` };
    const answer = how === 'void'
      ? await taken(this.stage.engineer, 'POST', `${path}/${id}/void`, { reason: 'Entered by mistake' }, headers)
      : await taken(this.stage.engineer, 'PATCH', `${path}/${id}`, { reason: 'Looked at again', ...changes }, headers);
    this.versions.set(name, Number(answer.body['version']));
  }

  idOf(name: string): string {
    const id = this.ids.get(name);
    if (id === undefined) throw new Error(`${name} was not entered`);
    return id;
  }

  private shuffled<T>(list: readonly T[]): T[] {
    return list.map((one) => ({ one, key: this.order.fraction() })).sort((a, b) => a.key - b.key).map(({ one }) => one);
  }
}

export const placed = ({ fromDm, toDm }: Span): Fields => ({ from: { footageMm: fromDm * MM }, to: { footageMm: toDm * MM } });

const spliceSays = (word: string): Fields => ({ verdict: word, doubt: word === 'in-doubt' ? 'Hardness' : null });

const itemBody = ({ code, demands, at, marginDm, exceptAt, characteristic, reachDm }: StoryItem): Fields => ({
  code, clause: '5.1', demands, at, marginMm: marginDm === null ? null : marginDm * MM, exceptAt: exceptAt.map((one) => ({ at: one.at, marginMm: one.marginDm * MM })),
  channelId: null, characteristic, reachMm: reachDm === null ? null : reachDm * MM, test: null, point: demands === 'point' ? 'witness' : null,
});

/** Decides on a coil by what its evaluation shows. */
export async function decided(engineer: SignedIn, coilId: string, specificationId: string, decision: string): Promise<void> {
  const { body } = await engineer.send<Fields & { readonly sha256: string; readonly standing: { readonly decisionCount: number } }>('GET', `/api/coils/${coilId}/evaluation?specificationId=${specificationId}`);
  await taken(engineer, 'POST', 'coil-decisions', {
    id: uuidv7(), coilId, decision, specificationId, evaluationSha256: body.sha256, grounds: 'Examined', follows: body.standing.decisionCount, secret: TEST_PASSWORD,
    ...(decision === 'accept-under-concession' ? { concessionLimit: 'This well' } : {}),
  });
}

export async function permitted(engineer: SignedIn, coilId: string): Promise<void> {
  await taken(engineer, 'POST', 'deviation-permits', { id: uuidv7(), observedAt: EARLY, coilId, departure: 'Strip of a trial', limit: 'Trials only', validUntil: '2099-12-31T00:00:00Z' });
}
