/** @example counted(2, 'signal') // '2 signals' */
export const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;
