/** The paths of all routes with their methods: tells a wrong method (405) from a wrong path (404). */
export class KnownPaths {
  private readonly methodsByPattern = new Map<string, { readonly form: RegExp; readonly methods: Set<string> }>();

  /** Notes a route; `pattern` has `:name` for a part that varies and may end in `*`. */
  add(pattern: string, methods: readonly string[]): void {
    const known = this.methodsByPattern.get(pattern) ?? { form: formOf(pattern), methods: new Set<string>() };
    for (const method of methods) known.methods.add(method);
    this.methodsByPattern.set(pattern, known);
  }

  /** The methods that routes on this path take, sorted; none when there is no such path. */
  methodsOf(path: string): string[] {
    const fitting = [...this.methodsByPattern.values()].filter(({ form }) => form.test(path));
    return [...new Set(fitting.flatMap(({ methods }) => [...methods]))].sort();
  }
}

function formOf(pattern: string): RegExp {
  const parts = pattern.split('/').map((part) => {
    if (part.startsWith(':')) return '[^/]+';
    return part.replaceAll(/[.+?^${}()|[\]\\]/g, String.raw`\$&`).replaceAll('*', '.*');
  });
  return new RegExp(`^${parts.join('/')}$`);
}
