import { v7 as uuidv7 } from 'uuid';
import type { BadField, Dice, EntryFault, Fields, Stage } from './bad-entries.js';
import type { EntryWorld } from './entry-world.js';

type Value = (world: EntryWorld, dice: Dice, entry: Fields) => unknown;

interface Changes {
  /** What else it changes or rests on, beside its field. */
  readonly touches?: readonly string[];
  /** Fields to set besides, so that just this fault is there. */
  readonly besides?: (world: EntryWorld, entry: Fields) => Fields;
  /** What must be named where it is not the field with its value. */
  readonly named?: (value: unknown, world: EntryWorld, entry: Fields) => readonly BadField[];
  readonly status?: number;
  readonly part?: number;
}

/** A fault at one field: a value drawn for it, which the answer must name. */
const at = (stage: Stage) => (name: string, field: string, value: Value, changes: Changes = {}): EntryFault => ({
  name, stage, touches: [field, ...(changes.touches ?? [])],
  ...(changes.status === undefined ? {} : { status: changes.status }), ...(changes.part === undefined ? {} : { part: changes.part }),
  spoil: (entry, world, dice) => {
    const drawn = value(world, dice, entry);
    for (const [besides, what] of Object.entries(changes.besides?.(world, entry) ?? {})) put(entry, besides, what);
    put(entry, field, drawn);
    return changes.named?.(drawn, world, entry) ?? [{ field, value: drawn ?? null }];
  },
});

/** A field out of form: 400 before anything else is looked at. */
export const outOfForm = (field: string, ...values: unknown[]): EntryFault => at('form')(`${field} out of form`, field, (_, dice) => dice.of(values));
export const impossible = at('impossible');
export const contradiction = at('contradiction');
export const reference = at('reference');
export const agreement = at('agreement');
export const atWrite = at('write');

export const oneOf = (...values: unknown[]): Value => (_, dice) => dice.of(values);

/** References of one field that lead nowhere: to nothing, and to what `places` of the world name. */
export function leadsNowhere(field: string, places: readonly (keyof EntryWorld)[], changes: Changes = {}): EntryFault[] {
  return [
    reference(`${field} of nothing`, field, () => uuidv7(), changes),
    ...places.map((place) => reference(`${field}: ${place}`, field, (world) => world[place], changes)),
  ];
}

/** What can be wrong with every entry: a day that no calendar has, no time, a person that nobody is. */
export const EVERYWHERE: readonly EntryFault[] = [
  outOfForm('observedAt', '2026-02-30T08:00:00Z', '2026-03-02 08:00', '02.03.2026', '2026-03-02T25:00:00Z', '2026-03-02T08:00:00', '0026-03-02T08:00:00Z'),
  at('form')('no time', 'observedAt', () => undefined),
  at('doer')('doneBy of nothing', 'doneBy', () => uuidv7()),
];

/** Sets a field, such as `readings[0].printed`, of an entry. */
export function put(entry: Fields, path: string, value: unknown): void {
  const steps = path.split(/[.[\]]+/).filter((step) => step !== '');
  const last = steps.pop() ?? '';
  const holder = steps.reduce<Fields>((part, step) => part[step] as Fields, entry);
  if (value === undefined) Reflect.deleteProperty(holder, last);
  else holder[last] = value;
}
