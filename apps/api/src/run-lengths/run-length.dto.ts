import { Choice, Computed, Parts, Texts } from '../http/fields.js';
import { CHART_RULES } from '../control-charts/control-chart-plan.js';
import { RUN_LENGTH_CHARTS } from './run-length-question.js';

/** How long a chart takes to signal when the process has moved so far. */
export class RunLengthPart {
  @Computed({ description: 'Standard deviations of the plotted value by which the process has moved.', example: 1 })
  shift!: number;

  @Computed({ description: 'Points until a signal, on average; with a shift of 0 until a false alarm.', example: 43.9 })
  points!: number;

  @Computed({ description: 'Minutes until a signal from any of the charts, on average; absent where no pace was given. Of several charts it is for false alarms alone.', example: null, optional: true })
  minutes!: number | null;
}

/** What a choice of chart and rules costs in false alarms, and how soon it sees a change. */
export class RunLengthAnswer {
  @Choice({ description: 'The chart.', example: 'shewhart', of: RUN_LENGTH_CHARTS })
  chart!: (typeof RUN_LENGTH_CHARTS)[number];

  @Texts({ description: 'Its rules, of a Shewhart chart.', example: ['one-beyond-3-sigma'], max: Object.keys(CHART_RULES).length, each: 60 })
  rules!: string[];

  @Parts({ description: 'By shift, in control first.', of: () => RunLengthPart, max: 10, example: [{ shift: 0, points: 370.4, minutes: null }] })
  lengths!: RunLengthPart[];

  @Texts({ description: 'How it was worked out, with sources.', example: ['Exact, by the Markov chain of the rules.'], max: 5, each: 400 })
  method!: string[];

  @Texts({ description: 'What to mind.', example: ['The true limits were taken as known.'], max: 10, each: 400 })
  cautions!: string[];
}
