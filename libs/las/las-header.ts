import { isLasText } from './ascii-text.js';
import { isPlainDecimal, scaledText } from './decimal-text.js';
import { LasError } from './las-error.js';
import { itemLines } from './las-lines.js';
import type { LasIndex, LasItem, LasLog, LasWell } from './las-log.js';

const DEPTH_UNITS: ReadonlySet<string> = new Set(['M', 'F', 'FT']);
const MOST_DECIMALS = 12;

/** All lines before ~A. Throws LasError that names the item or curve. */
export function headerLines(log: LasLog): string[] {
  demandIndex(log.index);
  if (!isPlainDecimal(log.nullValue)) throw new LasError('null', 'NULL', `is not a plain decimal: ${JSON.stringify(log.nullValue)}`);
  const { index, curves, parameters } = log;
  const columns = [{ ...index, value: '' }, ...curves.map(({ code, ...curve }) => ({ ...curve, value: code }))];
  return [
    '~Version Information', ...itemLines([item('VERS', '2.0', 'CWLS LOG ASCII STANDARD - VERSION 2.0'), item('WRAP', 'NO', 'ONE LINE PER DEPTH STEP')]),
    '~Well Information', ...itemLines([...extent(log), ...wellItems(log.well), ...log.moreOfWell]),
    '~Curve Information', ...itemLines(columns),
    ...(parameters.length === 0 ? [] : ['~Parameter Information', ...itemLines(parameters)]),
    ...(log.other.length === 0 ? [] : ['~Other', ...log.other.map(otherLine)]),
  ];
}

const item = (mnemonic: string, value: string, description: string, unit = ''): LasItem => ({ mnemonic, unit, value, description });

/** STRT, STOP and STEP have the unit of the index (5.4). */
function extent({ index, nullValue }: LasLog): LasItem[] {
  const text = (whole: number): string => scaledText(whole, index.decimals);
  const what = index.mnemonic === 'TIME' ? 'TIME' : 'DEPTH';
  return [
    item('STRT', text(index.start), `START ${what}`, index.unit), item('STOP', text(index.stop), `STOP ${what}`, index.unit),
    item('STEP', text(index.step), index.step === 0 ? 'STEP, NOT CONSTANT' : 'STEP', index.unit), item('NULL', nullValue, 'NULL VALUE'),
  ];
}

function wellItems({ company, well, field, location, region, serviceCompany, date, id }: LasWell): LasItem[] {
  const regions = 'province' in region
    ? [item('PROV', region.province, 'PROVINCE')]
    : [item('CNTY', region.county, 'COUNTY'), item('STAT', region.state, 'STATE'), item('CTRY', region.country, 'COUNTRY')];
  return [
    item('COMP', company, 'COMPANY'), item('WELL', well, 'WELL'), item('FLD', field, 'FIELD'), item('LOC', location, 'LOCATION'), ...regions,
    item('SRVC', serviceCompany, 'SERVICE COMPANY'), item('DATE', date, 'DATE'),
    'uwi' in id ? item('UWI', id.uwi, 'UNIQUE WELL ID') : item('API', id.api, 'API NUMBER'),
  ];
}

function otherLine(line: string, at: number): string {
  const name = `line ${at + 1} of ~O`;
  if (!isLasText(line)) throw new LasError('text', name, `has ASCII signs from space to ~: ${JSON.stringify(line)}`);
  if (/^ *[~#]/.test(line)) throw new LasError('text', name, 'a line that begins with ~ or # would be read as a section or left out');
  return line;
}

/** A depth and its unit, whole numbers, and with a step: start and stop whole multiples of it, and stop reached by it (5.4). */
function demandIndex({ mnemonic, unit, decimals, start, stop, step }: LasIndex): void {
  const refuse = (fault: 'index' | 'step', why: string): never => { throw new LasError(fault, mnemonic, why); };
  if (mnemonic !== 'TIME' && !DEPTH_UNITS.has(unit)) refuse('index', `the unit of a depth is M, F or FT: ${JSON.stringify(unit)}`);
  if (!Number.isSafeInteger(decimals) || decimals < 0 || decimals > MOST_DECIMALS) refuse('index', `decimals must be from 0 to ${MOST_DECIMALS}: ${decimals}`);
  for (const [name, value] of Object.entries({ start, stop, step })) if (!Number.isSafeInteger(value)) refuse('index', `${name} is no safe whole number: ${value}`);
  if (mnemonic === 'TIME' && stop < start) refuse('index', `a time must rise: from ${start} to ${stop}`);
  if (step === 0) return;
  if (start % step !== 0 || stop % step !== 0) refuse('step', `start ${start} and stop ${stop} must be whole multiples of step ${step}; where they are not, step is 0`);
  if ((stop - start) / step < 0) refuse('step', `step ${step} leads away from stop: from ${start} to ${stop}`);
}
