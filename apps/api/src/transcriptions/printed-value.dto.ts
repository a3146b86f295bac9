import { CHARACTERISTICS, STRIP_UNITS, type Analysis, type StripUnit } from '#libs/strip';
import { Choice, Measured, Parts, Text } from '../http/fields.js';

/** A value as the paper prints it. */
export class PrintedValuePart {
  @Choice({ description: 'What it is, by the symbol its standard uses.', example: 'C', of: CHARACTERISTICS.map(({ code }) => code) })
  characteristic!: string;

  @Choice({ description: 'For chemistry and carbon equivalents: of the heat or of the product.', example: 'heat', of: ['heat', 'product'], optional: true })
  analysis?: Analysis | null;

  @Text({ description: 'The digits exactly as printed; a censored value with its sign, such as <0.001.', example: '0.085', max: 30 })
  printed!: string;

  @Choice({ description: 'The unit printed.', example: '%', of: STRIP_UNITS })
  unit!: StripUnit;

  @Measured({ description: 'What the printed digits are multiplied by, such as 100 under a heading "C ×100"; 1 when absent.', example: '1', min: 0.000001, max: 1_000_000, unit: '', optional: true })
  multiplier?: string | null;

  @Measured({ description: 'Expanded uncertainty (k = 2), where printed.', example: null, min: 0, max: 1000, unit: 'unit', optional: true })
  expandedU?: string | null;

  @Measured({ description: 'For impact: the test temperature.', example: null, min: -200, max: 100, unit: '°C', optional: true })
  temperatureC?: string | null;

  @Measured({ description: 'For camber: the base length.', example: null, min: 100, max: 20_000, unit: 'mm', optional: true })
  baseMm?: string | null;

  @Text({ description: 'Where the sample was taken, as printed.', example: null, max: 60, optional: true })
  location?: string | null;

  @Text({ description: 'Direction of the test piece, as printed.', example: null, max: 60, optional: true })
  direction?: string | null;
}

/** What the paper says of one coil, or of a heat as a whole. */
export class PaperLinePart {
  @Text({ description: 'The coil, as printed; absent where the line speaks of the heat.', example: 'LM-01', max: 60, optional: true })
  coilNumber?: string | null;

  @Text({ description: 'The heat, as printed.', example: 'H40711', max: 60, optional: true })
  heatNumber?: string | null;

  @Parts({
    description: 'The values.', of: () => PrintedValuePart, max: 200,
    example: [
      { characteristic: 'thickness', printed: '5.02', unit: 'mm' },
      { characteristic: 'C', analysis: 'heat', printed: '0.085', unit: '%' },
      { characteristic: 'B', analysis: 'heat', printed: '<0.0005', unit: '%' },
      { characteristic: 'ReH', printed: '446', unit: 'MPa' },
    ],
  })
  values!: PrintedValuePart[];
}
