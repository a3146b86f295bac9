import { type Analysis, type Characteristic, findCharacteristic, type StripUnit } from '#libs/strip';
import { shownText } from './csv-fault.js';

/** What the header of a value column says of each value below it. */
export interface ValueHeader {
  readonly characteristic: Characteristic;
  readonly analysis: Analysis | null;
  readonly temperatureC: string | null;
  readonly baseMm: string | null;
  readonly multiplier: string;
  readonly unit: StripUnit;
}

/** The grammar in words, as the documentation shows it. */
export const VALUE_HEADER_GRAMMAR = '<code>[ heat|product][ @<temperature>][ over <baseMm>][ x<multiplier>] [<unit>]';

const WITH_UNIT = /^(.*?) ?\[([^\]]*)\]$/;
const PARTS = /^(?: (heat|product))?(?: @(\S+))?(?: over (\S+))?(?: [x×](\S+))?$/;
const TEMPERATURE = /^-?\d{1,3}(?:\.\d)?$/;
const ABSOLUTE_ZERO_C = -273.1;
const HIGHEST_TEST_C = 400;
const BASE = /^[1-9]\d{1,5}$/;
const MULTIPLIER = /^10{0,6}$/;

/** The code that a header begins with, whether or not there is such a characteristic. */
export const codeOf = (header: string): string => header.split(/[ []/, 1)[0] ?? '';

/** Reads the header of a value column whose code is known; a sentence with the limit when it is out of form. */
export function readValueHeader(header: string, characteristic: Characteristic): ValueHeader | string {
  const { code, units } = characteristic;
  const withUnit = WITH_UNIT.exec(header);
  if (withUnit === null) return `The unit is missing: write it in brackets at the end, such as ${shownText(header.split(' [', 1)[0] ?? code)} [${units[0] ?? ''}].`;
  const [, before = '', unitText = ''] = withUnit;
  const unit = units.find((one) => one === unitText);
  if (unit === undefined) return `The unit “${shownText(unitText)}” is not one of ${code}: ${units.join(', ')} ${units.length > 1 ? 'are' : 'is'} taken.`;
  const parts = PARTS.exec(before.slice(code.length));
  if (parts === null) return `After the code stand, each where it applies and in this order: heat or product, @temperature, over base length in mm, x multiplier. The form is ${VALUE_HEADER_GRAMMAR}.`;
  const [, analysis, temperatureC, baseMm, multiplier = '1'] = parts;
  const fault = analysisFault(characteristic, analysis) ?? temperatureFault(characteristic, temperatureC) ?? baseFault(characteristic, baseMm) ?? multiplierFault(multiplier);
  if (fault !== null) return fault;
  const analysed = isAnalysed(characteristic);
  return {
    characteristic, unit, multiplier,
    analysis: !analysed ? null : analysis === 'product' ? 'product' : 'heat',
    temperatureC: temperatureC ?? null,
    baseMm: baseMm ?? null,
  };
}

const isAnalysed = ({ kind }: Characteristic): boolean => kind === 'chemistry' || kind === 'carbon-equivalent';

function analysisFault(characteristic: Characteristic, analysis: string | undefined): string | null {
  if (analysis === undefined || isAnalysed(characteristic)) return null;
  return `“${analysis}” tells which analysis a chemical value is from; ${characteristic.code} is none. Leave it out.`;
}

function temperatureFault({ kind, code }: Characteristic, text: string | undefined): string | null {
  if (text === undefined) return null;
  if (kind !== 'impact') return `A test temperature is taken for impact tests only; ${code} is none. Leave it out.`;
  const possible = TEMPERATURE.test(text) && Number(text) >= ABSOLUTE_ZERO_C && Number(text) <= HIGHEST_TEST_C;
  return possible ? null : `“@${shownText(text)}” is no test temperature: degrees Celsius from ${ABSOLUTE_ZERO_C} to ${HIGHEST_TEST_C}, such as @-20.`;
}

function baseFault({ code }: Characteristic, text: string | undefined): string | null {
  if (code !== 'camber') return text === undefined ? null : `A base length is taken for camber only. Leave “over ${shownText(text)}” out.`;
  if (text === undefined) return 'Camber is told over a base length: write it in mm, such as camber over 2000 [mm].';
  return BASE.test(text) ? null : `“over ${shownText(text)}” is no base length: whole millimetres from 10 to 999999, such as over 2000.`;
}

const multiplierFault = (text: string): string | null =>
  MULTIPLIER.test(text) ? null : `“x${shownText(text)}” is no multiplier: a power of ten from x1 to x1000000, such as x1000.`;

/** What tells a value column from the others: two columns may not be the same in all of this. */
export const identityOf = ({ characteristic, analysis, temperatureC, baseMm }: ValueHeader): string =>
  [characteristic.code, analysis ?? '', temperatureC === null ? '' : Number(temperatureC), baseMm ?? ''].join(' ');

/** The characteristic that a header names, or null. */
export const characteristicOf = (header: string): Characteristic | null => findCharacteristic(codeOf(header));

