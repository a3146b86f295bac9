import { CHARACTERISTICS, STRIP_UNITS, type Analysis, type StripUnit } from '#libs/strip';
import { Choice, Part, Parts, Text } from '../http/fields.js';

/** The nominal thicknesses a limit of a grade holds for. */
export class GradeThicknessAnswer {
  @Text({ description: 'From this on, mm.', example: '3', max: 20, optional: true })
  min?: string;

  @Text({ description: 'Up to and including this, mm.', example: null, max: 20, optional: true })
  max?: string;

  @Text({ description: 'Below this, mm.', example: null, max: 20, optional: true })
  below?: string;
}

/** What a grade asks of one characteristic. */
export class GradeLineAnswer {
  @Choice({ description: 'What is limited.', example: 'ReH', of: CHARACTERISTICS.map(({ code }) => code) })
  characteristic!: string;

  @Choice({ description: 'Which analysis; null where the source does not say, or it is no chemistry.', example: null, of: ['heat', 'product'], optional: true })
  analysis!: Analysis | null;

  @Text({ description: 'Least allowed.', example: '420', max: 20, optional: true })
  min!: string | null;

  @Text({ description: 'Most allowed.', example: null, max: 20, optional: true })
  max!: string | null;

  @Choice({ description: 'Unit.', example: 'MPa', of: STRIP_UNITS })
  unit!: StripUnit;

  @Text({ description: 'A condition in the source.', example: null, max: 500, optional: true })
  note?: string;

  @Part({ description: 'The thicknesses it holds for; all when absent.', of: () => GradeThicknessAnswer, optional: true })
  thicknessMm?: GradeThicknessAnswer;
}

/** A grade as far as it could be read in a source. It may be incomplete: the standard itself decides. */
export class GradeAnswer {
  @Text({ description: 'The standard.', example: 'EN 10149-2', max: 60 })
  standard!: string;

  @Text({ description: 'The edition, where the source says it.', example: '2013', max: 60, optional: true })
  edition!: string | null;

  @Text({ description: 'The grade.', example: 'S420MC', max: 60 })
  grade!: string;

  @Text({ description: 'Where the values were read.', example: 'EN 10149-2:2013, tables 1 and 2', max: 600 })
  source!: string;

  @Parts({ description: 'What it asks.', of: () => GradeLineAnswer, max: 100 })
  lines!: GradeLineAnswer[];
}

export class GradesAnswer {
  @Parts({ description: 'The grades.', of: () => GradeAnswer, max: 500 })
  grades!: GradeAnswer[];
}
