import { compare, decimal } from '#libs/exact';
import type { Characteristic, StripUnit } from './characteristic.js';
import { findCharacteristic } from './characteristic.js';
import type { DocumentFault, En10168Field } from './en10168-document.js';
import { isInCodes } from './en10168-fields.js';
import type { PrintedValue } from './paper.js';

/** One field of EN 10168 as a printed value: what the code means, what it leaves open, and what is wrong with it. */

/** What the fields of a product say of all its mechanical tests. */
export interface TestContext {
  readonly location: string | null;
  readonly direction: string | null;
  readonly temperatureC: string | null;
  /** Hardness scale named by C30; null when none is. */
  readonly hardnessScale: string | null;
}

type Chosen = { readonly characteristic: Characteristic } | { readonly faults: readonly DocumentFault[] };
type Read = { readonly value: PrintedValue } | { readonly faults: readonly DocumentFault[] };

const fault = (path: string, text: string): { faults: DocumentFault[] } => ({ faults: [{ path, fault: text }] });

/** Whether a field of groups C and D holds a value that a paper has a place for; the others are text, or tests of other kinds. */
export function holdsValue({ code, characteristic, symbol }: En10168Field): boolean {
  if (['C11', 'C12', 'C13', 'C31', 'C32', 'C42', 'C43'].includes(code) || isInCodes(code, 'C71', 'C92')) return true;
  if (isInCodes(code, 'C93', 'C99')) return symbol !== undefined;
  return characteristic !== undefined && (isInCodes(code, 'C14', 'C29') || code === 'D01');
}

/** The value of one field, or all that is wrong with it. */
export function readValue(path: string, field: En10168Field, context: TestContext): Read {
  const chosen = chooseCharacteristic(path, field, context);
  const faults = [...('faults' in chosen ? chosen.faults : []), ...checkTexts(path, field)];
  if ('faults' in chosen) return { faults };
  const { characteristic } = chosen;
  const unit = unitOf(characteristic, field.unit);
  if (unit === null) {
    const units = characteristic.units.join(', ');
    faults.push({ path: `${path}.unit`, fault: `${characteristic.code} is printed in ${units}, not ${field.unit ?? 'without a unit'}` });
  }
  const isChemical = characteristic.kind === 'chemistry' || characteristic.kind === 'carbon-equivalent';
  if (isChemical && field.analysis === undefined) faults.push({ path: `${path}.analysis`, fault: 'say whether of the heat or of the product' });
  if (!isChemical && field.analysis !== undefined) faults.push({ path: `${path}.analysis`, fault: `${characteristic.code} has no analysis` });
  return unit === null || faults.length > 0 ? { faults } : { value: printedValue(characteristic, unit, field, context) };
}

function printedValue(characteristic: Characteristic, unit: StripUnit, field: En10168Field, context: TestContext): PrintedValue {
  const isTest = ['tensile', 'hardness', 'impact'].includes(characteristic.kind);
  return {
    characteristic: characteristic.code,
    analysis: field.analysis ?? null,
    printed: field.value,
    unit,
    multiplier: field.multiplier ?? '1',
    expandedU: field.expandedU ?? null,
    temperatureC: field.temperatureC ?? (characteristic.kind === 'impact' ? context.temperatureC : null),
    baseMm: field.baseMm ?? null,
    location: field.location ?? (isTest ? context.location : null),
    direction: field.direction ?? (isTest ? context.direction : null),
  };
}

function chooseCharacteristic(path: string, field: En10168Field, context: TestContext): Chosen {
  const { code } = field;
  if (isInCodes(code, 'C71', 'C99')) return chemical(path, field);
  if (code === 'C11') return ofFamily(path, field.characteristic, 'yield', 'say which yield or proof strength it is: ReH, ReL, Rp0.2, Rt0.5 …');
  if (code === 'C13') return ofFamily(path, field.characteristic, 'elongation', 'say on which gauge length it was measured: A, A50mm, A80mm, A2in');
  if (code === 'C31' || code === 'C32') return hardness(path, field, context);
  if (code === 'C12') return fixed(path, field.characteristic, 'Rm');
  if (code === 'C42' || code === 'C43') return fixed(path, field.characteristic, 'KV2');
  return ofKind(path, field.characteristic ?? '', isInCodes(code, 'C14', 'C29') ? 'tensile' : 'dimension');
}

function chemical(path: string, { code, symbol }: En10168Field): Chosen {
  const found = findCharacteristic(symbol ?? '');
  if (found !== null && (found.kind === 'chemistry' || found.kind === 'carbon-equivalent')) return { characteristic: found };
  if (symbol === undefined) return fault(`${path}.symbol`, `${code} does not say which element it holds: state its symbol`);
  return fault(`${path}.symbol`, `not an element, a sum of elements or a carbon equivalent: ${JSON.stringify(symbol)}`);
}

function hardness(path: string, { characteristic }: En10168Field, { hardnessScale }: TestContext): Chosen {
  if (characteristic !== undefined && hardnessScale !== null && characteristic !== hardnessScale) {
    return fault(`${path}.characteristic`, `C30 names the scale ${hardnessScale}, this field ${characteristic}`);
  }
  return ofFamily(path, characteristic ?? hardnessScale ?? undefined, 'hardness', 'say on which hardness scale it was measured: HV10, HBW, HRC …');
}

function ofFamily(path: string, code: string | undefined, family: NonNullable<Characteristic['family']>, ask: string): Chosen {
  const found = code === undefined ? null : findCharacteristic(code);
  if (found?.family === family) return { characteristic: found };
  return fault(`${path}.characteristic`, code === undefined ? ask : `${ask}; not ${JSON.stringify(code)}`);
}

function fixed(path: string, stated: string | undefined, code: string): Chosen {
  const found = findCharacteristic(code);
  if (found !== null && (stated === undefined || stated === code)) return { characteristic: found };
  return fault(`${path}.characteristic`, `the field holds ${code}, not ${JSON.stringify(stated)}`);
}

function ofKind(path: string, code: string, kind: Characteristic['kind']): Chosen {
  const found = findCharacteristic(code);
  return found?.kind === kind ? { characteristic: found } : fault(`${path}.characteristic`, `not a ${kind} characteristic: ${JSON.stringify(code)}`);
}

/** The unit as characteristics name it; null when the value cannot be in it. Certificates print the square as ² too. */
function unitOf({ units }: Characteristic, text: string | null | undefined): StripUnit | null {
  const name = text?.replace('²', '2');
  return units.find((unit) => unit === name) ?? null;
}

function checkTexts(path: string, field: En10168Field): DocumentFault[] {
  const faults: DocumentFault[] = [];
  const number = (name: 'multiplier' | 'expandedU' | 'temperatureC' | 'baseMm', isAllowed: (text: string) => boolean, what: string): void => {
    const text = field[name];
    if (text !== undefined && !isAllowed(text)) faults.push({ path: `${path}.${name}`, fault: `not ${what}: ${JSON.stringify(text)}` });
  };
  if (!isDecimal(field.value.replace(/^[<>≤≥] ?/, ''))) {
    faults.push({ path: `${path}.value`, fault: `not a number with a decimal point: ${JSON.stringify(field.value)}` });
  }
  number('multiplier', isOverZero, 'a number over 0');
  number('baseMm', isOverZero, 'a number over 0');
  number('expandedU', (text) => isDecimal(text) && !text.startsWith('-'), 'a number of 0 or more');
  number('temperatureC', isDecimal, 'a number');
  return faults;
}

const isDecimal = (text: string): boolean => /^-?\d+(\.\d+)?$/.test(text);
const isOverZero = (text: string): boolean => isDecimal(text) && compare(decimal(text), decimal('0')) > 0;
