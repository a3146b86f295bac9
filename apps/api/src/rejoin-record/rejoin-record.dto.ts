import { Part, Parts, Text, Texts } from '../http/fields.js';
import { ExaminationAnswer } from '../examinations/examination.dto.js';
import { CutOutAnswer } from '../line/cut-out.dto.js';
import { RejoinAnswer } from '../rejoins/rejoin.dto.js';
import { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { WeldAnswer } from '../welds/weld.dto.js';

/** All that is on record of a re-join. */
export class RejoinRecordAnswer {
  @Part({ description: 'The re-join.', of: () => RejoinAnswer })
  rejoin!: RejoinAnswer;

  @Part({ description: 'The cut-out that it closed.', of: () => CutOutAnswer })
  cutOut!: CutOutAnswer;

  @Parts({ description: 'The millimetre of pipe on each side of the weld that is still in the string.', of: () => IntervalAnswer, max: 2 })
  ends!: IntervalAnswer[];

  @Parts({ description: 'Its welds, in the order in which they were made.', of: () => WeldAnswer, max: 500 })
  welds!: WeldAnswer[];

  @Parts({ description: 'Examinations of it, or over it, by when they were made.', of: () => ExaminationAnswer, max: 10_000 })
  examinations!: ExaminationAnswer[];

  @Parts({ description: 'Inspections over it since it was made.', of: () => RecordLink, max: 10_000 })
  inspections!: RecordLink[];

  @Parts({ description: 'Repairs of it, or over it, each with what is open after it.', of: () => RepairStateAnswer, max: 10_000 })
  repairs!: RepairStateAnswer[];

  @Texts({ description: 'What is open.', example: ['no weld of it is on record'], max: 100_000, each: 5000 })
  open!: string[];

  @Text({ description: 'What this answer is, and is not.', example: 'A record, not a release.', max: 400 })
  caution!: string;
}
