import { microseconds } from '#libs/persistence';
import type { AnsweredSignal, ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import type { StringModel } from '../line/length-models.service.js';
import { CHART_REACTIONS, linkOf } from '../recall/record-kinds.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { ruleName } from './chart-design.js';
import type { PlacedSignal } from './chart-signals.js';
import { meets } from './row-places.js';
import { seenSince } from './since-when.js';

/** The reactions on record, by the signals that they answer. */
export class AnsweredSignals {
  constructor(
    private readonly reactions: readonly ChartReaction[],
    private readonly model: Pick<StringModel, 'lengths'>,
  ) {}

  /**
   * Those to a signal against limits: of its panel and rule, at its place, or about what is called the same. Places may have moved a
   * little with the counter since; what could not be seen yet when a reaction was entered is not answered by it, and one answer
   * is about one point, however far it reaches.
   */
  to(limitsId: string, { shows, rule, at }: Pick<PlacedSignal, 'shows' | 'rule' | 'at'>): RecordLink[] {
    const since = seenSince(at, this.model);
    const couldSee = ({ knownFrom }: ChartReaction): boolean => since === null || microseconds(since) <= microseconds(knownFrom);
    return this.reactions.filter((row) => row.limitsId === limitsId && couldSee(row) && row.answers.some((answer) => answer.panel === shows && answer.rule === ruleName(rule) && isAbout(answer, at)))
      .map((row) => linkOf(CHART_REACTIONS, row));
  }
}

/** Whoever answers gives the place of the point, or one hardly wider. Our own choice. */
const WIDTHS_AT_MOST = 2;
const MM_MORE_AT_MOST = 100;

function isAbout({ fromMm, toMm, label }: AnsweredSignal, { place, label: called }: PlacedSignal['at']): boolean {
  if (place === null) return label === called;
  return fromMm !== null && toMm !== null && toMm - fromMm <= WIDTHS_AT_MOST * (place.toMm - place.fromMm) + MM_MORE_AT_MOST && meets({ fromMm, toMm }, place);
}
