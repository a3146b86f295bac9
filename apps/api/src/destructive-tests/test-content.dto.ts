import { Choice, Measured, Part, Parts, Text, Whole, YesNo } from '../http/fields.js';

export const CRACK_UNITS = ['mm', 'in'] as const;
export const CRACK_PLACES = ['edge', 'elsewhere'] as const;
export const FLATTENED_ON = ['piece', 'tube-end'] as const;

/** The tube as measured on the piece. */
class TubePart {
  @Measured({ description: 'Outside diameter D of the piece.', example: '127.0', min: 1, max: 1000, unit: 'mm' })
  outsideDiameterMm!: string;

  @Measured({ description: 'Wall thickness t of the piece.', example: '5.00', min: 0.1, max: 100, unit: 'mm' })
  wallThicknessMm!: string;
}

/** A crack or break of a flattened piece, in the unit it was read in. */
export class CrackPart {
  @Measured({ description: 'Its length.', example: '2.5', min: 0.001, max: 1000, unit: 'in its unit' })
  length!: string;

  @Choice({ description: 'The unit of the length.', example: 'mm', of: CRACK_UNITS })
  unit!: (typeof CRACK_UNITS)[number];

  @Choice({ description: 'Where it is.', example: 'elsewhere', of: CRACK_PLACES })
  place!: (typeof CRACK_PLACES)[number];
}

/** The deformation constant that the specification demands. */
export class DeformationConstantPart {
  @Measured({ description: 'e in H = (1 + e) t / (e + t/D).', example: '0.07', min: 0.001, max: 1, unit: '' })
  constant!: string;

  @Text({ description: 'The steel it is for.', example: 'S420MC, welded', max: 60 })
  steel!: string;

  @Text({ description: 'Where it comes from: document, revision, clause.', example: 'STS-12 rev 3, clause 7.4', max: 200 })
  source!: string;
}

/** A ring, or the end of a tube, flattened between plates. */
export class FlatteningPart extends TubePart {
  @Choice({ description: 'On a piece cut off, or on the end of a tube that is cut across in part.', example: 'piece', of: FLATTENED_ON })
  flattenedOn!: (typeof FLATTENED_ON)[number];

  @Measured({ description: 'Length of the piece.', example: '60', min: 0.1, max: 10_000, unit: 'mm', optional: true })
  pieceLengthMm?: string | null;

  @Measured({ description: 'Depth of the cut across, on the end of a tube.', example: null, min: 0.1, max: 1000, unit: 'mm', optional: true })
  cutDepthMm?: string | null;

  @Measured({ description: 'Width of the plates.', example: '250', min: 0.1, max: 10_000, unit: 'mm', optional: true })
  plateWidthMm?: string | null;

  @Measured({ description: 'Distance H between the plates at the end, under load.', example: '48.0', min: 0.1, max: 1000, unit: 'mm', optional: true })
  plateDistanceMm?: string | null;

  @Measured({ description: 'Angle between the seam and the direction of the force; at 90 the seam is bent most.', example: '90', min: 0, max: 180, unit: 'degrees', optional: true })
  seamPositionDeg?: string | null;

  @Part({ description: 'What the specification demands.', of: () => DeformationConstantPart, optional: true })
  constant?: DeformationConstantPart | null;

  @Parts({ description: 'Cracks and breaks; empty: looked for, and none found. Absent: nobody says.', of: () => CrackPart, max: 100, optional: true, example: [] })
  cracks?: CrackPart[] | null;
}

/** The expansion that the specification demands. */
export class RequiredExpansionPart {
  @Measured({ description: 'At least so much of the outside diameter.', example: '20', min: 0.1, max: 500, unit: '%' })
  percent!: string;

  @Text({ description: 'What it is for.', example: 'S420MC, welded', max: 60 })
  appliesTo!: string;

  @Text({ description: 'Where it comes from: document, revision, clause.', example: 'STS-12 rev 3, clause 7.5', max: 200 })
  source!: string;
}

/** The end of a tube widened over a cone. */
export class FlaringPart extends TubePart {
  @Measured({ description: 'Length of the piece.', example: '200', min: 0.1, max: 10_000, unit: 'mm', optional: true })
  pieceLengthMm?: string | null;

  @Measured({ description: 'Angle between opposite sides of the cone.', example: '60', min: 1, max: 179, unit: 'degrees', optional: true })
  coneAngleDeg?: string | null;

  @Measured({ description: 'Largest outside diameter at the mouth, after the cone is out.', example: '152.4', min: 1, max: 3000, unit: 'mm', optional: true })
  flaredDiameterMm?: string | null;

  @YesNo({ description: 'Whether the flare cracked.', example: false, optional: true })
  isCracked?: boolean | null;

  @Part({ description: 'What the specification demands.', of: () => RequiredExpansionPart, optional: true })
  requiredExpansion?: RequiredExpansionPart | null;

  @Text({ description: 'The grade of the tube, for tables that go by it.', example: null, max: 60, optional: true })
  grade?: string | null;
}

/** A tube slit opposite its weld, opened, and bent back and forth along the weld. */
export class ReverseBendPart {
  @Whole({ description: 'How often it was bent back and forth.', example: 2, min: 0, max: 1000, unit: 'times', optional: true })
  bends?: number | null;

  @YesNo({ description: 'Whether it cracked at the weld.', example: false, optional: true })
  crackAtWeld?: boolean | null;
}

/** A tube slit and opened flat. */
export class ReverseFlatteningPart {
  @YesNo({ description: 'Whether it was opened flat.', example: true, optional: true })
  openedFlat?: boolean | null;

  @YesNo({ description: 'Whether it cracked at the weld.', example: false, optional: true })
  crackAtWeld?: boolean | null;
}
