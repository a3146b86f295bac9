import { CHARACTERISTICS, STRIP_UNITS, type Analysis, type StripUnit } from '#libs/strip';
import { Choice, Measured, Parts, Text, Whole } from '../http/fields.js';

export const CODES: readonly string[] = CHARACTERISTICS.map(({ code }) => code);
export const ANALYSES = ['heat', 'product'] as const satisfies readonly Analysis[];
export const LIMIT_OF = ['value', 'deviation'] as const;

/** One line of a specification. Both limits absent: the value is only asked to be reported. */
export class RequirementPart {
  @Choice({ description: 'What is limited, by the symbol its standard uses.', example: 'C', of: CODES })
  characteristic!: string;

  @Choice({ description: 'For chemistry and carbon equivalents: of the heat or of the product.', example: 'heat', of: ANALYSES, optional: true })
  analysis?: Analysis | null;

  @Measured({ description: 'Least allowed.', example: null, min: -1000, max: 100_000, unit: 'unit', optional: true })
  min?: string | null;

  @Measured({ description: 'Most allowed.', example: '0.12', min: -1000, max: 100_000, unit: 'unit', optional: true })
  max?: string | null;

  @Choice({ description: 'Unit of the limits.', example: '%', of: STRIP_UNITS })
  unit!: StripUnit;

  @Choice({ description: 'What the limits bound: the value, or for sizes its deviation from the ordered size. The value when absent.', example: 'value', of: LIMIT_OF, optional: true })
  limitOf?: (typeof LIMIT_OF)[number] | null;

  @Text({ description: 'For thickness, in place of limits: the tolerance table, by its name.', example: null, max: 120, optional: true })
  toleranceTable?: string | null;

  @Whole({ description: 'Decimals to round to, where not those of the limit.', example: null, min: 0, max: 9, unit: 'decimals', optional: true })
  toDecimals?: number | null;

  @Measured({ description: 'Expanded uncertainty (k = 2) of values that state none.', example: null, min: 0, max: 1000, unit: 'unit', optional: true })
  expandedU?: string | null;

  @Measured({ description: 'For impact: the test temperature.', example: null, min: -200, max: 100, unit: '°C', optional: true })
  temperatureC?: string | null;

  @Measured({ description: 'For camber: the base length.', example: null, min: 100, max: 20_000, unit: 'mm', optional: true })
  baseMm?: string | null;

  @Text({ description: 'Where it stands in the document.', example: '4.1', max: 60, optional: true })
  clause?: string | null;
}

/** A column of a tolerance table. */
export class ToleranceWidthPart {
  @Measured({ description: 'Width over this.', example: '0', min: 0, max: 3000, unit: 'mm' })
  overMm!: string;

  @Measured({ description: 'Width up to and including this; open when absent.', example: '600', min: 0, max: 3000, unit: 'mm', optional: true })
  toMm!: string | null;

  @Measured({ description: 'Tolerance to either side.', example: '0.12', min: 0, max: 10, unit: 'mm' })
  plusMinusMm!: string;
}

/** A line of a tolerance table. */
export class ToleranceRowPart {
  @Measured({ description: 'Ordered thickness over this.', example: '4.0', min: 0, max: 100, unit: 'mm' })
  overMm!: string;

  @Measured({ description: 'Ordered thickness up to and including this.', example: '6.0', min: 0, max: 100, unit: 'mm' })
  toMm!: string;

  @Parts({ description: 'By width.', of: () => ToleranceWidthPart, min: 1, max: 20 })
  widths!: ToleranceWidthPart[];
}

/** A tolerance table of one's own. */
export class ToleranceTablePart {
  @Text({ description: 'Name by which requirements refer to it.', example: 'Slit strip, agreed', max: 120 })
  name!: string;

  @Text({ description: 'Edition or date.', example: '2026-01', max: 60 })
  edition!: string;

  @Text({ description: 'Where it comes from.', example: 'Agreed with the mill, annex 2', max: 300 })
  source!: string;

  @Parts({ description: 'By ordered thickness.', of: () => ToleranceRowPart, min: 1, max: 100 })
  rows!: ToleranceRowPart[];
}
