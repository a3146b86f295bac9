import { LengthError } from '#libs/length';

/** Why something cannot be told from the records: a stable code, and words. */
export interface WhyNot {
  readonly code: string;
  readonly detail: string;
}

export type Attempt<T> = { readonly found: T; readonly why: null } | { readonly found: null; readonly why: WhyNot };

/** What `work` gives, or why the records cannot tell: for the parts of an answer that may be missing. */
export function attempt<T>(work: () => T): Attempt<T> {
  try {
    return { found: work(), why: null };
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    return { found: null, why: { code: error.code, detail: error.message } };
  }
}
