import type { Analysis } from '#libs/strip';
import { Choice, Id, Measured, Part, Parts, Text, Texts, When, Whole } from '../http/fields.js';
import { MOST_LINES } from './certificate-transcription.dto.js';

/** A quantity with its unit. */
export class En10168QuantityPart {
  @Text({ description: 'As printed.', example: '3212', max: 30 })
  value!: string;

  @Text({ description: 'The unit printed.', example: 'kg', max: 20, optional: true })
  unit!: string | null;
}

/** A dimension, which says which one it is. */
export class En10168DimensionPart {
  @Text({ description: 'thickness, width, length or mass.', example: 'thickness', max: 20 })
  characteristic!: string;

  @Text({ description: 'As printed.', example: '5.02', max: 30 })
  value!: string;

  @Text({ description: 'The unit printed.', example: 'mm', max: 20, optional: true })
  unit!: string | null;
}

/** One field of the inspection or the other tests. */
export class En10168FieldPart {
  @Text({ description: 'The field code.', example: 'C71', max: 3 })
  code!: string;

  @Text({ description: 'The characteristic, where the code does not say it: which yield, which gauge length.', example: null, max: 20, optional: true })
  characteristic?: string;

  @Text({ description: 'For C71 to C99: the element.', example: 'C', max: 20, optional: true })
  symbol?: string;

  @Choice({ description: 'For C71 to C99: of the heat or of the product.', example: 'heat', of: ['heat', 'product'], optional: true })
  analysis?: Analysis;

  @Text({ description: 'As printed.', example: '0.085', max: 60 })
  value!: string;

  @Text({ description: 'The unit printed.', example: '%', max: 20, optional: true })
  unit?: string | null;

  @Measured({ description: 'What the printed digits are multiplied by; 1 when absent.', example: '1', min: 0.000001, max: 1_000_000, unit: '', optional: true })
  multiplier?: string;

  @Measured({ description: 'Expanded uncertainty (k = 2).', example: null, min: 0, max: 1000, unit: 'unit', optional: true })
  expandedU?: string;

  @Measured({ description: 'Test temperature.', example: null, min: -200, max: 100, unit: '°C', optional: true })
  temperatureC?: string;

  @Measured({ description: 'Base length of a camber.', example: null, min: 100, max: 20_000, unit: 'mm', optional: true })
  baseMm?: string;

  @Text({ description: 'Where the sample was taken.', example: null, max: 60, optional: true })
  location?: string;

  @Text({ description: 'Direction of the test piece.', example: null, max: 60, optional: true })
  direction?: string;
}

/** A product: a coil, or a heat as a whole when B07 is absent. */
export class En10168ProductPart {
  @Text({ description: 'Identification of the product: the coil.', example: 'LM-01', max: 60, optional: true })
  B07!: string | null;

  @Text({ description: 'The heat.', example: 'H40711', max: 60, optional: true })
  C00!: string | null;

  @Parts({ description: 'Dimensions.', of: () => En10168DimensionPart, max: 10, optional: true, example: [{ characteristic: 'thickness', value: '5.02', unit: 'mm' }] })
  B09?: En10168DimensionPart[];

  @Part({ description: 'Length.', of: () => En10168QuantityPart, optional: true, example: null })
  B10?: En10168QuantityPart;

  @Parts({ description: 'Dimensions or mass.', of: () => En10168DimensionPart, max: 10, optional: true, example: [] })
  B11?: En10168DimensionPart[];

  @Part({ description: 'Actual mass.', of: () => En10168QuantityPart, optional: true })
  B13?: En10168QuantityPart;

  @Parts({
    description: 'Fields of the inspection and the other tests.', of: () => En10168FieldPart, max: 200,
    example: [
      { code: 'C71', symbol: 'C', analysis: 'heat', value: '0.085', unit: '%' }, { code: 'C11', characteristic: 'ReH', value: '446', unit: 'MPa' },
    ],
  })
  fields!: En10168FieldPart[];
}

/** A certificate by the field codes of EN 10168. */
export class En10168DocumentPart {
  @Text({ description: "Manufacturer's works.", example: 'Tarnwick Steelworks', max: 120 })
  A01!: string;

  @Text({ description: 'Type of inspection document.', example: 'EN 10204 3.1', max: 60 })
  A02!: string;

  @Text({ description: 'Document number.', example: 'TS-2026-00418', max: 60 })
  A03!: string;

  @Text({ description: 'Purchaser order number.', example: 'PO-2025-118', max: 60, optional: true })
  A07?: string | null;

  @Text({ description: 'Specification of the product.', example: 'STS-12 rev 1', max: 120, optional: true })
  B02?: string | null;

  @Text({ description: 'Day of issue.', example: '2026-01-22', max: 10 })
  Z02!: string;

  @Parts({ description: 'The products.', of: () => En10168ProductPart, min: 1, max: MOST_LINES })
  products!: En10168ProductPart[];
}

/** A keying by field codes: the certificate, unless it is on record, and the keying, in one entry. */
export class En10168Input {
  @Id({ description: 'Id of the keying, made by the client (UUIDv7); a repeated request with it has the effect of one.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b27' })
  id!: string;

  @When({ description: 'When the paper was read.', example: '2026-03-02T08:15:00Z' })
  observedAt!: string;

  @Whole({ description: '1: the first keying; 2: the second, by another person.', example: 1, min: 1, max: 2, unit: '' })
  keying!: number;

  @Texts({ description: 'Codes, from an earlier refusal, of implausible values that are true.', example: [], max: 1000, each: 100, optional: true })
  confirm?: string[];

  @Part({ description: 'The paper.', of: () => En10168DocumentPart })
  document!: En10168DocumentPart;
}
