import { IntersectionType, OmitType } from '@nestjs/swagger';
import { PANEL_SHOWS, type PanelShows } from '#libs/charting';
import { SIGNAL_RULES, type SignalRuleName } from '../charting/chart-design.js';
import { Choice, Id, Measured, Parts, Text, Texts, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { REACTIONS, SIGNAL_READINGS } from './chart-reaction.entity.js';

const FOOTAGE = { min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true };

/** A signal that is answered, as the chart tells it. */
export class AnsweredSignalPart {
  @Choice({ description: 'The panel in which it signals.', example: 'means', of: PANEL_SHOWS })
  panel!: PanelShows;

  @Choice({ description: 'The rule by which it does.', example: 'one-beyond-3-sigma', of: SIGNAL_RULES })
  rule!: SignalRuleName;

  @Whole({ description: 'Footage where the point begins at which it signals; null of a point that has no place on the pipe.', example: 212_000, ...FOOTAGE })
  fromMm?: number | null;

  @Whole({ description: 'Footage where it ends; half-open.', example: 214_000, ...FOOTAGE })
  toMm?: number | null;

  @Text({ description: 'What the point is called, such as the number of a coil; needed where it has no place.', example: null, max: 200, optional: true })
  label?: string | null;
}

/** What was done about signals of a control chart. `doneBy` did it, `observedAt` says when. */
export class ChartReactionInput extends StringRecordInput {
  @Id({ description: 'The control chart.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1ba0' })
  chartId!: string;

  @Id({ description: 'The limits of the chart against which it signals.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1ba1' })
  limitsId!: string;

  @Parts({ description: 'The signals that are answered.', of: () => AnsweredSignalPart, min: 1, max: 100 })
  answers!: AnsweredSignalPart[];

  @Choice({ description: 'Whether the reading was found to be real.', example: 'real', of: SIGNAL_READINGS })
  reading!: (typeof SIGNAL_READINGS)[number];

  @Measured({ description: 'What was read when it was repeated, digits as read, in the unit of the chart.', example: '127.42', min: -1e9, max: 1e9, unit: 'in the unit of the chart', optional: true })
  repeatedValue?: string | null;

  @Id({ description: 'The instrument that it was repeated with; only beside a repeated value.', example: null, optional: true })
  repeatedWithInstrumentId?: string | null;

  @Text({ description: 'Why it was not repeated, as the reaction plan of the chart asks for; only and always where there is no repeated value.', example: null, max: 500, optional: true })
  notRepeatedBecause?: string | null;

  @Whole({ description: 'Footage from which on pipe was marked to be watched: from the last good point on.', example: 210_000, ...FOOTAGE })
  watchFromMm?: number | null;

  @Whole({ description: 'Footage up to which it was; half-open.', example: 214_000, ...FOOTAGE })
  watchToMm?: number | null;

  @Texts({ description: 'The causes that were looked at.', example: ['Sizing rolls worn or moved'], max: 20, each: 200 })
  causesLookedAt!: string[];

  @Text({ description: 'The cause that was found; null where none was.', example: 'Last sizing stand had moved', max: 1000, optional: true })
  cause?: string | null;

  @Choice({ description: 'What followed.', example: 'adjusted', of: REACTIONS })
  action!: (typeof REACTIONS)[number];

  @Text({ description: 'What was done, in words; needed where the line was adjusted or stopped.', example: 'Last sizing stand closed by 0.15 mm', max: 2000, optional: true })
  did?: string | null;

  @Id({ description: 'The nonconformance that it led to; only and always where one followed.', example: null, optional: true })
  nonconformanceId?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The reaction's own fields of an answer. */
export class ChartReactionContent extends OmitType(ChartReactionInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ChartReactionAnswer extends IntersectionType(RecordAnswer, ChartReactionContent) {}
