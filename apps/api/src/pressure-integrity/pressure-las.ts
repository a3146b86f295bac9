import { asciiDescription, asciiText, writeLas, type LasCurve, type LasItem, type LasLog, type LasRow } from '#libs/las';
import { Refused } from '../http/problem.js';
import { depthOf, downwards } from './pressure-answer.js';
import type { PressureDepth } from './pressure-integrity.dto.js';
import type { PressureProfile, RatedStretch, RatedWall } from './pressure-profiles.service.js';
import type { PressureLasQuestion } from './pressure-question.js';
import { cautionsOf, PRESSURE_CAUTIONS, reasonsOf, rulesOf } from './pressure-words.js';

const NULL_VALUE = '-999.25';
const DECIMALS = 3;

interface PressureCurve extends LasCurve {
  readonly of: (stretch: RatedStretch, end: 'upper' | 'lower') => number | null;
  /** Where two stretches have one depth: the value by which the pipe rates lower. */
  readonly worse: (one: number, other: number) => number;
}

const curve = (mnemonic: string, unit: string, description: string, of: PressureCurve['of'], worse: PressureCurve['worse'] = Math.min): PressureCurve =>
  ({ mnemonic, unit, code: '', description, numbers: 'double', of, worse });
const pressure = (rating: RatedStretch['ratings']['internalYield' | 'collapse']): number | null => (rating.kind === 'computed' ? rounded(rating.pressureMpa) : null);
const given = (value: { readonly value: string } | null): number | null => (value === null ? null : Number(value.value));

/** Pressures and sizes are those of the wall itself, the outer one after the fold. */
const CURVES: readonly PressureCurve[] = [
  curve('PYBAR', 'MPA', 'INTERNAL YIELD, BARLOW (API 5C3), ADVISORY', ({ ratings }) => pressure(ratings.internalYield)),
  curve('PYTRI', 'MPA', 'INTERNAL YIELD, LAME AND VON MISES, ADVISORY', ({ ratings }) => pressure(ratings.triaxialInternalYield)),
  curve('PCOLL', 'MPA', 'COLLAPSE (API 5C3), ADVISORY', ({ ratings }) => pressure(ratings.collapse)),
  curve('WALL', 'MM', 'WALL THICKNESS OF THIS WALL', (stretch) => wallOf(stretch, 'wallThicknessMm')),
  curve('OD', 'MM', 'OUTSIDE DIAMETER OF THIS WALL', (stretch) => wallOf(stretch, 'outsideDiameterMm'), Math.max),
  curve('YIELD', 'MPA', 'YIELD STRENGTH OF THE PIPE BEFORE THE FOLD', ({ inputs }) => rounded(given(inputs.yieldMpa))),
  // Footage rises downwards in the outer wall and upwards in the inner one.
  curve('FOOT', 'M', 'FOOTAGE OF THE PIPE AT THIS DEPTH, TO THE ENDS OF ITS STRETCH', ({ interval: { fromMm, toMm }, ratings }, end) => ((ratings.wall === 'outer') === (end === 'upper') ? fromMm : toMm) / 1000),
];

function wallOf({ inputs, folded, ratings }: RatedStretch, name: 'wallThicknessMm' | 'outsideDiameterMm'): number | null {
  return rounded(ratings.wall === 'outer' ? folded?.[name] ?? null : given(inputs[name]));
}

/** A kilopascal, a micrometre. */
const rounded = (value: number | null): number | null => (value === null ? null : Math.round(value * 10 ** DECIMALS) / 10 ** DECIMALS);

type Placed = RatedStretch & { readonly md: PressureDepth };

/**
 * One wall as CWLS LAS 2.0. Each stretch has a row at its first and one at its last millimetre of depth, so that nothing that is short
 * is lost between steps. Refuses with 422 where nothing of the wall was asked about.
 */
export function pressureLas(profile: PressureProfile, { wall: name }: Pick<PressureLasQuestion, 'wall'>): AsyncGenerator<string> {
  const wall = profile.walls.find(({ view }) => view.wall.name === name);
  const placed = downwards((wall?.stretches ?? []).map((stretch): Placed => ({ ...stretch, md: depthOf((wall as RatedWall).view, stretch.interval) })));
  const [first, last] = [placed[0], placed.at(-1)];
  if (wall === undefined || first === undefined || last === undefined) {
    throw new Refused(422, 'nothing-on-this-wall', `Nothing of the ${name} wall is where it was asked about: there is no curve to write.`);
  }
  return writeLas(logOf(profile, wall, first.md.fromMm, lastOf(last.md)), rowsOf(placed));
}

const lastOf = ({ fromMm, toMm }: PressureDepth): number => Math.max(fromMm, toMm - 1);

/** Rows of rising depth; stretches of less than a millimetre share the row of their neighbour. */
function* rowsOf(placed: readonly Placed[]): Generator<LasRow> {
  let open: { index: number; values: (number | null)[] } | null = null;
  for (const one of placed) {
    for (const end of lastOf(one.md) === one.md.fromMm ? ['upper'] as const : ['upper', 'lower'] as const) {
      const index = end === 'upper' ? one.md.fromMm : lastOf(one.md);
      const values = CURVES.map(({ of }) => of(one, end));
      if (open !== null && open.index >= index) {
        open.values = worseOf(open.values, values);
        continue;
      }
      if (open !== null) yield open;
      open = { index, values };
    }
  }
  if (open !== null) yield open;
}

/** What one of two does not know is not known of both. */
function worseOf(one: readonly (number | null)[], other: readonly (number | null)[]): (number | null)[] {
  return CURVES.map(({ worse }, index): number | null => {
    const [a, b] = [one[index] ?? null, other[index] ?? null];
    return a === null || b === null ? null : worse(a, b);
  });
}

function logOf(profile: PressureProfile, wall: RatedWall, startMm: number, stopMm: number): LasLog {
  const { ground: { well }, knownAt } = profile;
  return {
    well: {
      company: '', well: asciiText(well.name), field: '', location: '', region: { province: '' }, serviceCompany: '', date: knownAt.slice(0, 10).replaceAll('-', ' '), id: { uwi: '' },
    },
    moreOfWell: [],
    index: { mnemonic: 'DEPT', unit: 'M', description: 'MEASURED DEPTH', decimals: DECIMALS, start: startMm, stop: stopMm, step: 0 },
    curves: CURVES.map(({ mnemonic, unit, code, description, numbers }) => ({ mnemonic, unit, code, description, numbers })),
    parameters: parametersOf(profile, wall),
    other: [...new Set([...PRESSURE_CAUTIONS, ...cautionsOf(wall), ...rulesOf(profile), ...reasonsOf(wall).map((reason) => `Null where ${reason}.`)])].map(asciiText),
    nullValue: NULL_VALUE, mostLineCharacters: null,
  };
}

function parametersOf({ model, ground: { well }, knownAt, windowMm, shoe }: PressureProfile, { view, stretches }: RatedWall): LasItem[] {
  const item = (mnemonic: string, value: string, description: string, unit = ''): LasItem => ({ mnemonic, unit, value: asciiText(value), description: asciiDescription(description) });
  const widestMm = Math.max(...stretches.map(({ interval }) => depthOf(view, interval).plusMinusMm));
  return [
    item('STRG', model.string.name, 'CASING STRING'), item('WALLSIDE', view.wall.name, 'OUTER OR INNER WALL'), item('KNOWNAT', knownAt, 'AS KNOWN AT THIS INSTANT, UTC'),
    item('DATUM', well.datum, 'DATUM OF MEASURED DEPTH'), item('DEPTHU', (widestMm / 1000).toFixed(DECIMALS), 'WIDEST EXPANDED UNCERTAINTY OF DEPTH, K = 2', 'M'),
    item('SHOE', (shoe.mdMm / 1000).toFixed(DECIMALS), 'MEASURED DEPTH OF THE FOLD', 'M'), item('WINDOW', String(windowMm / 1000), 'PIPE FOR WHICH ONE LEAST WALL STANDS', 'M'),
    item('STATUS', 'ADVISORY', 'THE RESPONSIBLE ENGINEER DECIDES, SEE ~O'),
  ];
}
