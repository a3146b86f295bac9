/** The condition on rows whose `readings` name one of the instruments in its first parameter, which `readWith` makes. */
export const READ_WITH = "readings @> any($1::jsonb[]) and state = 'active'";

export const readWith = (instrumentIds: readonly string[]): string[] => instrumentIds.map((instrumentId) => JSON.stringify([{ instrumentId }]));
