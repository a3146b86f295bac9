import { CHART_KINDS, PANEL_SHOWS, WARNING_CODES, type ChartKind, type ChartWarning, type PanelShows } from '#libs/charting';
import { ChartSpecificationPart, ReactionPlanPart } from '../control-charts/control-chart.dto.js';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { Anything, Choice, Computed, Figures, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { SIGNAL_RULES, type SignalRuleName } from './chart-design.js';

const MOST = 1_000_000;

/** How far points that follow each other resemble each other. */
export class LagOneAnswer {
  @Computed({ description: 'Autocorrelation at lag 1, within one stretch.', example: 0.62 })
  phi!: number;

  @Computed({ description: 'Pairs of neighbours it is from.', example: 180 })
  pairs!: number;

  @Computed({ description: 'Lower end of the 95 % confidence interval, approximate.', example: 0.5 })
  from!: number;

  @Computed({ description: 'Upper end.', example: 0.74 })
  to!: number;

  @Computed({ description: 'Independent points give one this near to 0 in 95 % of all cases.', example: 0.146 })
  independentWithin!: number;
}

/** What is to be minded of a chart. */
export class ChartWarningAnswer {
  @Choice({ description: 'Which.', example: 'correlated', of: WARNING_CODES })
  code!: ChartWarning['code'];

  @Text({ description: 'In words.', example: 'Limits from 12 points are uncertain; at least 20 points are usual (common practice, no published source).', max: 2000 })
  text!: string;
}

/** A point of a chart, with its readings. */
export class ChartPointAnswer {
  @Computed({ description: 'Footage where it begins, mm; null of what has no place on the pipe.', example: 12_000, optional: true })
  fromMm!: number | null;

  @Computed({ description: 'Footage where it ends, mm.', example: 16_000, optional: true })
  toMm!: number | null;

  @Text({ description: 'What people call it; empty where the place says it all.', example: 'S-3', max: 400, min: 0 })
  label!: string;

  @Text({ description: 'The coil.', example: 'LM-03', max: 60, optional: true })
  coil!: string | null;

  @Figures({ description: 'Its readings, in the unit of the chart; of counts the count.', example: [5.02, 5.01], max: 1000 })
  values!: number[];

  @Computed({ description: 'Of counts: of how many items, or of how much pipe in m.', example: null, optional: true })
  of!: number | null;

  @YesNo({ description: 'Something else begins before it, as after a splice, stop, change of set-up or check: no pattern reaches across.', example: false })
  beginsAnew!: boolean;

  @YesNo({ description: 'Limits were taken without it.', example: false })
  isRemoved!: boolean;

  @Figures({ description: 'The records of its readings, as places in `records`, from 0.', example: [0, 1], max: 10_000 })
  by!: number[];
}

/** A point of a panel with the limits that hold for it. */
export class PanelPointAnswer {
  @Computed({ description: 'The first point that it is made of, from 0.', example: 0 })
  from!: number;

  @Computed({ description: 'The last.', example: 0 })
  to!: number;

  @Computed({ description: 'What is plotted.', example: 5.015 })
  value!: number;

  @Computed({ description: 'Centre line.', example: 5.01 })
  centre!: number;

  @Computed({ description: 'Lower control limit; null where nothing signals on that side.', example: 4.98, optional: true })
  lower!: number | null;

  @Computed({ description: 'Upper control limit.', example: 5.04, optional: true })
  upper!: number | null;

  @Computed({ description: 'Standard error that rules of zones count in; null where limits are by probability.', example: 0.01, optional: true })
  standardError!: number | null;
}

export class ChartPanelAnswer {
  @Choice({ description: 'What it shows.', example: 'means', of: PANEL_SHOWS })
  shows!: PanelShows;

  @Parts({ description: 'Its points, in order.', of: () => PanelPointAnswer, max: MOST })
  points!: PanelPointAnswer[];
}

/** A signal with what it asks for. */
export class ChartSignalAnswer {
  @Choice({ description: 'The panel.', example: 'means', of: PANEL_SHOWS })
  panel!: PanelShows;

  @Choice({ description: 'The rule.', example: 'one-beyond-3-sigma', of: SIGNAL_RULES })
  rule!: SignalRuleName;

  @Part({ description: 'The point at which it signals.', of: () => IntervalAnswer, optional: true })
  place!: IntervalAnswer | null;

  @Text({ description: 'What people call that point.', example: 'S-3', max: 400, min: 0 })
  label!: string;

  @Part({ description: 'All pipe of the pattern.', of: () => IntervalAnswer, optional: true })
  pattern!: IntervalAnswer | null;

  @Part({ description: 'Pipe to mark as watched: from the last good point on.', of: () => IntervalAnswer, optional: true })
  watch!: IntervalAnswer | null;

  @When({ description: 'Since when it could be seen: the last of its readings, or when its pipe was welded; null where nothing tells.', example: '2026-03-02T15:10:00.000000Z', optional: true })
  since!: string | null;

  @Computed({ description: 'Minutes from then to the knowledge of this answer.', example: 42, optional: true })
  ageMinutes!: number | null;

  @Parts({ description: 'The reactions on record to it; none: it waits for one.', of: () => RecordLink, max: 1000 })
  reactions!: RecordLink[];

  @Figures({ description: 'The records of its readings, as places in `records` of the whole answer, from 0.', example: [0], max: 10_000 })
  by!: number[];
}

/** A reading that is not as specified. */
export class OutOfSpecificationAnswer {
  @Part({ description: 'Where.', of: () => IntervalAnswer, optional: true })
  place!: IntervalAnswer | null;

  @Text({ description: 'What people call it.', example: 'S-3', max: 400, min: 0 })
  label!: string;

  @Computed({ description: 'The reading.', example: 4.71 })
  value!: number;

  @Choice({ description: 'Beyond which limit.', example: 'below', of: ['below', 'above'] })
  side!: 'below' | 'above';

  @Parts({ description: 'Its records.', of: () => RecordLink, max: 10_000 })
  records!: RecordLink[];
}

/** A chart that would do better. */
export class BetterChartAnswer {
  @Choice({ description: 'Which.', example: 'residuals', of: CHART_KINDS })
  chart!: ChartKind;

  @Anything({ description: 'The figures that its trial limits stand on.', example: {} })
  figures!: unknown;

  @Parts({ description: 'The same points on it.', of: () => ChartPanelAnswer, max: 3 })
  panels!: ChartPanelAnswer[];

  @Computed({ description: 'How many signals it has.', example: 0 })
  signals!: number;

  @Parts({ description: 'What is to be minded of it in its turn.', of: () => ChartWarningAnswer, max: 20 })
  warnings!: ChartWarningAnswer[];
}

/** Pipe held against one set of limits. */
export class ChartPartAnswer extends IntervalAnswer {
  @Part({ description: 'The limits; null: trial limits, from these points.', of: () => RecordLink, optional: true })
  limits!: RecordLink | null;

  @Choice({ description: 'Its chart, as the limits froze it.', example: 'mean-deviation', of: CHART_KINDS })
  chart!: ChartKind;

  @Anything({ description: 'The plan that the limits froze: with the figures and the points all that is needed to compute it again.', example: {} })
  plan!: unknown;

  @Anything({ description: 'The figures that the limits stand on.', example: {} })
  figures!: unknown;

  @Part({ description: 'The correlation of neighbours; null where the points are too few.', of: () => LagOneAnswer, optional: true })
  lagOne!: LagOneAnswer | null;

  @Parts({ description: 'What is to be minded.', of: () => ChartWarningAnswer, max: 20 })
  warnings!: ChartWarningAnswer[];

  @Part({ description: 'The chart that would do better; null where nothing speaks against this one, or none can be drawn.', of: () => BetterChartAnswer, optional: true })
  better!: BetterChartAnswer | null;

  @Parts({ description: 'Its points; those before the interval are there because patterns reach into it.', of: () => ChartPointAnswer, max: MOST })
  points!: ChartPointAnswer[];

  @Computed({ description: 'Pipe of the interval between the readings that is not left out either, mm: nobody looked at it for this chart, and it is not watched. 0 of readings that are not of any pipe.', example: 360_000 })
  betweenMm!: number;

  @Parts({ description: 'The charts of them, one below the other.', of: () => ChartPanelAnswer, max: 3 })
  panels!: ChartPanelAnswer[];

  @Parts({ description: 'The signals at points of the interval.', of: () => ChartSignalAnswer, max: MOST })
  signals!: ChartSignalAnswer[];

  @Parts({ description: 'Readings beyond the specification.', of: () => OutOfSpecificationAnswer, max: MOST })
  outOfSpecification!: OutOfSpecificationAnswer[];
}

/** Readings that entered no chart. */
export class LeftOutAnswer {
  @Part({ description: 'Where.', of: () => IntervalAnswer, optional: true })
  place!: IntervalAnswer | null;

  @Text({ description: 'Why.', example: 'within 0.300 m of a splice', max: 400 })
  because!: string;

  @Parts({ description: 'Their records.', of: () => RecordLink, max: 10_000 })
  records!: RecordLink[];
}

export class ControlChartViewAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @Part({ description: 'The chart.', of: () => RecordLink })
  chart!: RecordLink;

  @Text({ description: 'Its title.', example: 'Wall thickness, UT-wall', max: 200 })
  title!: string;

  @Text({ description: 'The unit of its readings.', example: 'mm', max: 20 })
  unit!: string;

  @Part({ description: 'Footage, mm.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @When({ description: 'Whose knowledge it is.', example: '2026-03-02T15:10:00.000000Z' })
  knownAt!: string;

  @Part({ description: 'The specification, which is no control limit; null without one.', of: () => ChartSpecificationPart, optional: true })
  specification!: ChartSpecificationPart | null;

  @Part({ description: 'What to do at a signal.', of: () => ReactionPlanPart })
  reaction!: ReactionPlanPart;

  @Parts({ description: 'For each of the limits that hold there.', of: () => ChartPartAnswer, max: 10_000 })
  parts!: ChartPartAnswer[];

  @Parts({ description: 'The records of all readings, each once.', of: () => RecordLink, max: MOST })
  records!: RecordLink[];

  @Parts({ description: 'Pipe that no limits hold for: nothing is watched there.', of: () => IntervalAnswer, max: 100_000 })
  withoutLimits!: IntervalAnswer[];

  @Parts({ description: 'Readings beyond the specification on that pipe.', of: () => OutOfSpecificationAnswer, max: MOST })
  outOfSpecificationWithoutLimits!: OutOfSpecificationAnswer[];

  @Parts({ description: 'Readings that entered no chart, and why.', of: () => LeftOutAnswer, max: MOST })
  leftOut!: LeftOutAnswer[];

  @Part({ description: 'Pipe that a nonconformance is proposed for: that of readings beyond the specification, and of nothing else.', of: () => MetresAnswer })
  proposesNonconformance!: MetresAnswer;

  @Texts({ description: 'What to keep in mind.', example: ['A point within its limits says that the process is as it was, not that the pipe is good.'], max: 20, each: 1000 })
  cautions!: string[];
}
