/** One demand on a test and whether it is met, for a person to read. */
export interface NamedCheck {
  readonly name: string;
  /** What was not recorded is not met, and not broken either. */
  readonly outcome: 'met' | 'not met' | 'not recorded';
  /** With its unit; null: nobody recorded it. */
  readonly found: string | null;
  readonly demanded: string;
  /** What was found and what is demanded, with units. */
  readonly words: string;
  readonly source: string;
}

/** What was found, as it was written; null: nobody recorded it. */
export interface Finding {
  readonly what: string;
  readonly found: string | null;
  readonly unit: string;
  readonly demanded: string;
}

/** The check of this finding; `isMet` counts only where something was found. */
export function namedCheck(name: string, { what, found, unit, demanded }: Finding, isMet: boolean, source: string): NamedCheck {
  if (found === null) return { name, outcome: 'not recorded', found, demanded, words: `${what} is not recorded; demanded: ${demanded}`, source };
  const withUnit = `${found} ${unit}`;
  return { name, outcome: isMet ? 'met' : 'not met', found: withUnit, demanded, words: `${what} ${withUnit}; demanded: ${demanded}`, source };
}
