/** Binary search: the last index of a sequence on which `holds` is true up to some point and false after it; −1 when nowhere. */
export function lastIndexWhere<Item>(items: readonly Item[], holds: (item: Item) => boolean): number {
  let low = -1;
  let high = items.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (holds(items[middle] as Item)) low = middle;
    else high = middle;
  }
  return low;
}
