import type { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import { CHART_REACTIONS, linkOf } from '../recall/record-kinds.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { ruleName } from './chart-design.js';
import type { PlacedSignal } from './chart-signals.js';
import { meets } from './row-places.js';

/** The reactions on record, by the signals that they answer. */
export class AnsweredSignals {
  constructor(private readonly reactions: readonly ChartReaction[]) {}

  /** Those to a signal against limits: of its panel and rule, at its place, or about what is called the same. Places may have moved a little with the counter since. */
  to(limitsId: string, { shows, rule, at: { place, label } }: Pick<PlacedSignal, 'shows' | 'rule' | 'at'>): RecordLink[] {
    return this.reactions.filter((row) => row.limitsId === limitsId && row.answers.some((answer) => answer.panel === shows && answer.rule === ruleName(rule)
      && (place === null ? answer.label === label : answer.fromMm !== null && answer.toMm !== null && meets({ fromMm: answer.fromMm, toMm: answer.toMm }, place))))
      .map((row) => linkOf(CHART_REACTIONS, row));
  }
}
