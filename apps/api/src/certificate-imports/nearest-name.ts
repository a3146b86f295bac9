/** The name of `names` that takes the fewest changes to write `text` so, letters of either case being the same. */
export function nearestOf(text: string, names: readonly string[]): string {
  const sought = text.slice(0, LONGEST_COMPARED).toLowerCase();
  let nearest = '';
  let least = Infinity;
  for (const name of names) {
    // A difference of case alone still counts for something: Ti and TI are nearer than Ti and Si.
    const changes = changesBetween(sought, name.toLowerCase()) + (name === text ? 0 : 0.5);
    if (changes < least) [nearest, least] = [name, changes];
  }
  return nearest;
}

const LONGEST_COMPARED = 40;

/** Least number of letters to insert, drop or replace (Levenshtein). */
function changesBetween(from: string, to: string): number {
  let above = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const replaced = (above[column - 1] ?? 0) + (from[row - 1] === to[column - 1] ? 0 : 1);
      current.push(Math.min(replaced, (above[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1));
    }
    above = current;
  }
  return above[to.length] ?? 0;
}
