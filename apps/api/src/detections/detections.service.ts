import { Injectable } from '@nestjs/common';
import { v7 as uuidv7 } from 'uuid';
import type { Interval } from '#libs/intervals';
import { run, type Transaction, type WriteLock } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, Refused, refusedField, together } from '../http/problem.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import { settledAtOf } from '../indication-evaluations/standing-evaluation.js';
import { IndicationRulesService } from '../indication-rules/indication-rules.service.js';
import type { IndicationRuleVersion, RuleChannel } from '../indication-rules/indication-rule.entity.js';
import { IndicationsService, type Opening } from '../indications/indications.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { linkTo } from '../trace/record-link.js';
import { detectionLabel } from './detection-label.js';
import { DetectionInput, type DetectionContent, type FoundPlaceAnswer, type FoundPlacesAnswer } from './detection.dto.js';
import { Detection } from './detection.entity.js';
import { changedRun, detectionFaults } from './detection.rules.js';
import { detect, MOST_PARTS, TooMuchFound, type Detected } from './detection-run.js';
import { packed, unpacked, type FoundPart, type SawStroke, type SettledPlace } from './found-place.js';
import { LookedChannels } from './looked-channels.service.js';
import { settled, worstPart, type Standing } from './to-open.js';

/** What was detected before the transaction that records it. */
interface Ran {
  readonly ruleVersion: number;
  /** Null: now. */
  readonly asKnownAt: string | null;
  /** What was found, or why it cannot be told. */
  readonly outcome: Run | Refused;
}

interface Run extends Detected {
  readonly notPlaced: Detection['notPlaced'];
}

/** Places for which other detections opened nothing, since some of these indications stood there; a place is as it is packed. */
const RESTING = `
select count(*)::int as places
  from detection d cross join lateral jsonb_array_elements(d.found) as place
 where d.string_id = $1 and d.id <> $2 and d.known_until is null and d.state = 'active' and place ->> 2 is null and place -> 3 ?| $3::text[]`;

/** More than a footage of samples can be. */
const LONGEST_MM = 2 ** 31;

/** The interval that a detection looks at; null for all. */
export const withinOf = ({ fromMm, toMm }: Pick<DetectionInput, 'fromMm' | 'toMm'>): Interval | null =>
  (fromMm == null && toMm == null ? null : { fromMm: fromMm ?? 0, toMm: toMm ?? LONGEST_MM });

const SEEN = ['id', 'version', 'stringId', 'ruleId', 'asKnownAt', 'saw', 'observedAt', 'enteredAt'] as const satisfies readonly (keyof Detection)[];

/** A detection without what it found. */
export type SeenDetection = Pick<Detection, (typeof SEEN)[number]>;

/** Which of what was found is asked for. */
export interface FoundQuestion {
  /** Number of the first, from 0. */
  readonly from: number;
  readonly limit: number;
  readonly asKnownAt: string | null;
}

@Injectable()
export class DetectionsService extends RecordsService<Detection, DetectionInput, DetectionContent> {
  readonly kind = 'detection';
  readonly entity = Detection;
  readonly input = DetectionInput;
  protected override readonly filters = { stringId: 'string_id', ruleId: 'rule_id' };
  protected override readonly constraints = {
    ck_detection_stays: { field: 'ruleId', limit: 'what was detected stays: enter another detection', code: 'contradiction' },
  };
  private readonly ran = new WeakMap<DetectionInput, Ran>();

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly rules: IndicationRulesService,
    private readonly channels: ChannelsService,
    private readonly channelsOf: LookedChannels,
    private readonly indications: IndicationsService,
    private readonly evaluations: IndicationEvaluationsService,
  ) {
    super(desk);
  }

  /** What the detections of a string known at `asKnownAt` saw, by when they were made, without what they found: that may be long. */
  async seenOn(stringId: string, asKnownAt: string | null): Promise<SeenDetection[]> {
    const known = asKnownAt === null ? null : '$2';
    const packedRows = this.desk.store.packed(this.entity, SEEN, { condition: "string_id = $1 and state = 'active'", order: 'observed_at, id', known });
    const { rows: [row] } = await run<{ seen: unknown[][] }>(this.desk.dataSource.manager, `select ${packedRows} as seen`, asKnownAt === null ? [stringId] : [stringId, asKnownAt]);
    return this.desk.store.unpack(this.entity, SEEN, row?.seen ?? []);
  }

  /** A page of what a detection found, from the place with this number on. Refuses with 404 when there was none. */
  async found(id: string, { from, limit, asKnownAt }: FoundQuestion): Promise<FoundPlacesAnswer> {
    const row = await this.row(id, asKnownAt);
    const { channels } = await this.rules.row(row.ruleId, null);
    const items = row.found.slice(from, from + limit).map((place) => foundAnswer(unpacked(place), row.saw, channels));
    return { detection: linkTo('detection', row, detectionLabel(row)), items, next: from + limit < row.foundCount ? String(from + limit) : null };
  }

  /** What a detection found where it opened an indication; null where it opened another one. */
  async foundFor(row: Detection, indicationId: string): Promise<FoundPlaceAnswer | null> {
    const place = row.found.map(unpacked).find((one) => one.indicationId === indicationId);
    return place === undefined ? null : foundAnswer(place, row.saw, (await this.rules.row(row.ruleId, null)).channels);
  }

  /** What two detections open must not be the same: they are written one after the other, and beside no new indication. */
  protected override lockOf({ stringId }: DetectionInput | Detection): WriteLock {
    return { about: stringId, mode: 'exclusive' };
  }

  /** Runs over the samples before anything is locked. A request that will be refused, or was answered before, runs over none. */
  protected override async prepare(input: DetectionInput, id: string): Promise<void> {
    const now = await this.desk.databaseNow();
    if (detectionFaults(input, now).length > 0 || (await this.desk.store.version(this.entity, id, 1)) !== null) return;
    const rule = (await this.rules.rowsByIds([input.ruleId], null)).get(input.ruleId);
    if (rule?.state !== 'active' || rule.stringId !== input.stringId) return;
    // Where another clock is played, now is when the transaction says that it is.
    const asKnownAt = input.asKnownAt ?? (this.desk.keepsDatabaseTime ? now : null);
    this.ran.set(input, { ruleVersion: rule.version, asKnownAt, outcome: await this.run(rule, withinOf(input), asKnownAt) });
  }

  /** What a rule finds, or why that cannot be told. */
  private async run(rule: IndicationRuleVersion, within: Interval | null, asKnownAt: string | null): Promise<Run | Refused> {
    try {
      const { channels, notPlaced } = await this.channelsOf.of(rule, within, asKnownAt);
      return { ...await detect(channels, rule), notPlaced };
    } catch (error) {
      if (error instanceof Refused) return error;
      if (error instanceof TooMuchFound) return tooMuch('ruleId', rule.id);
      throw error;
    }
  }

  protected async content(tx: Transaction, input: DetectionInput, current: Detection | null): Promise<Content<Detection>> {
    const { stringId, ruleId, fromMm = null, toMm = null } = input;
    const faults = current === null ? detectionFaults(input, await this.desk.databaseNow()) : changedRun(input, current);
    if (faults.length > 0) throw contradictory(faults);
    if (current !== null) {
      const { ruleVersion, asKnownAt, saw, notPlaced, found, foundCount, openedCount } = current;
      return { stringId, ruleId, fromMm, toMm, ruleVersion, asKnownAt, saw, notPlaced, found, foundCount, openedCount };
    }
    const [, rule] = await together([this.strings.named(tx, 'stringId', stringId), this.rules.namedOnString(tx, 'ruleId', ruleId, stringId)]);
    const { run: { saw, notPlaced, ...run }, asKnownAt } = ranBy(this.ran.get(input), rule);
    const found = settled(run.found, saw, await this.standing(tx, stringId), rule.channels.map(({ channelId }) => channelId), uuidv7);
    return {
      stringId, ruleId, fromMm, toMm, ruleVersion: rule.version, asKnownAt: asKnownAt ?? tx.knownAt, saw, notPlaced, found: found.map(packed), foundCount: found.length,
      openedCount: found.filter(({ indicationId }) => indicationId !== null).length,
    };
  }

  private async standing(tx: Transaction, stringId: string): Promise<Standing[]> {
    const rows = await this.indications.ofString(stringId, null, tx.manager);
    const evaluations = await this.evaluations.ofIndications(rows.map(({ id }) => id), null, tx.manager);
    return rows.map(({ id, channelIds, span }) => ({ id, channelIds, span, settledAt: settledAtOf(evaluations.get(id) ?? []) }));
  }

  protected override async afterWrite(tx: Transaction, row: Detection, before: Detection | null): Promise<void> {
    await super.afterWrite(tx, row, before);
    if (before !== null) return;
    const rule = await this.rules.named(tx, 'ruleId', row.ruleId);
    const channels = await this.channels.rowsByIds(rule.channels.map(({ channelId }) => channelId), null);
    const openings = row.found.map(unpacked).flatMap((place): Opening[] => {
      const worst = worstPart(place.parts, rule.channels);
      if (place.indicationId === null || worst === undefined) return [];
      const idOf = ({ channel: number }: FoundPart): string => rule.channels[number]?.channelId ?? '';
      const channelIds = [...new Set(place.parts.map(idOf))];
      const channel = channels.get(idOf(worst));
      return [{
        id: place.indicationId, fromMm: place.fromMm, toMm: place.toMm, channelIds, method: channel?.method ?? null,
        peak: worst.peak, peakUnit: channel?.unit ?? '', peakIsBound: worst.isBound,
      }];
    });
    await this.indications.open(tx, row, openings);
  }

  /** What it opened goes with it, unless somebody evaluated any of that, or another detection opened nothing because of it. */
  protected override async beforeVoid(tx: Transaction, { id, stringId }: Detection, reason: string): Promise<void> {
    const opened = await this.indications.ofDetection(id, tx.manager);
    const evaluated = await this.evaluations.ofIndications(opened.map((one) => one.id), null, tx.manager);
    if (evaluated.size > 0) {
      throw new Refused(409, 'held', `It cannot be withdrawn: ${evaluated.size} of the indications that it opened were evaluated. Withdraw the evaluations first.`);
    }
    const { rows: [resting] } = await run<{ places: number }>(tx.manager, RESTING, [stringId, id, opened.map((one) => one.id)]);
    if (resting !== undefined && resting.places > 0) {
      const places = resting.places === 1 ? '1 place' : `${resting.places} places`;
      throw new Refused(409, 'held', `It cannot be withdrawn: other detections found ${places} that its indications cover, and opened none there. Withdraw those detections first.`);
    }
    await this.indications.withdraw(tx, opened, `The detection that opened it was withdrawn: ${reason}`.slice(0, 2000));
  }

  protected present(row: Detection): DetectionContent {
    const { stringId, ruleId, fromMm, toMm, asKnownAt, ruleVersion, saw, notPlaced, foundCount, openedCount } = row;
    return { stringId, ruleId, fromMm, toMm, asKnownAt, ruleVersion, saw: [...saw], notPlaced: [...notPlaced], foundCount, openedCount };
  }
}

/** What was found with the rule as it stands. */
function ranBy(ran: Ran | undefined, rule: IndicationRuleVersion): { readonly run: Run; readonly asKnownAt: string | null } {
  if (ran?.ruleVersion !== rule.version) throw new Refused(409, 'in-progress', 'The rule was written at the same moment. Send the request again.');
  const { outcome, asKnownAt } = ran;
  if (outcome instanceof Refused) throw outcome;
  return { run: outcome, asKnownAt };
}

/** A rule that finds more than is kept. */
export const tooMuch = (field: string, value: string): Refused =>
  refusedField('too-much-found', field, value, `a rule that finds at most ${MOST_PARTS} indications: raise its thresholds, or look at less pipe`);

/** What a detection found at a place, with its channels and runs by their ids. */
export function foundAnswer({ fromMm, toMm, parts, indicationId, standing }: SettledPlace, saw: readonly Pick<SawStroke, 'runId'>[], channels: readonly Pick<RuleChannel, 'channelId'>[]): FoundPlaceAnswer {
  const told = parts.map(({ channel, stroke, ...part }) => ({ channelId: channels[channel]?.channelId ?? '', runId: saw[stroke]?.runId ?? '', ...part }));
  return { fromMm, toMm, parts: told, indicationId, standing: [...standing] };
}
