import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { ChannelsService } from '../channels/channels.service.js';
import { detect, TooMuchFound } from '../detections/detection-run.js';
import { detectionLabel } from '../detections/detection-label.js';
import { DetectionsService, foundAnswer, tooMuch, withinOf } from '../detections/detections.service.js';
import type { NotPlacedAnswer } from '../detections/detection.dto.js';
import { unpacked } from '../detections/found-place.js';
import { LookedChannels } from '../detections/looked-channels.service.js';
import { contradictory, refusedField } from '../http/problem.js';
import { evaluationLabel } from '../indication-evaluations/indication-evaluation-label.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import type { IndicationRuleVersion, RuleChannel } from '../indication-rules/indication-rule.entity.js';
import { ruleFaults, ruleName } from '../indication-rules/indication-rule.rules.js';
import { IndicationRulesService } from '../indication-rules/indication-rules.service.js';
import { indicationLabel } from '../indications/indication-label.js';
import { IndicationsService } from '../indications/indications.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { compared, counted, evaluatedOf, type EvaluatedPlace, type Side } from './compared.js';
import type { DetectionDifferenceAnswer, DifferenceSideAnswer, EvaluatedThereAnswer } from './detection-difference.dto.js';
import type { DifferenceQuestion, Trial } from './difference-question.js';

const CAUTIONS = [
  'A trial writes nothing, and no difference changes an indication that stands: what was evaluated stays as it was evaluated.',
  'Footage is as the samples were placed when each side was run; where a counter was corrected in between, places have moved with it.',
  'What was not looked at is in neither side: see what the detections saw.',
];

/** A side with what is told of it. */
interface ToldSide extends Side {
  readonly rule: IndicationRuleVersion;
  readonly channels: readonly RuleChannel[];
  readonly detection: RecordLink | null;
  readonly notPlaced: readonly NotPlacedAnswer[];
  /** The pipe that it was to look at; null for all. */
  readonly within: Interval | null;
}

interface Evaluated extends EvaluatedPlace {
  readonly told: EvaluatedThereAnswer;
}

/** What another rule, or other levels, make of the samples of a string. Writes nothing. */
@Injectable()
export class DetectionDifferences {
  constructor(
    private readonly strings: CasingStringsService,
    private readonly rules: IndicationRulesService,
    private readonly channels: ChannelsService,
    private readonly detections: DetectionsService,
    private readonly channelsOf: LookedChannels,
    private readonly indications: IndicationsService,
    private readonly evaluations: IndicationEvaluationsService,
  ) {}

  /** Between two detections, or of a trial. Refuses with 404 what was not known, with 422 what is of another string or does not go together. */
  async of(stringId: string, { of, within, asKnownAt, limit }: DifferenceQuestion): Promise<DetectionDifferenceAnswer> {
    const string = await this.strings.open(stringId, asKnownAt);
    const sides: readonly [ToldSide, ToldSide] = 'trial' in of
      ? await this.tried(stringId, of.trial, within, asKnownAt)
      : [await this.recorded(stringId, 'before', of.before, asKnownAt), await this.recorded(stringId, 'after', of.after, asKnownAt)];
    const both = commonOf(sides[0].within, sides[1].within);
    const inBoth = (side: ToldSide): ToldSide => ({ ...side, found: side.found.filter((place) => meets(place, both)) });
    const [before, after] = [inBoth(sides[0]), inBoth(sides[1])];
    const outside = sides[0].found.length + sides[1].found.length - before.found.length - after.found.length;
    const evaluated = await this.evaluated(stringId, new Set([...before.channels, ...after.channels].map(({ channelId }) => channelId)), both, asKnownAt);
    const differences = compared(before, after);
    const { there, notFound } = evaluatedOf(differences, evaluated);
    const names = await this.channelLinks([...before.channels, ...after.channels]);
    const places = differences.slice(0, limit).map(({ change, before: then, after: now }, index) => ({
      change, before: then.map((one) => ({ ...one, parts: [...one.parts] })), after: now.map((one) => ({ ...one, parts: [...one.parts] })),
      evaluated: (there[index] ?? []).map(({ told }) => told),
    }));
    return {
      string: linkTo('casing-string', string, string.name), asKnownAt, before: sideAnswer(sides[0], names), after: sideAnswer(sides[1], names), counts: counted(differences),
      places, left: differences.length - places.length, notFound: notFound.map(({ told }) => told),
      cautions: outside === 0 ? CAUTIONS : [notCompared(outside), ...CAUTIONS],
    };
  }

  private async recorded(stringId: string, field: string, id: string, asKnownAt: string | null): Promise<ToldSide> {
    const row = await this.detections.row(id, asKnownAt);
    if (row.stringId !== stringId) throw refusedField('other-string', field, id, 'a detection of this string');
    const rule = await this.rules.row(row.ruleId, null);
    const found = row.found.map((place) => sidePlace(foundAnswer(unpacked(place), row.saw, rule.channels)));
    return { rule, channels: rule.channels, detection: linkTo('detection', row, detectionLabel(row)), notPlaced: row.notPlaced, isApart: rule.jointMm === null, found, within: withinOf(row) };
  }

  private async tried(stringId: string, trial: Trial, within: Interval | null, asKnownAt: string | null): Promise<[ToldSide, ToldSide]> {
    const rule = await this.rules.row(trial.ruleId, asKnownAt);
    if (rule.stringId !== stringId) throw refusedField('other-string', 'ruleId', rule.id, 'a rule of this string');
    const channels = triedChannels(rule, trial);
    return [await this.run(rule, rule.channels, within, asKnownAt), await this.run(rule, channels, within, asKnownAt)];
  }

  private async run(rule: IndicationRuleVersion, channels: readonly RuleChannel[], within: Interval | null, asKnownAt: string | null): Promise<ToldSide> {
    const looked = await this.channelsOf.of({ ...rule, channels }, within, asKnownAt);
    try {
      const { saw, found } = await detect(looked.channels, rule);
      const places = found.map((place) => sidePlace(foundAnswer({ ...place, indicationId: null, standing: [] }, saw, channels)));
      return { rule, channels, detection: null, notPlaced: looked.notPlaced, isApart: rule.jointMm === null, found: places, within };
    } catch (error) {
      throw error instanceof TooMuchFound ? tooMuch('threshold', channels.map(({ threshold }) => threshold).join(', ')) : error;
    }
  }

  /** Indications of some channels that were evaluated, by footage. */
  private async evaluated(stringId: string, channelIds: ReadonlySet<string>, within: Interval | null, asKnownAt: string | null): Promise<Evaluated[]> {
    const [rows, evaluations] = await Promise.all([this.indications.ofString(stringId, asKnownAt), this.evaluations.ofString(stringId, asKnownAt)]);
    return rows.flatMap((row): Evaluated[] => {
      const last = evaluations.get(row.id)?.at(-1);
      const { fromMm, toMm } = row.span;
      if (last === undefined || !meets(row.span, within) || !row.channelIds.some((id) => channelIds.has(id))) return [];
      const told = {
        indication: linkTo('indication', row, indicationLabel(row)), evaluation: linkTo('indication-evaluation', last, evaluationLabel(last)), verdict: last.verdict,
        footage: { fromMm, toMm },
      };
      return [{ fromMm, toMm, channelIds: row.channelIds, told }];
    });
  }

  private async channelLinks(channels: readonly RuleChannel[]): Promise<ReadonlyMap<string, RecordLink>> {
    const rows = await this.channels.rowsByIds(channels.map(({ channelId }) => channelId), null);
    return new Map([...rows.values()].map((row) => [row.id, linkTo('channel', row, row.name)]));
  }
}

const meets = ({ fromMm, toMm }: Interval, within: Interval | null): boolean =>
  within === null || Math.max(fromMm, within.fromMm) < Math.min(toMm, within.toMm);

/** The pipe that two sides were both to look at: elsewhere what one of them found neither appeared nor vanished. May be empty. */
function commonOf(one: Interval | null, other: Interval | null): Interval | null {
  if (one === null || other === null) return one ?? other;
  return { fromMm: Math.max(one.fromMm, other.fromMm), toMm: Math.min(one.toMm, other.toMm) };
}

const notCompared = (places: number): string =>
  `${places === 1 ? '1 place lies' : `${places} places lie`} in pipe that only one of the two was to look at: found by that one, and not compared.`;

const sidePlace = ({ fromMm, toMm, parts }: Side['found'][number]): Side['found'][number] => ({ fromMm, toMm, parts });

/** The channels of a rule with the levels that are tried. Refuses (422) a channel that is none of it, and a release level beyond the threshold. */
function triedChannels(rule: IndicationRuleVersion, { channelId, threshold, release }: Trial): RuleChannel[] {
  if (channelId !== null && !rule.channels.some((one) => one.channelId === channelId)) throw refusedField('contradiction', 'channelId', channelId, 'a channel of the rule');
  const channels = rule.channels.map((one) => (channelId === null || one.channelId === channelId
    ? { ...one, threshold: threshold ?? one.threshold, release: release ?? one.release } : one));
  const [fault] = ruleFaults({ channels: channels.map((one) => ({ ...one })), jointMm: rule.jointMm });
  if (fault !== undefined) throw contradictory([{ field: 'release', value: fault.value, limit: fault.limit }]);
  return channels;
}

function sideAnswer({ rule, channels, detection, found, notPlaced }: ToldSide, names: ReadonlyMap<string, RecordLink>): DifferenceSideAnswer {
  const levels = channels.flatMap(({ channelId, threshold, release }) => {
    const channel = names.get(channelId);
    return channel === undefined ? [] : [{ channel, threshold, release }];
  });
  return { rule: linkTo('indication-rule', rule, ruleName(rule)), detection, levels, foundCount: found.length, notPlaced: [...notPlaced] };
}
