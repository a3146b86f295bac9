import type { LasCurve, LasLog } from '#libs/las';

export const curveOf = (mnemonic: string, changes: Partial<LasCurve> = {}): LasCurve => ({ mnemonic, unit: 'MM', code: '', description: `CURVE ${mnemonic}`, numbers: 'double', ...changes });

/** A log of two curves over rows at 2.840, 3.040 and 3.240 m. */
export function logOf(changes: Partial<LasLog> = {}, index: Partial<LasLog['index']> = {}): LasLog {
  return {
    well: { company: 'Blue Works', well: 'B-7', field: '', location: '12.5 N: pad 3', region: { province: 'Northshire' }, serviceCompany: 'Everymetre', date: '2026 11 26', id: { uwi: '' } },
    moreOfWell: [], curves: [curveOf('WALL'), curveOf('GAP')], parameters: [], other: [], nullValue: '-999.25', mostLineCharacters: null, ...changes,
    index: { mnemonic: 'DEPT', unit: 'M', description: 'MEASURED DEPTH', decimals: 3, start: 2840, stop: 3240, step: 0, ...index },
  };
}
