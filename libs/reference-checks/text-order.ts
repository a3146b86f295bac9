/** Which of two texts comes first, by their code units; for `sort`. */
export const textOrder = (one: string, other: string): number => (one < other ? -1 : Number(one > other));
