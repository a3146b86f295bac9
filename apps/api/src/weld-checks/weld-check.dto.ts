import { VERDICTS, type Verdict } from '#libs/conformity';
import { HEAT_INPUT_METHODS, type HeatInputMethod } from '#libs/welding';
import { Choice, Computed, Part, Parts, Text, YesNo } from '../http/fields.js';
import { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import { QualifiedAnswer } from '../qualified/qualified.dto.js';
import { RecordLink } from '../trace/trace.dto.js';

const LINE_VERDICTS = [...VERDICTS, 'not-limited'] as const;

/** One value or choice beside what the procedure allows. */
export class ProcedureLineAnswer {
  @Text({ description: 'The variable or choice.', example: 'current', max: 60 })
  subject!: string;

  @Text({ description: 'In plain words.', example: 'welding current, mean', max: 200 })
  name!: string;

  @Text({ description: 'What the procedure allows; null where it says nothing.', example: '180 to 220 A', max: 1000, optional: true })
  limits!: string | null;

  @Text({ description: 'What was reported; null when nothing was.', example: '205 A', max: 200, optional: true })
  reported!: string | null;

  @Choice({ description: 'not-limited: the procedure asks nothing of it.', example: 'conforms', of: LINE_VERDICTS })
  verdict!: Verdict | 'not-limited';

  @Text({ description: 'Distance to the nearest limit, positive inside.', example: '15', max: 60, optional: true })
  margin!: string | null;

  @Text({ description: 'What decided.', example: 'WP-7 rev 1: current 180 to 220 A', max: 1000 })
  decidedBy!: string;

  @Text({ description: 'The rule.', example: "both limits included; a procedure's window is not widened by uncertainty", max: 1000 })
  rule!: string;

  @Text({ description: 'Why it does not conform, or was not held against anything.', example: null, max: 1000, optional: true })
  reason!: string | null;
}

/** Energy per length of weld, by one method. */
export class HeatInputAnswer {
  @Choice({ description: 'The method, each with its own name: the figures differ.', example: 'heat-input-en', of: HEAT_INPUT_METHODS })
  method!: HeatInputMethod;

  @Computed({ description: 'kJ/mm; null when it cannot be computed.', example: 0.79, optional: true })
  kjPerMm!: number | null;

  @Text({ description: 'Formula and source, or why it cannot be computed.', example: 'Q = k·U·I/v (EN 1011-1)', max: 1000 })
  because!: string;
}

/** Something that a weld does not rest on as it should. */
export class WeldOpenPoint {
  @Choice({ description: 'What it is about.', example: 'instrument', of: ['procedure', 'welder', 'instrument'] })
  about!: 'procedure' | 'welder' | 'instrument';

  @Text({ description: 'In words.', example: 'readings[0] names no instrument on record', max: 4000 })
  words!: string;
}

/** What a weld rests on, when it was made. */
export class WeldCheckAnswer {
  @Part({ description: 'The weld.', of: () => RecordLink })
  weld!: RecordLink;

  @Part({ description: 'The procedure.', of: () => RecordLink })
  procedure!: RecordLink;

  @Choice({ description: 'The worst of the lines, never an average.', example: 'conforms', of: VERDICTS })
  verdict!: Verdict;

  @Parts({ description: 'Value by value.', of: () => ProcedureLineAnswer, max: 500 })
  lines!: ProcedureLineAnswer[];

  @Parts({ description: 'Heat input, by each method that has what it needs, or why not.', of: () => HeatInputAnswer, max: 10 })
  heatInputs!: HeatInputAnswer[];

  @Part({ description: 'Whether the welder was qualified for it that day.', of: () => QualifiedAnswer })
  welder!: QualifiedAnswer;

  @Parts({ description: 'Whether the instruments were good that day.', of: () => InstrumentStandingAnswer, max: 100 })
  instruments!: InstrumentStandingAnswer[];

  @YesNo({ description: 'Nothing is open: procedure qualified, in force and kept, welder qualified, every reading from a good instrument.', example: false })
  isProved!: boolean;

  @Parts({ description: 'What is open.', of: () => WeldOpenPoint, max: 200 })
  open!: WeldOpenPoint[];

  @Text({ description: 'What this answer is, and is not.', example: 'It shows whether the procedure was kept, not whether the weld is sound.', max: 400 })
  caution!: string;
}
