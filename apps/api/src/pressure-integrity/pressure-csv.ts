import { RATING_NAMES, type InputName, type RatingName } from '#libs/ratings';
import { csvLines, type CsvCell } from '../http/csv.js';
import { INPUT_NAMES, pressureAnswer } from './pressure-answer.js';
import type { PressureIntegrityAnswer, RatedIntervalAnswer, RatingAnswer, WallPressureAnswer } from './pressure-integrity.dto.js';
import type { PressureProfile } from './pressure-profiles.service.js';

const INPUT_COLUMNS: Readonly<Record<InputName, string>> = { outsideDiameterMm: 'pipe_outside_diameter_mm', wallThicknessMm: 'pipe_least_wall_mm', yieldMpa: 'yield_mpa', kappa: 'kappa', lambda: 'lambda' };
const RATING_COLUMNS: Readonly<Record<RatingName, string>> = { internalYield: 'internal_yield_barlow', triaxialInternalYield: 'internal_yield_lame_von_mises', collapse: 'collapse' };

interface Column {
  readonly name: string;
  readonly of: (row: RatedIntervalAnswer, wall: WallPressureAnswer, answer: PressureIntegrityAnswer) => CsvCell;
}

const PLACE: readonly Column[] = [
  { name: 'wall', of: (_row, { wall }) => wall },
  { name: 'md_from_m', of: ({ md }) => metres(md.fromMm) }, { name: 'md_to_m', of: ({ md }) => metres(md.toMm) }, { name: 'md_plus_minus_m', of: ({ md }) => metres(md.plusMinusMm) },
  { name: 'footage_from_m', of: ({ footage }) => metres(footage.fromMm) }, { name: 'footage_to_m', of: ({ footage }) => metres(footage.toMm) },
  { name: 'coil', of: ({ coil }) => coil?.label ?? null }, { name: 'splices', of: ({ splices }) => splices.map(({ label }) => label).join('; ') },
];

const OF_INPUTS: readonly Column[] = INPUT_NAMES.flatMap((input): Column[] => [
  { name: INPUT_COLUMNS[input], of: ({ inputs }) => inputs[input]?.value ?? null },
  { name: `${INPUT_COLUMNS[input]}_is`, of: ({ inputs: { [input]: given } }) => (given === null ? null : `${given.basis}: ${given.what}`) },
  { name: `${INPUT_COLUMNS[input]}_read_at_m`, of: ({ inputs: { [input]: given } }) => (given?.readAt == null ? null : `${metres(given.readAt.fromMm)} to ${metres(given.readAt.toMm)}`) },
  { name: `${INPUT_COLUMNS[input]}_record`, of: ({ inputs: { [input]: given } }) => (given?.record == null ? null : `${given.record.kind} ${given.record.label}, ${given.record.id} version ${given.record.version}`) },
]);

const FOLDED: readonly Column[] = [
  { name: 'folded_wall_mm', of: ({ folded }) => rounded(folded?.wallThicknessMm) }, { name: 'folded_wall_plus_minus_mm', of: ({ folded }) => rounded(folded?.wallPlusMinusMm) },
  { name: 'folded_outside_diameter_mm', of: ({ folded }) => rounded(folded?.outsideDiameterMm) }, { name: 'folded_outside_diameter_plus_minus_mm', of: ({ folded }) => rounded(folded?.diameterPlusMinusMm) },
];

const RATINGS: readonly Column[] = RATING_NAMES.flatMap((name): Column[] => {
  const of = (value: (rating: RatingAnswer) => CsvCell) => (row: RatedIntervalAnswer): CsvCell => value(row[name]);
  return [
    { name: `${RATING_COLUMNS[name]}_mpa`, of: of(({ pressureMpa }) => rounded(pressureMpa)) }, { name: `${RATING_COLUMNS[name]}_psi`, of: of(({ tablePsi }) => tablePsi) },
    { name: `${RATING_COLUMNS[name]}_formula`, of: of(({ formula }) => formula) }, { name: `${RATING_COLUMNS[name]}_because`, of: of(({ because }) => because) },
  ];
});

const REST: readonly Column[] = [
  { name: 'collapse_regime', of: ({ collapse }) => collapse.regime }, { name: 'd_over_t', of: ({ collapse }) => rounded(collapse.dOverT) },
  { name: 'd_over_t_yield_to_plastic', of: ({ collapse }) => rounded(collapse.limits?.yieldToPlastic) },
  { name: 'd_over_t_plastic_to_transition', of: ({ collapse }) => rounded(collapse.limits?.plasticToTransition) },
  { name: 'd_over_t_transition_to_elastic', of: ({ collapse }) => rounded(collapse.limits?.transitionToElastic) },
  { name: 'assumed', of: ({ assumed }) => assumed.join(' ') }, { name: 'known_at', of: (_row, _wall, { knownAt }) => knownAt },
  { name: 'cautions', of: (_row, _wall, { cautions }) => cautions.join(' ') },
];

export const PRESSURE_COLUMNS: readonly Column[] = [...PLACE, ...OF_INPUTS, ...FOLDED, ...RATINGS, ...REST];

/** Both walls as CSV (RFC 4180: UTF-8, commas, CR LF), from the top down, a few lines at a time; what is not known is empty. */
export function pressureCsv(profile: PressureProfile): Generator<string> {
  return csvLines(rowsOf(pressureAnswer(profile)));
}

function* rowsOf(answer: PressureIntegrityAnswer): Generator<CsvCell[]> {
  yield PRESSURE_COLUMNS.map(({ name }) => name);
  for (const wall of answer.walls) {
    for (const row of wall.intervals) yield PRESSURE_COLUMNS.map(({ of }) => of(row, wall, answer));
  }
}

const metres = (mm: number): string => (mm / 1000).toFixed(3);

/** Three decimals: a kilopascal, a micrometre. */
const rounded = (value: number | null | undefined): string | null => (value == null ? null : value.toFixed(3));
