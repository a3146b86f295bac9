import { MAX_POSITION } from '#libs/signals';
import { PartError, shown, type PartFault } from './part-error.js';
import type { Direction } from './part.js';

/** Where in a part: its row, and its line where the part is a text. */
export type Place = Pick<PartFault, 'row' | 'line'>;

const LIMIT = '±2^52';

/** Whether a whole number can be a position. */
export const isWithin = (whole: number): boolean => whole <= MAX_POSITION && whole >= -MAX_POSITION;

export const positionBeyond = (name: string, at: Place, sent: string): PartError =>
  new PartError('wrong-position', `${placeText(at)}: position ${name} ${shown(sent)} is beyond what a position can be, ${LIMIT} steps`, { field: name, ...at, value: sent, limit: LIMIT });

export const wrongPosition = (name: string, at: Place, value: string, is: string): PartError =>
  new PartError('wrong-position', `${placeText(at)}: position ${name} ${shown(value)} ${is}`, { field: name, ...at, value });

export const missingPosition = (name: string, at: Place): PartError =>
  new PartError('wrong-position', `${placeText(at)}: position ${name} is missing`, { field: name, ...at });

export const notOfCounter = (decimals: number): string =>
  `is not a reading of the counter, which has ${decimals === 0 ? 'no decimals' : decimals === 1 ? 'one decimal' : `${decimals} decimals`}`;

export const placeText = ({ row, line }: Place): string => (line === undefined ? `row ${row ?? 0}` : `line ${line}`);

/**
 * A part goes one way: its positions do not fall where it goes forward, nor rise where it goes backward. They may stay: the
 * line may stand.
 * @throws PartError `wrong-order` naming the row and both positions
 */
export function demandDirection(positions: Float64Array, direction: Direction, name: string): void {
  const index = direction === 'forward' ? firstFall(positions) : firstRise(positions);
  if (index === -1) return;
  const [above, value] = [positions[index - 1] as number, positions[index] as number];
  throw new PartError('wrong-order', `row ${index + 1}: position ${value} ${direction === 'forward' ? 'lies below' : 'lies above'} ${above} of the row before, and the part goes ${direction}`, {
    field: name, row: index + 1, value: String(value), limit: String(above),
  });
}

function firstFall(positions: Float64Array): number {
  for (let index = 1; index < positions.length; index += 1) if ((positions[index] as number) < (positions[index - 1] as number)) return index;
  return -1;
}

function firstRise(positions: Float64Array): number {
  for (let index = 1; index < positions.length; index += 1) if ((positions[index] as number) > (positions[index - 1] as number)) return index;
  return -1;
}
