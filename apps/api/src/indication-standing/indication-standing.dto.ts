import { Choice, Computed, Id, Measured, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { FoundPlaceAnswer } from '../detections/detection.dto.js';
import { EVALUATION_VERDICTS, NOT_RELEVANT_CAUSES, PERSON_LEVELS } from '../indication-evaluations/indication-evaluation.dto.js';
import { ORIGINS } from '../indications/indication.dto.js';
import { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import { QualifiedAnswer } from '../qualified/qualified.dto.js';
import { TimeLeftAnswer } from '../time-left/time-left.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

const ANY = { min: -1e9, max: 1e9, unit: 'in its unit' };

/** An indication as lists show it. */
export class IndicationShown {
  @Part({ description: 'The indication.', of: () => RecordLink })
  indication!: RecordLink;

  @Choice({ description: 'Found in samples, or seen by a person.', example: 'detected', of: ORIGINS })
  origin!: (typeof ORIGINS)[number];

  @Part({ description: 'Its footage, mm.', of: () => IntervalAnswer })
  footage!: IntervalAnswer;

  @Text({ description: 'The imperfection it is taken for.', example: null, max: 80, optional: true })
  imperfection!: string | null;

  @Measured({ description: 'Its greatest value beyond the threshold.', example: '78.4', ...ANY, optional: true })
  peak!: string | null;

  @Text({ description: 'The unit of the peak.', example: '%', max: 20, optional: true })
  peakUnit!: string | null;

  @YesNo({ description: 'The peak is a bound: the true one is at least as bad.', example: false, optional: true })
  peakIsBound!: boolean | null;
}

/** An indication that nothing settles yet. */
export class OpenIndicationAnswer extends IndicationShown {
  @Text({ description: 'Why it is open.', example: 'nobody evaluated it', max: 500 })
  because!: string;

  @Computed({ description: 'Evaluations that stand.', example: 0 })
  evaluations!: number;

  @Part({ description: 'What is left to the hang-off.', of: () => TimeLeftAnswer })
  timeLeft!: TimeLeftAnswer;
}

/** A page of the open indications of a string. */
export class OpenIndicationsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'The moment for which the time left is told.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Computed({ description: 'Open ones that have not passed the hang-off.', example: 4 })
  ahead!: number;

  @Computed({ description: 'Open ones that have passed it: nothing more can be done on the line.', example: 1 })
  past!: number;

  @Computed({ description: 'How many more lie wholly in pipe that was cut out, and are left out.', example: 0 })
  cutOut!: number;

  @Parts({ description: 'Those that get to the hang-off first come first; those that have passed it come after all others.', of: () => OpenIndicationAnswer, max: 500 })
  items!: OpenIndicationAnswer[];

  @Text({ description: 'Ask for the next page with `after`.', example: null, max: 20, optional: true })
  next!: string | null;

  @Texts({ description: 'What to bear in mind.', example: ['What nobody detected or entered is not in this list.'], max: 10, each: 500 })
  cautions!: string[];
}

/** What a person made of it, and what that rests on. */
export class EvaluationStandingAnswer {
  @Part({ description: 'The evaluation.', of: () => RecordLink })
  evaluation!: RecordLink;

  @When({ description: 'When it was decided.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Id({ description: 'Who evaluated.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  doneBy!: string;

  @Text({ description: 'The same by name.', example: 'Ilka Brandt', max: 200 })
  doneByName!: string;

  @Choice({ description: 'The level at which the person evaluated.', example: '2', of: PERSON_LEVELS })
  level!: (typeof PERSON_LEVELS)[number];

  @YesNo({ description: 'It is of an imperfection of the pipe.', example: true })
  relevant!: boolean;

  @Choice({ description: 'What else it is of.', example: null, of: NOT_RELEVANT_CAUSES, optional: true })
  cause!: (typeof NOT_RELEVANT_CAUSES)[number] | null;

  @Choice({ description: 'The verdict.', example: 'accept', of: EVALUATION_VERDICTS })
  verdict!: (typeof EVALUATION_VERDICTS)[number];

  @Part({ description: 'What was left to the hang-off at that moment, as it was taken when the evaluation was entered.', of: () => TimeLeftAnswer })
  timeLeft!: TimeLeftAnswer;

  @Parts({ description: 'The repair, cut-out and examination that it links.', of: () => RecordLink, max: 3, example: [] })
  links!: RecordLink[];

  @Part({ description: 'Whether the person was qualified for the method, at that level, on that day; absent where neither evaluation nor indication names a method.', of: () => QualifiedAnswer, optional: true })
  qualified!: QualifiedAnswer | null;

  @Part({ description: 'Whether the instrument was good that day; absent without one.', of: () => InstrumentStandingAnswer, optional: true })
  instrument!: InstrumentStandingAnswer | null;
}

/** Where an indication has come to. */
export class IndicationStandingAnswer extends IndicationShown {
  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Text({ description: 'Why it is open; absent once its last evaluation, or a cut-out of all its pipe, settled it.', example: null, max: 500, optional: true })
  open!: string | null;

  @Part({ description: 'The detection that opened it.', of: () => RecordLink, optional: true })
  detection!: RecordLink | null;

  @Part({ description: 'What that detection found there.', of: () => FoundPlaceAnswer, optional: true })
  found!: FoundPlaceAnswer | null;

  @Parts({ description: 'Every evaluation that stands, in the order in which they were made.', of: () => EvaluationStandingAnswer, max: 1000 })
  evaluations!: EvaluationStandingAnswer[];

  @Part({ description: 'What is left to the hang-off now, or at the instant of the knowledge.', of: () => TimeLeftAnswer })
  timeLeft!: TimeLeftAnswer;

  @Texts({ description: 'What to bear in mind.', example: ['No indication means none above the threshold that was set, on the pipe that was looked at.'], max: 10, each: 500 })
  cautions!: string[];
}
