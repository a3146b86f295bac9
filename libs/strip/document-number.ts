/**
 * Numbers of heats, coils and documents as people copy them. Normal forms find the same number written differently; near
 * matches warn of a slip of reading or typing. Neither ever merges two records: a person decides.
 * The list of slips is common practice, no published source.
 */

/** Hyphen-minus, the hyphens and dashes of Unicode, the minus sign, small and fullwidth forms; slashes; underscores; white space. */
const SEPARATORS = /[-\u00ad\u058a\u05be\u1400\u1806\u2010-\u2015\u2043\u207b\u208b\u2212\u2e3a\u2e3b\ufe58\ufe63\uff0d/\\\u2044\u2215\uff0f_\s]+/gu;

/** Characters that are read for one another, in capitals. */
const CONFUSIONS: readonly string[] = ['0O', '1IL', '5S', '8B', '2Z'];
const READ_AS: ReadonlyMap<string, string> = new Map(CONFUSIONS.flatMap((group) => [...group].map((one) => [one, group.charAt(0)])));

export type NearMatch =
  | 'written differently' | 'letters and digits that look alike' | 'a hyphen, space or slash lost' | 'a zero lost'
  | 'two neighbouring digits swapped' | 'one digit different';

/**
 * The number without what people write as they please: small letters, fullwidth forms, spaces, hyphens and dashes, slashes,
 * and the leading zeros of each group of digits. Different numbers can have one normal form (12-03 and 123).
 */
export function normalNumber(text: string): string {
  const groups = withoutLeadingZeros(capitals(text).replace(SEPARATORS, '-'));
  // Joined groups may begin with the one zero of a group that was nothing else.
  return withoutLeadingZeros(groups.replaceAll('-', ''));
}

function withoutLeadingZeros(text: string): string {
  return text.replace(/(?<!\d)0+(?=\d)/g, '');
}

/**
 * Whether two numbers that are not the same text are easily taken for one another, and why. Symmetric. Numbers given in
 * sequence differ in one digit: ask only where both should mean the same thing.
 */
export function likeNumber(a: string, b: string): { alike: true; because: NearMatch } | { alike: false } {
  const [compactA, compactB] = [compact(a), compact(b)];
  if (a === b || compactA === '' || compactB === '') return { alike: false };
  const [normalA, normalB] = [normalNumber(a), normalNumber(b)];
  const pairs = [[compactA, compactB], [normalA, normalB]] as const;
  const because = ((): NearMatch | null => {
    if (normalA === normalB) return 'written differently';
    if (normalNumber(readAs(a)) === normalNumber(readAs(b))) return 'letters and digits that look alike';
    if (compactA === compactB) return 'a hyphen, space or slash lost';
    if (pairs.some(([one, other]) => oneZeroLost(one, other) || oneZeroLost(other, one))) return 'a zero lost';
    if (pairs.some(([one, other]) => digitsSwapped(one, other))) return 'two neighbouring digits swapped';
    return pairs.some(([one, other]) => oneDigitDiffers(one, other)) ? 'one digit different' : null;
  })();
  return because === null ? { alike: false } : { alike: true, because };
}

function capitals(text: string): string {
  return text.normalize('NFKC').toUpperCase();
}

function compact(text: string): string {
  return capitals(text).replace(SEPARATORS, '');
}

function readAs(text: string): string {
  return Array.from(capitals(text), (one) => READ_AS.get(one) ?? one).join('');
}

/** Whether `shorter` is `longer` with one of its zeros left out. */
function oneZeroLost(longer: string, shorter: string): boolean {
  // Where a zero of a run was lost, the first difference is at the last zero of the run.
  const at = firstDifference(longer, shorter);
  return longer.charAt(at) === '0' && longer.slice(0, at) + longer.slice(at + 1) === shorter;
}

function digitsSwapped(a: string, b: string): boolean {
  const at = firstDifference(a, b);
  const [one, next] = [a.charAt(at), a.charAt(at + 1)];
  return isDigit(one) && isDigit(next) && a.slice(0, at) + next + one + a.slice(at + 2) === b;
}

function oneDigitDiffers(a: string, b: string): boolean {
  const at = firstDifference(a, b);
  return a.length === b.length && isDigit(a.charAt(at)) && isDigit(b.charAt(at)) && a.slice(at + 1) === b.slice(at + 1);
}

/** Index of the first character in which they differ; the length of the shorter one when it begins the other. */
function firstDifference(a: string, b: string): number {
  let at = 0;
  while (at < a.length && at < b.length && a.charAt(at) === b.charAt(at)) at += 1;
  return at;
}

function isDigit(text: string): boolean {
  return /^\d$/.test(text);
}
