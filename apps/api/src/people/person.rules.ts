import type { Role } from '../access/permissions.js';

/** What a version of a person says of their access. */
export interface Access {
  readonly roles: readonly Role[];
  readonly active: boolean;
  readonly state: 'active' | 'void';
}

/** The roles that someone can use now, sorted. */
export const usableRoles = ({ roles, active, state }: Access): readonly Role[] =>
  active && state === 'active' ? [...roles].sort() : [];

/** True when the two differ in what they let a person do. */
export function changesAccess(before: Access, after: Access): boolean {
  return usableRoles(before).join() !== usableRoles(after).join();
}

/** True when a change takes away the right to manage people. */
export function losesAdministration(before: Access, after: Access): boolean {
  return usableRoles(before).includes('administrator') && !usableRoles(after).includes('administrator');
}

/** The limit that a list of roles breaks, in words, or null. */
export function rolesFault(roles: readonly Role[]): string | null {
  return roles.length > 0 && new Set(roles).size === roles.length ? null : 'at least one role, each once';
}
