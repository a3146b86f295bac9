import { microseconds } from '#libs/persistence';
import type { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
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
   * little with the counter since; what could not be seen yet when a reaction was entered is not answered by it, however far that reaches.
   */
  to(limitsId: string, { shows, rule, at }: Pick<PlacedSignal, 'shows' | 'rule' | 'at'>): RecordLink[] {
    const [{ place, label }, since] = [at, seenSince(at, this.model)];
    const couldSee = ({ knownFrom }: ChartReaction): boolean => since === null || microseconds(since) <= microseconds(knownFrom);
    return this.reactions.filter((row) => row.limitsId === limitsId && couldSee(row) && row.answers.some((answer) => answer.panel === shows && answer.rule === ruleName(rule)
      && (place === null ? answer.label === label : answer.fromMm !== null && answer.toMm !== null && meets({ fromMm: answer.fromMm, toMm: answer.toMm }, place))))
      .map((row) => linkOf(CHART_REACTIONS, row));
  }
}
