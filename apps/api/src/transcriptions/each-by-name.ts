/**
 * Things by their names, in their order; where a name comes again, the second is `name (2)`, the third `name (3)`. None is
 * lost, also where a name is written like a counted one.
 */
export function eachByName<T>(things: readonly T[], nameOf: (thing: T) => string): Map<string, T> {
  const byName = new Map<string, T>();
  // Counted on from the last one of the name: a paper can say the same thing a thousand times.
  const counts = new Map<string, number>();
  for (const thing of things) {
    const name = nameOf(thing);
    let count = (counts.get(name) ?? 0) + 1;
    while (byName.has(counted(name, count))) count += 1;
    counts.set(name, count);
    byName.set(counted(name, count), thing);
  }
  return byName;
}

const counted = (name: string, count: number): string => (count === 1 ? name : `${name} (${count})`);
