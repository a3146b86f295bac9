import { readFileSync } from 'node:fs';
import { expect } from '@jest/globals';

/** Values of statistical process control from named sources, kept as cases in test/fixtures/spc. */
export interface SpcExpected {
  readonly name: string;
  readonly value: unknown;
  /** False for a value that was only computed, by the program that the case names. */
  readonly published: boolean;
  /** A printed value computed again, to about 13 digits. */
  readonly computed?: unknown;
  /** What the exact result may differ from the printed value by. */
  readonly tolerance?: number | readonly number[];
  readonly from_memory?: boolean;
}

export interface SpcCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly SpcExpected[];
}

/** What is checked of each case, by the name of the expected value; and what belongs to somebody else, by owner. */
export type SpcChecks = Readonly<Record<string, Readonly<Record<string, (given: SpcCase, expected: SpcExpected) => void>>>>;
export type SpcLeft = Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;

export function spcCases(fileName: string): readonly SpcCase[] {
  const file = new URL(`../fixtures/spc/${fileName}`, import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { cases: readonly SpcCase[] }).cases;
}

export function spcCase(fileName: string, id: string): SpcCase {
  const found = spcCases(fileName).find((one) => one.id === id);
  if (found === undefined) throw new Error(`${fileName} has no case ${id}`);
  return found;
}

/** Every expected value that has a check, with the name of its test: what it is, where it comes from, how far it is trusted. */
export function checked(cases: readonly SpcCase[], checks: SpcChecks): [title: string, given: SpcCase, expected: SpcExpected][] {
  return cases.flatMap((given) => given.expected.filter(({ name }) => checks[given.id]?.[name] !== undefined).map((expected) => {
    const trust = expected.published ? (expected.from_memory === true ? ' (from memory)' : '') : ' (computed from the formula, not printed)';
    return [`${given.id}, ${expected.name}${trust} - ${given.source}`, given, expected] as [string, SpcCase, SpcExpected];
  }));
}

/** `case: value` for all that a file holds, and for all that is checked or left to somebody; the two must be the same. */
export function held(cases: readonly SpcCase[]): string[] {
  return cases.flatMap(({ id, expected }) => expected.map(({ name }) => `${id}: ${name}`)).sort();
}

export function accountedFor(checks: SpcChecks, left: SpcLeft): string[] {
  const own = Object.entries(checks).flatMap(([id, names]) => Object.keys(names).map((name) => `${id}: ${name}`));
  const others = Object.values(left).flatMap((byCase) => Object.entries(byCase).flatMap(([id, names]) => names.map((name) => `${id}: ${name}`)));
  return [...own, ...others].sort();
}

/** To the printed digits within the bound given for them, and to the computed digits at the accuracy of a double. */
export function expectNumber(found: number, { value, published, computed, tolerance }: SpcExpected, relative = 1e-11): void {
  if (published && tolerance !== undefined) expect(Math.abs(found - numberOf(value))).toBeLessThanOrEqual(numberOf(tolerance));
  const exact = published ? numberOf(computed) : numberOf(value);
  expect(Math.abs(found - exact)).toBeLessThanOrEqual(relative * Math.max(Math.abs(exact), 1e-300));
}

/** The same for a list, each cell with its own bound where a list of them is given. */
export function expectNumbers(found: readonly number[], expected: SpcExpected, relative?: number): void {
  const [values, computed] = [expected.value, expected.computed].map((list) => list as readonly unknown[] | undefined);
  expect(found).toHaveLength(values?.length ?? NaN);
  found.forEach((one, index) => {
    const tolerance = Array.isArray(expected.tolerance) ? (expected.tolerance as readonly number[])[index] : expected.tolerance;
    expectNumber(one, { ...expected, value: values?.[index], computed: computed?.[index], ...(tolerance === undefined ? {} : { tolerance }) }, relative);
  });
}

export function inputOf({ id, inputs }: SpcCase, name: string): number {
  const value = inputs[name];
  if (typeof value !== 'number') throw new Error(`case ${id} has no number named ${name}`);
  return value;
}

export function inputsOf({ id, inputs }: SpcCase, name: string): number[] {
  const list = inputs[name];
  if (!Array.isArray(list)) throw new Error(`case ${id} has no list named ${name}`);
  return list.map(numberOf);
}

/** A number, or the text of one with more digits than a double has. */
export function numberOf(value: unknown): number {
  const found = typeof value === 'string' ? Number(value) : value;
  if (typeof found !== 'number' || Number.isNaN(found)) throw new Error(`not a number: ${JSON.stringify(value)}`);
  return found;
}
