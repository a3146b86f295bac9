import { EVIDENCE_STATES, isWorse, type EvidenceState } from '#libs/evidence';
import { asciiDescription, asciiText, writeLas, type LasCurve, type LasItem, type LasLog, type LasRow } from '#libs/las';
import { Refused } from '../http/problem.js';
import type { EvidenceAnswer, EvidenceOnWallStretch } from './evidence.dto.js';

const NULL_VALUE = '-999.25';
const DECIMALS = 3;

/** What a file says of its well beside the evidence. */
export interface LasHead {
  readonly wellName: string;
  readonly datum: string;
  readonly stringName: string;
  /** The instant of the knowledge. */
  readonly knownAt: string;
}

const CURVES: readonly LasCurve[] = [
  { mnemonic: 'EVID', unit: '', code: '', description: 'EVIDENCE, 0 WORST TO 6, SEE ~O', numbers: 'double' },
  { mnemonic: 'LATE', unit: '', code: '', description: '1 WHERE ENTERED AFTER THE HANG-OFF', numbers: 'double' },
  { mnemonic: 'FOOT', unit: 'M', code: '', description: 'FOOTAGE OF THE PIPE AT THIS DEPTH', numbers: 'double' },
  { mnemonic: 'DEPTHU', unit: 'M', code: '', description: 'EXPANDED UNCERTAINTY OF DEPTH, K = 2', numbers: 'double' },
];

/**
 * The verdict on one wall as CWLS LAS 2.0, by measured depth. Each stretch has a row at its first and one at its last millimetre; where
 * two share one, the worse stands. Refuses with 422 where nothing of the wall was asked about.
 */
export function evidenceLas(answer: EvidenceAnswer, wallName: 'outer' | 'inner', head: LasHead): AsyncGenerator<string> {
  const stretches = answer.walls.find(({ wall }) => wall === wallName)?.stretches ?? [];
  const rows = rowsOf(stretches, wallName);
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) {
    throw new Refused(422, 'nothing-on-this-wall', `Nothing of the ${wallName} wall is where it was asked about: there is no curve to write.`);
  }
  return writeLas(logOf(answer, wallName, head, [first.index, last.index]), rows.map(({ index, values }): LasRow => ({ index, values })));
}

interface StateRow {
  readonly index: number;
  readonly state: EvidenceState;
  readonly values: readonly number[];
}

function rowsOf(stretches: readonly EvidenceOnWallStretch[], wall: 'outer' | 'inner'): StateRow[] {
  const rows = new Map<number, StateRow>();
  for (const { mdFromMm, mdToMm, fromPlusMinusMm, toPlusMinusMm, pipe: { state, late, fromMm, toMm } } of stretches) {
    // Footage rises downwards in the outer wall and upwards in the inner one.
    const [upperMm, lowerMm] = wall === 'outer' ? [fromMm, toMm - 1] : [toMm - 1, fromMm];
    const ends = [[mdFromMm, upperMm, fromPlusMinusMm], [Math.max(mdFromMm, mdToMm - 1), lowerMm, toPlusMinusMm]] as const;
    for (const [index, footageMm, plusMinusMm] of ends) {
      const had = rows.get(index);
      if (had !== undefined && !isWorse(state, had.state)) continue;
      rows.set(index, { index, state, values: [EVIDENCE_STATES.indexOf(state), late ? 1 : 0, footageMm / 1000, plusMinusMm / 1000] });
    }
  }
  return [...rows.values()].sort((a, b) => a.index - b.index);
}

function logOf({ cautions, shoe }: EvidenceAnswer, wallName: string, { wellName, datum, stringName, knownAt }: LasHead, [start, stop]: readonly [number, number]): LasLog {
  const item = (mnemonic: string, value: string, description: string, unit = ''): LasItem => ({ mnemonic, unit, value: asciiText(value), description: asciiDescription(description) });
  return {
    well: { company: '', well: asciiText(wellName), field: '', location: '', region: { province: '' }, serviceCompany: '', date: knownAt.slice(0, 10).replaceAll('-', ' '), id: { uwi: '' } },
    moreOfWell: [],
    index: { mnemonic: 'DEPT', unit: 'M', description: 'MEASURED DEPTH', decimals: DECIMALS, start, stop, step: 0 },
    curves: CURVES,
    parameters: [
      item('STRG', stringName, 'CASING STRING'), item('WALLSIDE', wallName, 'OUTER OR INNER WALL'), item('KNOWNAT', knownAt, 'AS KNOWN AT THIS INSTANT, UTC'),
      item('DATUM', datum, 'DATUM OF MEASURED DEPTH'), item('SHOE', ((shoe?.mdMm ?? 0) / 1000).toFixed(DECIMALS), 'MEASURED DEPTH OF THE FOLD', 'M'),
    ],
    other: [...EVIDENCE_STATES.map((state, code) => `EVID ${code} is ${state}.`), 'A depth between two rows has the evidence of both where these are the same.', ...cautions].map(asciiText),
    nullValue: NULL_VALUE, mostLineCharacters: null,
  };
}
