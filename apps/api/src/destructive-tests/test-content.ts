import { compare, decimal, ratio, times } from '#libs/exact';
import type { Crack, DeformationConstant, ReverseBend, ReverseFlattening, Tube } from '#libs/tube-tests';
import type { FieldProblem } from '../http/problem.js';
import type { DestructiveTestInput, TestKind } from './destructive-test.dto.js';
import type { FlaringPart, FlatteningPart } from './test-content.dto.js';

/** A flattening as it was recorded; lengths in mm and angles in degrees, decimal text; null where nobody says. */
export interface FlatteningContent extends Tube {
  readonly flattenedOn: 'piece' | 'tube-end';
  readonly pieceLengthMm: string | null;
  readonly cutDepthMm: string | null;
  readonly plateWidthMm: string | null;
  readonly plateDistanceMm: string | null;
  readonly seamPositionDeg: string | null;
  readonly constant: DeformationConstant | null;
  readonly cracks: readonly Crack[] | null;
}

/** A flaring as it was recorded, likewise. */
export interface FlaringContent extends Tube {
  readonly pieceLengthMm: string | null;
  readonly coneAngleDeg: string | null;
  readonly flaredDiameterMm: string | null;
  readonly isCracked: boolean | null;
  readonly requiredExpansion: { readonly percent: string; readonly appliesTo: string; readonly source: string } | null;
  readonly grade: string | null;
}

/** What a test says beside its readings; each null where it does not. */
export interface TestContent {
  readonly flattening: FlatteningContent | null;
  readonly flaring: FlaringContent | null;
  readonly reverseBend: ReverseBend | null;
  readonly reverseFlattening: ReverseFlattening | null;
}

/** Which kinds of test may say what. */
const KINDS: Readonly<Record<keyof TestContent, readonly TestKind[]>> = {
  flattening: ['flattening'], flaring: ['flaring'], reverseBend: ['reverse-bend'], reverseFlattening: ['flattening', 'reverse-bend'],
};

/** What was sent, as columns. */
export function testContentOf({ flattening, flaring, reverseBend, reverseFlattening }: DestructiveTestInput): TestContent {
  return {
    flattening: flattening == null ? null : flatteningOf(flattening),
    flaring: flaring == null ? null : flaringOf(flaring),
    reverseBend: reverseBend == null ? null : { bends: reverseBend.bends ?? null, crackAtWeld: reverseBend.crackAtWeld ?? null },
    reverseFlattening: reverseFlattening == null ? null : { openedFlat: reverseFlattening.openedFlat ?? null, crackAtWeld: reverseFlattening.crackAtWeld ?? null },
  };
}

function flatteningOf(part: FlatteningPart): FlatteningContent {
  const { outsideDiameterMm, wallThicknessMm, flattenedOn, constant, cracks } = part;
  return {
    outsideDiameterMm, wallThicknessMm, flattenedOn,
    pieceLengthMm: part.pieceLengthMm ?? null, cutDepthMm: part.cutDepthMm ?? null, plateWidthMm: part.plateWidthMm ?? null,
    plateDistanceMm: part.plateDistanceMm ?? null, seamPositionDeg: part.seamPositionDeg ?? null,
    constant: constant == null ? null : { constant: constant.constant, steel: constant.steel, source: constant.source },
    cracks: cracks?.map(({ length, unit, place }) => ({ length, unit, place })) ?? null,
  };
}

function flaringOf(part: FlaringPart): FlaringContent {
  const { outsideDiameterMm, wallThicknessMm, requiredExpansion: required } = part;
  return {
    outsideDiameterMm, wallThicknessMm,
    pieceLengthMm: part.pieceLengthMm ?? null, coneAngleDeg: part.coneAngleDeg ?? null, flaredDiameterMm: part.flaredDiameterMm ?? null,
    isCracked: part.isCracked ?? null,
    requiredExpansion: required == null ? null : { percent: required.percent, appliesTo: required.appliesTo, source: required.source },
    grade: part.grade ?? null,
  };
}

/** What does not go together in it, field by field: what belongs to another kind of test, and tubes and shapes that cannot be. */
export function testContentFaults(kind: TestKind, content: TestContent): FieldProblem[] {
  const { flattening, flaring, reverseFlattening } = content;
  const misplaced = (Object.keys(KINDS) as (keyof TestContent)[]).filter((field) => content[field] !== null && !KINDS[field].includes(kind));
  const isBoth = flattening !== null && reverseFlattening !== null;
  return [
    ...misplaced.map((field) => ({ field, value: content[field], limit: `only of a test of ${KINDS[field].join(' or ')}, not of ${kind}` })),
    ...(isBoth ? [{ field: 'reverseFlattening', value: reverseFlattening, limit: 'flattened, or slit and opened: one piece is not both' }] : []),
    ...(flattening === null ? [] : flatteningFaults(flattening)),
    ...(flaring === null ? [] : flaringFaults(flaring)),
  ];
}

function flatteningFaults(flattening: FlatteningContent): FieldProblem[] {
  const { outsideDiameterMm, wallThicknessMm, flattenedOn, pieceLengthMm, cutDepthMm, plateDistanceMm } = flattening;
  const isInside = plateDistanceMm === null || (isOver(plateDistanceMm, wallThicknessMm) && !isOver(plateDistanceMm, outsideDiameterMm));
  return [
    ...boreFaults('flattening', flattening),
    ...(flattenedOn === 'piece' || pieceLengthMm === null ? [] : [{ field: 'flattening.pieceLengthMm', value: pieceLengthMm, limit: 'only of a piece' }]),
    ...(flattenedOn === 'tube-end' || cutDepthMm === null ? [] : [{ field: 'flattening.cutDepthMm', value: cutDepthMm, limit: 'only of the end of a tube' }]),
    ...(isInside ? [] : [{
      field: 'flattening.plateDistanceMm', value: plateDistanceMm, limit: `over the wall thickness of ${wallThicknessMm} mm, and at most the outside diameter of ${outsideDiameterMm} mm`,
    }]),
  ];
}

function flaringFaults(flaring: FlaringContent): FieldProblem[] {
  const { outsideDiameterMm, flaredDiameterMm } = flaring;
  const isNarrower = flaredDiameterMm !== null && isOver(outsideDiameterMm, flaredDiameterMm);
  return [
    ...boreFaults('flaring', flaring),
    ...(isNarrower ? [{ field: 'flaring.flaredDiameterMm', value: flaredDiameterMm, limit: `at least the outside diameter of ${outsideDiameterMm} mm` }] : []),
  ];
}

function boreFaults(field: string, { outsideDiameterMm, wallThicknessMm }: Tube): FieldProblem[] {
  const hasBore = compare(times(decimal(wallThicknessMm), ratio(2n)), decimal(outsideDiameterMm)) < 0;
  return hasBore ? [] : [{ field: `${field}.wallThicknessMm`, value: wallThicknessMm, limit: `less than half the outside diameter of ${outsideDiameterMm} mm` }];
}

const isOver = (one: string, other: string): boolean => compare(decimal(one), decimal(other)) > 0;
