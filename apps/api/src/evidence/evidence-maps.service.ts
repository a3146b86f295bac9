import { Inject, Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import type { RecordVersion } from '#libs/persistence';
import type { ControlPlan } from '../control-plans/control-plan.entity.js';
import { ControlPlansService } from '../control-plans/control-plans.service.js';
import { LengthModels } from '../line/length-models.service.js';
import { CONTROL_PLANS, CUT_OUTS, REJOINS, SEGMENTS, SPLICES, type RecordKind } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import { EvidenceGrounds } from './evidence-grounds.service.js';
import { HOLDS_KEY, holdsLine, keyOf, lineOf, mapOf, plannedItems, type EvidenceMap, type MapLine, type PlannedItem } from './evidence-map.js';
import type { EvidenceSource } from './evidence-source.js';
import { EvidenceStamps, stampOf, type Stamps } from './evidence-stamps.service.js';
import type { RecordTestimony } from './record-testimony.js';
import { HeldPipe } from './held-pipe.service.js';
import { ReleasedPipe } from './released-pipe.service.js';
import { Waivers } from './waivers.service.js';

/** Where Nest keeps the sources of testimony. */
export const EVIDENCE_SOURCES = Symbol('evidence sources');

/** What the ground itself rests on, beside the model of the lengths. */
const GROUND_KINDS: readonly RecordKind<RecordVersion>[] = [SEGMENTS, SPLICES, REJOINS, CUT_OUTS, CONTROL_PLANS];

/** Big as they are, few strings are looked at at the same time. */
const KEPT_MAPS = 8;
/** How old what a line that runs tells by its counter may be, for who asks all the time. Our own choice. */
const COUNTER_AGE_MS = 10_000;
/** A transaction older than this cannot still commit: what was known before is settled for ever. */
const SETTLED_AFTER_MS = 60_000;

interface KeptLine {
  readonly stamp: string;
  readonly line: MapLine;
}

/** A map of now, with the stamps that it was made under. */
interface KeptMap {
  readonly stamp: string;
  /** Of records alone, without the model of the lengths. */
  readonly recordStamp: string;
  readonly atMs: number;
  readonly groundStamp: string;
  /** Of the ground and its plans. */
  readonly lasting: object;
  readonly items: readonly PlannedItem[];
  readonly lines: ReadonlyMap<string, KeptLine>;
  readonly map: EvidenceMap;
}

/** The evidence for the pipe of strings; of now it is kept, and worked out again only where something has changed. */
@Injectable()
export class EvidenceMaps {
  private readonly now = new LRUCache<string, KeptMap>({ max: KEPT_MAPS });
  private readonly settled = new LRUCache<string, EvidenceMap>({ max: KEPT_MAPS });
  private readonly kinds: readonly RecordKind<RecordVersion>[];

  constructor(
    @Inject(EVIDENCE_SOURCES) private readonly sources: readonly EvidenceSource[],
    private readonly grounds: EvidenceGrounds,
    private readonly plans: ControlPlansService,
    private readonly models: LengthModels,
    private readonly stamps: EvidenceStamps,
    private readonly waivers: Waivers,
    private readonly held: HeldPipe,
    private readonly released: ReleasedPipe,
  ) {
    this.kinds = [...GROUND_KINDS, ...waivers.restsOn, ...held.restsOn, ...released.restsOn, ...sources.flatMap(({ restsOn }) => restsOn)];
  }

  /** As known at an instant, or now. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<EvidenceMap> {
    if (asKnownAt === null) return this.current(stringId);
    const key = `${stringId}@${asKnownAt}`;
    const kept = this.settled.get(key);
    if (kept !== undefined) return kept;
    const map = await this.made(stringId, asKnownAt);
    if (Date.parse(asKnownAt) < Date.now() - SETTLED_AFTER_MS) this.settled.set(key, map);
    return map;
  }

  /**
   * The same of now for who asks again and again while the line runs: up to date with every record but counter readings, which are at most
   * `COUNTER_AGE_MS` old. Pipe made or hung off since plays no part yet.
   */
  async lately(stringId: string): Promise<EvidenceMap> {
    const kept = this.now.get(stringId);
    if (kept === undefined || performance.now() - kept.atMs > COUNTER_AGE_MS) return this.current(stringId);
    const stamps = await this.stamps.of(stringId, this.kinds);
    return JSON.stringify(stamps) === kept.recordStamp ? kept.map : this.current(stringId);
  }

  private async made(stringId: string, asKnownAt: string | null): Promise<EvidenceMap> {
    const [ground, plans] = await Promise.all([this.grounds.of(stringId, asKnownAt), this.plans.ofString(stringId, asKnownAt)]);
    const items = plannedItems(plans, ground);
    const lines = await Promise.all(items.filter(asksForRecords).map((item) => this.line(ground, item, null)));
    return this.whole(ground, plans, items, [...lines, await this.heldLine(ground)]);
  }

  /** With what was released on the evidence of all other lines. */
  private async whole(ground: EvidenceGround, plans: readonly ControlPlan[], items: readonly PlannedItem[], lines: readonly MapLine[]): Promise<EvidenceMap> {
    const forReleases = items.filter((one) => !asksForRecords(one));
    if (forReleases.length === 0) return mapOf({ ground, plans, lines });
    const said = await this.released.testimonies({ ground, plans, lines });
    const released = await Promise.all(forReleases.map(async (of) => lineOf(of, within(said, of), within(await this.waivers.of(ground, of.item.code), of))));
    return mapOf({ ground, plans, lines: [...lines.slice(0, -1), ...released, ...lines.slice(-1)] });
  }

  /** Stamps are taken before what they stand for is read: a write in between makes a line newer than its stamp, never older. */
  private async current(stringId: string): Promise<EvidenceMap> {
    const [stamps, revision] = await Promise.all([this.stamps.of(stringId, this.kinds), this.models.revision(stringId)]);
    const stamp = JSON.stringify([revision, stamps]);
    const kept = this.now.get(stringId);
    if (kept?.stamp === stamp) return kept.map;
    const groundStamp = `${revision} ${stampOf(stamps, GROUND_KINDS)}`;
    const before = kept?.groundStamp === groundStamp ? kept : null;
    const lasting = before?.lasting ?? {};
    // Another object each time: what sources read of a ground is kept with it.
    const ground = { ...(before?.map.ground ?? await this.grounds.of(stringId, null)), now: { lasting, stamps } };
    const plans = before?.map.plans ?? await this.plans.ofString(stringId, null);
    const items = before?.items ?? plannedItems(plans, ground);
    const lines = await this.linesAgain(ground, items.filter(asksForRecords), stamps, before?.lines ?? new Map());
    const map = await this.whole(ground, plans, items, [...lines.values()].map(({ line }) => line));
    this.now.set(stringId, { stamp, recordStamp: JSON.stringify(stamps), atMs: performance.now(), groundStamp, lasting, items, lines, map });
    return map;
  }

  private async linesAgain(ground: EvidenceGround, items: readonly PlannedItem[], stamps: Stamps, kept: ReadonlyMap<string, KeptLine>): Promise<Map<string, KeptLine>> {
    const again = async (key: string, stamp: string, make: (before: MapLine | null) => Promise<MapLine>): Promise<readonly [string, KeptLine]> => {
      const had = kept.get(key);
      return [key, had?.stamp === stamp ? had : { stamp, line: await make(had?.line ?? null) }];
    };
    const lines = items.map((of) => {
      const { restsOn, restsOnSamples } = this.sourceOf(of);
      const stamp = `${stampOf(stamps, [...restsOn, ...this.waivers.restsOn])} ${restsOnSamples ? stamps['samples'] ?? '' : ''}`;
      return again(keyOf(of), stamp, (before) => this.line(ground, of, before));
    });
    return new Map(await Promise.all([...lines, again(HOLDS_KEY, stampOf(stamps, this.held.restsOn), () => this.heldLine(ground))]));
  }

  private async line(ground: EvidenceGround, of: PlannedItem, before: MapLine | null): Promise<MapLine> {
    const [said, waived] = await Promise.all([this.sourceOf(of).testimonies(ground, of.item), this.waivers.of(ground, of.item.code)]);
    return lineOf(of, within(said, of), within(waived, of), before);
  }

  private async heldLine(ground: EvidenceGround): Promise<MapLine> {
    return holdsLine(await this.held.of(ground), ground.pipe);
  }

  private sourceOf({ item }: PlannedItem): EvidenceSource {
    const source = this.sources.find(({ demands }) => demands === item.demands);
    if (source === undefined) throw new Error(`nothing tells of ${item.demands}`);
    return source;
  }
}

/** A release is asked for on the evidence of the other items. */
const asksForRecords = ({ item }: PlannedItem): boolean => item.demands !== 'released';

/** What says nothing of the pipe that is demanded of plays no part, and is not told. */
const within = <T extends RecordTestimony>(said: readonly T[], { demanded }: PlannedItem): T[] => said.filter((one) => demanded.overlaps(one));
