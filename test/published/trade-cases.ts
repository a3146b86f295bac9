import { readFileSync } from 'node:fs';
import { expect } from '@jest/globals';

/** Values of the trade from named sources, kept as cases in test/fixtures/trade. */
export interface Expected {
  readonly name: string;
  readonly value: unknown;
  readonly printed_decimals: number | null;
  readonly unit: string;
  /** Where half a unit of the last printed place is too strict, and the case says why. */
  readonly tolerance?: number;
  readonly published?: boolean;
}

export interface TradeCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly from_memory: boolean;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly Expected[];
}

export function tradeCases(fileName: string): readonly TradeCase[] {
  const file = new URL(`../fixtures/trade/${fileName}`, import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { cases: readonly TradeCase[] }).cases;
}

/** The name of the test of a case: what it is, where it comes from, and how far it can be trusted. */
export function titleOf({ id, title, source, from_memory, expected }: TradeCase): string {
  const memory = from_memory ? ' (from memory)' : '';
  const computed = expected.some(({ published }) => published === false) ? ' (values evaluated from the formula, not printed)' : '';
  return `${id}: ${title} - ${source}${memory}${computed}`;
}

export function titled(cases: readonly TradeCase[]): [string, TradeCase][] {
  return cases.map((given) => [titleOf(given), given]);
}

/** The check that belongs to a case; a case without one fails. */
export function checkOf<T>(checks: Readonly<Record<string, T>>, { id }: TradeCase): T {
  const check = checks[id];
  if (check === undefined) throw new Error(`no check for case ${id}`);
  return check;
}

export function expectedOf(given: TradeCase, name: string): Expected {
  const found = given.expected.find((one) => one.name === name);
  if (found === undefined) throw new Error(`case ${given.id} expects nothing named ${name}`);
  return found;
}

export function expectedNumber(given: TradeCase, name: string): number {
  return numberOf(expectedOf(given, name).value);
}

export function expectedNames(given: TradeCase): string[] {
  return given.expected.map(({ name }) => name);
}

export function inputNumber(given: TradeCase, name: string): number {
  return numberOf(given.inputs[name]);
}

export function inputNumbers(given: TradeCase, name: string): number[] {
  const list = given.inputs[name];
  if (!Array.isArray(list)) throw new Error(`case ${given.id} has no list of inputs named ${name}`);
  return list.map(numberOf);
}

export function inputText(given: TradeCase, name: string): string {
  const text = given.inputs[name];
  if (typeof text !== 'string') throw new Error(`case ${given.id} has no text named ${name}`);
  return text;
}

/** The number with exactly the digits that the source prints. */
export function printedText(expected: Expected): string {
  if (expected.printed_decimals === null) throw new Error(`${expected.name} is no printed number`);
  return numberOf(expected.value).toFixed(expected.printed_decimals);
}

/** Half a unit of the last printed place; for a last place before the point too. */
export function expectPrinted(found: number, expected: Expected): void {
  if (expected.printed_decimals === null) throw new Error(`${expected.name} is no printed number`);
  expect(Math.abs(found - numberOf(expected.value))).toBeLessThanOrEqual(0.5 * 10 ** -expected.printed_decimals);
}

function numberOf(value: unknown): number {
  if (typeof value !== 'number') throw new Error(`not a number: ${String(value)}`);
  return value;
}
