import { localDay, type EventVariable, type Moment } from '#libs/validity';
import type { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import type { QualifiedAnswer } from '../qualified/qualified.dto.js';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import { procedureName } from '../weld-procedures/weld-procedure.rules.js';

/** Something that a piece of work does not rest on as it should: about what, and in words. */
export interface OpenPoint<About extends string> {
  readonly about: About;
  readonly words: string;
}

/** A reading as far as its instrument goes. */
export interface ReadWith {
  readonly instrumentId: string | null;
  /** The reading in words, such as `readings[0], current`. */
  readonly name: string;
}

/** Of a person: nothing when one of the qualifications covered the work. */
export function personOpen<About extends string>(about: About, { found, because }: Pick<QualifiedAnswer, 'found' | 'because'>): OpenPoint<About>[] {
  return found === 'covering' ? [] : [{ about, words: because }];
}

/** Of instruments: readings that name none, and instruments that were not good. */
export function instrumentsOpen(readings: readonly ReadWith[], standings: readonly InstrumentStandingAnswer[]): OpenPoint<'instrument'>[] {
  const unnamed = readings.flatMap(({ instrumentId, name }): OpenPoint<'instrument'>[] =>
    (instrumentId === null ? [{ about: 'instrument', words: `${name}, names no instrument on record` }] : []));
  const bad = standings.filter(({ state }) => state !== 'good').map(({ instrument, because }): OpenPoint<'instrument'> => ({ about: 'instrument', words: `${instrument.label} was ${because}` }));
  return [...unnamed, ...bad];
}

type Procedure = Pick<WeldProcedureVersion, 'number' | 'revision' | 'effectiveFrom' | 'test' | 'state' | 'purpose'>;

/** Of a procedure: that it was withdrawn, was never qualified by a test, or was not in force on the local day of the work. */
export function procedureOpen(moment: Moment, procedure: Procedure): OpenPoint<'procedure'>[] {
  const { effectiveFrom, test, state, purpose } = procedure;
  const name = procedureName(procedure);
  const about = 'procedure';
  return [
    ...(state === 'void' ? [{ about, words: `${name} was withdrawn` } as const] : []),
    ...(test === null ? [{ about, words: `${name}, for ${purpose}, has no record of a test that qualified it` } as const] : []),
    ...(localDay(moment) < effectiveFrom ? [{ about, words: `${name} is in force from ${effectiveFrom} only` } as const] : []),
  ];
}

/** Each variable once, as it was first reported: a qualification is held against one value of each. */
export function firstOfEach(variables: readonly EventVariable[]): EventVariable[] {
  return variables.filter(({ name }, index) => variables.findIndex((one) => one.name === name) === index);
}
