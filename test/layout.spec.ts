import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from '@jest/globals';

/** The directions that dependencies take, read from the imports of every source file. */
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const TECHNICAL_LIBS = new Set(['persistence', 'reports', 'sample-files']);

/**
 * Packages that a pure library may import: plain functions of numbers, as pure as itself, that are better taken from a
 * tested library of numerics than written again. What parses, draws or reads anything does not belong here.
 */
const PURE_PACKAGES = new Set([
  '@stdlib/stats-base-dists-beta-quantile', '@stdlib/stats-base-dists-binomial-cdf', '@stdlib/stats-base-dists-chisquare-cdf',
  '@stdlib/stats-base-dists-chisquare-quantile', '@stdlib/stats-base-dists-f-cdf', '@stdlib/stats-base-dists-f-quantile',
  '@stdlib/stats-base-dists-normal-cdf', '@stdlib/stats-base-dists-normal-quantile', '@stdlib/stats-base-dists-poisson-cdf',
]);

interface Import {
  readonly file: string;
  readonly from: string;
  readonly typeOnly: boolean;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).split(sep).join('/'));
}

const IMPORT = /^\s*(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'([^']+)';/gm;
const DYNAMIC = /import\('([^']+)'\)/g;

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const found = [...text.matchAll(IMPORT)].map((match) => ({
    file,
    from: resolved(file, match[2] ?? ''),
    typeOnly: match[1] !== undefined,
  }));
  const dynamic = [...text.matchAll(DYNAMIC)].map((match) => ({ file, from: resolved(file, match[1] ?? ''), typeOnly: false }));
  return [...found, ...dynamic];
}

function resolved(file: string, specifier: string): string {
  if (!specifier.startsWith('.')) return specifier;
  return posix.join(dirname(file), specifier).replace(/\.js$/, '.ts');
}

const isTest = (file: string): boolean => /\.(spec|e2e-spec|slow-spec|reference|arbitraries|factory|harness|program)\.ts$/.test(file);

const libFiles = sourceFiles('libs');
const appFiles = sourceFiles('apps');
const appImports = appFiles.filter((file) => !isTest(file)).flatMap(importsOf);
const libImports = libFiles.filter((file) => !isTest(file)).flatMap(importsOf);
const libOf = (file: string): string => file.split('/')[1] ?? '';
const featureOf = (file: string): string | null => /^apps\/api\/src\/([^/]+)\//.exec(file)?.[1] ?? null;
const shown = (imports: readonly Import[]): string[] => imports.map(({ file, from }) => `${file} → ${from}`);

describe('dependencies point one way', () => {
  test('the check sees the imports it judges', () => {
    expect(libImports.length).toBeGreaterThan(50);
    expect(appImports.length).toBeGreaterThan(100);
    expect(libImports.some(({ from }) => from === '#libs/intervals')).toBe(true);
  });

  test('a pure library imports nothing but itself, pure libraries and pure packages', () => {
    const wrong = libImports.filter(({ file, from }) => {
      if (TECHNICAL_LIBS.has(libOf(file))) return false;
      if (from.startsWith('#libs/')) return TECHNICAL_LIBS.has(from.slice('#libs/'.length));
      return !from.startsWith(`libs/${libOf(file)}/`) && !PURE_PACKAGES.has(from);
    });
    expect(shown(wrong)).toEqual([]);
  });

  test('a pure library reads no clock, environment or random source', () => {
    const impure = /\bDate\.now\(|new Date\(\)|\bMath\.random\(|\bprocess\.|\bperformance\.now\(|\bglobalThis\b/;
    const wrong = libFiles.filter(
      (file) => !isTest(file) && !TECHNICAL_LIBS.has(libOf(file)) && impure.test(readFileSync(join(ROOT, file), 'utf8')),
    );
    expect(wrong).toEqual([]);
  });

  test('libraries know nothing of the apps, and are reached by their name only', () => {
    const upwards = libImports.filter(({ from }) => from.startsWith('apps/') || from.startsWith('migrations/'));
    const deep = [...appImports, ...libImports].filter(
      ({ file, from }) => from.startsWith('libs/') && !(file.startsWith('libs/') && libOf(file) === libOf(from)),
    );
    const deepNames = [...appImports, ...libImports].filter(({ from }) => /^#libs\/[^/]+\//.test(from));
    expect(shown([...upwards, ...deep, ...deepNames])).toEqual([]);
  });

  test('libraries form no circle', () => {
    const edges = new Map<string, Set<string>>();
    for (const { file, from } of libImports) {
      if (!from.startsWith('#libs/')) continue;
      edges.set(libOf(file), (edges.get(libOf(file)) ?? new Set()).add(from.slice('#libs/'.length)));
    }
    const circles = [...edges.keys()].filter((lib) => reaches(edges, lib, lib, new Set()));
    expect(circles).toEqual([]);
  });

  test("a feature uses another feature's services and shapes, never its entity as a value", () => {
    const wrong = appImports.filter(
      ({ file, from, typeOnly }) =>
        from.endsWith('.entity.ts') && !typeOnly && featureOf(file) !== null && featureOf(file) !== featureOf(from) &&
        // A placed record extends the shape that the line gives to all of them.
        !from.endsWith('/placed.entity.ts') &&
        // A recall walks the records of every kind; this is the one list of them.
        file !== 'apps/api/src/recall/record-kinds.ts',
    );
    expect(shown(wrong)).toEqual([]);
  });

  test('migrations import no class that may change', () => {
    const wrong = sourceFiles('migrations')
      .filter((file) => !isTest(file))
      .flatMap(importsOf)
      .filter(({ from }) => from.startsWith('apps/') || from.startsWith('#libs/') || from.startsWith('libs/'));
    expect(shown(wrong)).toEqual([]);
  });

  test('what Nest injects is imported as a value', () => {
    const wrong = appFiles.filter((file) => /\.(controller|service)\.ts$/.test(file)).filter((file) => {
      const text = readFileSync(join(ROOT, file), 'utf8');
      const types = [...text.matchAll(/import type \{([^}]*)\}/g)].flatMap((match) => (match[1] ?? '').split(',').map((name) => name.trim()));
      const decorated = /@(Injectable|Controller)\([^)]*\)\s*export class/.test(text);
      const constructors = [...text.matchAll(/constructor\(([^)]*)\)/g)].map((match) => match[1] ?? '').join(',');
      return decorated && types.some((name) => name !== '' && new RegExp(`:\\s*${name}\\b`).test(constructors));
    });
    expect(wrong).toEqual([]);
  });

  test('no two classes of requests or answers have one name: the API document would take one for the other', () => {
    const names = appFiles.filter((file) => file.endsWith('.dto.ts')).flatMap((file) =>
      [...readFileSync(join(ROOT, file), 'utf8').matchAll(/^export class (\w+)/gm)].map(([, name]) => name));
    expect(names.length).toBeGreaterThan(100);
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
  });
});

function reaches(edges: Map<string, Set<string>>, from: string, to: string, seen: Set<string>): boolean {
  for (const next of edges.get(from) ?? []) {
    if (next === to) return true;
    if (seen.has(next)) continue;
    seen.add(next);
    if (reaches(edges, next, to, seen)) return true;
  }
  return false;
}
