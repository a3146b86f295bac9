import type { Inspection } from './inspection.entity.js';

/** What of an inspection tells what was seen, where, when, by whom and with what: of a long string there are very many. */
export const SEEN_PROPERTIES = [
  'id', 'version', 'knownFrom', 'enteredAt', 'observedAt', 'state', 'doneBy', 'span', 'kind', 'characteristic', 'value', 'unit', 'surface', 'instrumentId', 'verdict',
] as const satisfies readonly (keyof Inspection)[];

export type SeenInspection = Pick<Inspection, (typeof SEEN_PROPERTIES)[number]>;
