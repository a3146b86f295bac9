import {
  checkExpansion, checkPlateDistance, checkReverseBend, checkReverseFlattening, flaringSetUpChecks, flatteningSetUpChecks, judgeCracks5st,
  plateDistance, requiredExpansion, VENDOR_EXPANSION, type NamedCheck, type RequiredExpansion,
} from '#libs/tube-tests';
import type { TestKind } from './destructive-test.dto.js';
import type { FlaringContent, FlatteningContent, TestContent } from './test-content.js';

export const CHECK_OUTCOMES = ['met', 'not met', 'not computable'] as const;

/** One demand on a test and whether it is met. */
export interface TestCheck {
  /** The field of the record that it is about. */
  readonly field: string;
  readonly name: string;
  readonly outcome: (typeof CHECK_OUTCOMES)[number];
  readonly found: string | null;
  readonly demanded: string | null;
  /** In words; of what is not computable, why. */
  readonly because: string;
  readonly source: string | null;
  /** The record states the limit itself, as a reading does: a pass beside it is refused when it is not met. */
  readonly isOwnLimit: boolean;
}

const COMMON_PRACTICE = 'common practice, no published source';

/** The checks of a kind of test that says nothing of how it was made. */
const UNRECORDED: Readonly<Partial<Record<TestKind, { readonly field: keyof TestContent; readonly names: readonly string[] }>>> = {
  flattening: { field: 'flattening', names: ['outside diameter', 'wall thickness', 'piece length', 'plate width', 'plate distance', 'cracks', 'seam position'] },
  flaring: { field: 'flaring', names: ['piece length', 'cone angle', 'expansion of the outside diameter', 'cracks'] },
  'reverse-bend': { field: 'reverseBend', names: ['reverse bend'] },
};

/** Every check of a test by what it says beside its readings; none of tensile, macro and hardness tests. */
export function testChecks(kind: TestKind, { flattening, flaring, reverseBend, reverseFlattening }: TestContent): TestCheck[] {
  const recorded = [
    ...(flattening === null ? [] : flatteningChecks(flattening)),
    ...(flaring === null ? [] : flaringChecks(flaring)),
    ...(reverseBend === null ? [] : [computed('reverseBend', checkReverseBend(reverseBend))]),
    ...(reverseFlattening === null ? [] : [computed('reverseFlattening', checkReverseFlattening(reverseFlattening))]),
  ];
  const unrecorded = recorded.length > 0 ? undefined : UNRECORDED[kind];
  if (unrecorded === undefined) return recorded;
  const { field, names } = unrecorded;
  return names.map((name) => open(field, name, `the record has no ${field}: nothing says how the test was made`));
}

const SET_UP_FIELDS: Readonly<Record<string, string>> = {
  'outside diameter': 'outsideDiameterMm', 'wall thickness': 'wallThicknessMm', 'piece length': 'pieceLengthMm', 'cut depth': 'cutDepthMm',
  'plate width': 'plateWidthMm', 'cone angle': 'coneAngleDeg',
};

function flatteningChecks(flattening: FlatteningContent): TestCheck[] {
  const { outsideDiameterMm, wallThicknessMm, flattenedOn, pieceLengthMm, cutDepthMm, plateWidthMm, seamPositionDeg, cracks } = flattening;
  const on = flattenedOn === 'piece' ? { kind: flattenedOn } : { kind: flattenedOn, cutDepthMm };
  const setUp = flatteningSetUpChecks({ tube: { outsideDiameterMm, wallThicknessMm }, pieceLengthMm, plateWidthMm, on });
  const seam = `${seamPositionDeg === null ? 'it is not recorded, and ' : ''}no demand on it is on record: the specification decides where the seam lies`;
  return [
    ...setUp.map((check) => computed(`flattening.${SET_UP_FIELDS[check.name] ?? ''}`, check)),
    plateCheck(flattening),
    cracks === null ? open('flattening.cracks', 'cracks', 'nobody says whether cracks were looked for') : crackCheck(cracks),
    { ...open('flattening.seamPositionDeg', 'seam position', seam), found: seamPositionDeg === null ? null : `${seamPositionDeg}° to the direction of the force` },
  ];
}

function plateCheck(flattening: FlatteningContent): TestCheck {
  const { plateDistanceMm, constant } = flattening;
  const field = 'flattening.plateDistanceMm';
  if (constant === null) {
    const check = open(field, 'plate distance', 'no deformation constant is recorded: the specification states it');
    return { ...check, found: plateDistanceMm === null ? null : `${plateDistanceMm} mm` };
  }
  const { rule, wallsMeetFirst } = plateDistance(flattening, constant.constant);
  const meeting = wallsMeetFirst ? '; the insides touch before the plates are so near' : '';
  if (plateDistanceMm === null) return open(field, 'plate distance', `the distance between the plates is not recorded; ${rule}${meeting}`);
  const check = computed(field, checkPlateDistance(flattening, plateDistanceMm, constant));
  return { ...check, because: `${check.because}; ${rule}${meeting}`, isOwnLimit: true };
}

function crackCheck(cracks: NonNullable<FlatteningContent['cracks']>): TestCheck {
  const { accepted, findings, rule, source } = judgeCracks5st(cracks);
  const rejected = findings.filter(({ finding }) => finding === 'rejected').length;
  const because = cracks.length === 0 ? 'looked for, and none found' : findings.map(({ finding, words }) => `${finding}: ${words}`).join('; ');
  return {
    field: 'flattening.cracks', name: 'cracks', outcome: accepted ? 'met' : 'not met', found: cracks.length === 0 ? 'none' : `${cracks.length}, of which ${rejected} rejected`,
    demanded: rule, because, source, isOwnLimit: false,
  };
}

function flaringChecks(flaring: FlaringContent): TestCheck[] {
  const { outsideDiameterMm, wallThicknessMm, pieceLengthMm, coneAngleDeg, isCracked } = flaring;
  const setUp = flaringSetUpChecks({ tube: { outsideDiameterMm, wallThicknessMm }, pieceLengthMm, coneAngleDeg });
  return [
    ...setUp.map((check) => computed(`flaring.${SET_UP_FIELDS[check.name] ?? ''}`, check)),
    ...expansionChecks(flaring),
    isCracked === null ? open('flaring.isCracked', 'cracks', 'nobody says whether the flare cracked') : {
      field: 'flaring.isCracked', name: 'cracks', outcome: isCracked ? 'not met' : 'met', found: isCracked ? 'cracked' : 'no crack', demanded: 'no crack',
      because: isCracked ? 'the flare cracked' : 'the flare did not crack', source: COMMON_PRACTICE, isOwnLimit: false,
    },
  ];
}

function expansionChecks(flaring: FlaringContent): TestCheck[] {
  const { requiredExpansion: required, grade } = flaring;
  if (required === null && grade === null) {
    const { percent, cell, source } = VENDOR_EXPANSION;
    const because = `no required expansion is recorded, and no grade that a table goes by: the specification states it. ${source} asks ${percent} % of ${cell}`;
    return [open(EXPANSION_FIELD, EXPANSION, because)];
  }
  return [
    ...(required === null ? [] : [expansionCheck(flaring, { percent: required.percent, cell: required.appliesTo, source: required.source }, true)]),
    ...(grade === null ? [] : [byGrade(flaring, grade)]),
  ];
}

const EXPANSION = 'expansion of the outside diameter';
const EXPANSION_FIELD = 'flaring.flaredDiameterMm';

function byGrade(flaring: FlaringContent, grade: string): TestCheck {
  const required = requiredExpansion(flaring, grade);
  return 'missing' in required ? open(EXPANSION_FIELD, EXPANSION, required.missing) : expansionCheck(flaring, required, false);
}

function expansionCheck({ outsideDiameterMm, flaredDiameterMm }: FlaringContent, required: RequiredExpansion, isOwnLimit: boolean): TestCheck {
  if (flaredDiameterMm === null) {
    const check = open(EXPANSION_FIELD, EXPANSION, 'the diameter of the flare is not recorded');
    return { ...check, demanded: `at least ${required.percent} %, ${required.cell}`, source: required.source };
  }
  return { ...computed(EXPANSION_FIELD, checkExpansion({ outsideDiameterMm, flaredDiameterMm }, required)), isOwnLimit };
}

/** What nobody recorded cannot be computed. */
const computed = (field: string, { name, outcome, found, demanded, words, source }: NamedCheck): TestCheck => ({
  field, name, outcome: outcome === 'not recorded' ? 'not computable' : outcome, found, demanded, because: words, source, isOwnLimit: false,
});

const open = (field: string, name: string, because: string): TestCheck => ({
  field, name, outcome: 'not computable', found: null, demanded: null, because, source: null, isOwnLimit: false,
});
