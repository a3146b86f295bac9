/** The number as people say it: NC-0007. */
export function labelOf(number: number): string {
  return `NC-${String(number).padStart(4, '0')}`;
}
