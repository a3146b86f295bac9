/** A revision as it is on record. */
export interface NumberedRevision {
  readonly number: string;
  readonly revision: number;
}

/** A word for a revision, and what stands after it. */
const REVISION_WORD = /(?<![\p{L}\d])(?:(?:REV(?:ISION)?|ISSUE)(?!\p{L})|R(?=\d))[^\p{L}\d]*([\p{L}\d]+)/u;
/** A number that stands right after the specification's: `STS-12/4`, `STS-12 (4)`. */
const NUMBER_AFTER = /^[-./ ,:(]*(\d+)(?![\p{L}\d])/u;
/** What is tied to the number is a part of it, unless it is the revision: `STS-12-A rev 4` is another specification. */
const TIED = /^[-./]([\p{L}\d]+)/u;

/**
 * Whether a specification as a paper prints it is this one, and no other revision of it: `STS-12 rev 4`, `STS-12/4`, and
 * `STS-12`, which names no revision, are revision 4 of STS-12; `STS-123 rev 4` is another one. Case does not matter.
 * Common practice, no published source.
 */
export function namesRevision(printed: string, { number, revision }: NumberedRevision): boolean {
  const text = printed.toUpperCase();
  return placesOf(number.trim().toUpperCase(), text).some((end) => isRevision(text.slice(end), revision));
}

/** Where the number ends, as a word of its own, each time it stands in the text. */
function placesOf(number: string, text: string): number[] {
  const ends: number[] = [];
  for (let at = text.indexOf(number); at >= 0 && number !== ''; at = text.indexOf(number, at + 1)) {
    const end = at + number.length;
    if (!/[\p{L}\d]$/u.test(text.slice(0, at)) && !/^[\p{L}\d]/u.test(text.slice(end))) ends.push(end);
  }
  return ends;
}

function isRevision(rest: string, revision: number): boolean {
  const worded = REVISION_WORD.exec(rest);
  const tied = worded?.index === 1 ? undefined : TIED.exec(rest)?.[1];
  if (tied !== undefined && Number(tied) !== revision) return false;
  const said = worded?.[1] ?? NUMBER_AFTER.exec(rest)?.[1];
  return said === undefined || Number(said) === revision;
}
