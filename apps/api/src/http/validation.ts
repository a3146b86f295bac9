import { plainToInstance } from 'class-transformer';
import { getMetadataStorage, validateSync, type ValidationError } from 'class-validator';
import { malformed, type FieldProblem } from './problem.js';

type DtoClass<T extends object> = new () => T;

rememberRules();

/**
 * The validator gathers the rules of a class anew for each object, from those of all classes. A class has its rules when it
 * is first validated, and gets no more: they are kept by class. The program knows no schemas and no groups of rules.
 */
function rememberRules(): void {
  const storage = getMetadataStorage();
  const gather = storage.getTargetValidationMetadatas.bind(storage);
  const kept = new Map<unknown, ReturnType<typeof gather>>();
  storage.getTargetValidationMetadatas = (target, ...others) => {
    const rules = kept.get(target) ?? gather(target, ...others);
    kept.set(target, rules);
    return rules;
  };
}

/**
 * `body` as a checked `type`. Refuses, with one entry for each wrong field: a body that is no object, unknown fields,
 * and fields outside their limits. Nothing is converted: "5" is not 5.
 */
export function parsed<T extends object>(type: DtoClass<T>, body: unknown): T {
  if (typeof body !== 'object' || body === null || Array.isArray(body)) {
    throw malformed([{ field: '', value: body, limit: 'a JSON object' }]);
  }
  const inherited = inheritedNames(body, '');
  if (inherited.length > 0) throw malformed(inherited);
  const instance = plainToInstance(type, body, { enableImplicitConversion: false });
  const errors = validateSync(instance, {
    whitelist: true,
    forbidNonWhitelisted: true,
    forbidUnknownValues: true,
    validationError: { target: false, value: true },
  });
  if (errors.length > 0) throw malformed(errors.flatMap((error) => problems(error, '')));
  return instance;
}

/**
 * Fields named like something every object has, such as `toString`: class-transformer leaves them out, so that no
 * validator ever sees them. The depth of a body is bounded before it comes here.
 */
function inheritedNames(value: unknown, path: string): FieldProblem[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value as Record<string, unknown>).flatMap(([name, part]) => {
    const field = path === '' ? name : joined(path, name);
    const own = name in Object.prototype ? [{ field, value: part, limit: 'no such field is taken here' }] : [];
    return [...own, ...inheritedNames(part, field)];
  });
}

function problems(error: ValidationError, path: string): FieldProblem[] {
  const field = path === '' ? error.property : joined(path, error.property);
  const own: FieldProblem[] =
    error.constraints === undefined ? [] : [{ field, value: error.value, limit: limitOf(error) }];
  // What is no list has no entries that could be wrong.
  const isNoList = error.constraints?.['isArray'] !== undefined;
  return [...own, ...(isNoList ? [] : error.children ?? []).flatMap((child) => problems(child, field))];
}

const joined = (path: string, part: string): string => (/^\d+$/.test(part) ? `${path}[${part}]` : `${path}.${part}`);

function limitOf(error: ValidationError): string {
  if (error.constraints?.['whitelistValidation'] !== undefined) return 'no such field is taken here';
  const contexts: Record<string, { limit?: string }> = error.contexts ?? {};
  for (const context of Object.values(contexts)) {
    if (context.limit !== undefined) return context.limit;
  }
  return Object.values(error.constraints ?? {}).join('; ');
}
