import { describe, expect, test } from '@jest/globals';
import type { Role } from '../access/permissions.js';
import { changesAccess, losesAdministration, rolesFault, usableRoles, type Access } from './person.rules.js';

const access = (roles: Role[], active = true, state: Access['state'] = 'active'): Access => ({ roles, active, state });

describe('what a person may do', () => {
  test('is nothing when inactive or void', () => {
    expect(usableRoles(access(['auditor']))).toEqual(['auditor']);
    expect(usableRoles(access(['auditor'], false))).toEqual([]);
    expect(usableRoles(access(['auditor'], true, 'void'))).toEqual([]);
  });

  test.each([
    [access(['auditor', 'administrator']), access(['administrator', 'auditor']), false],
    [access(['auditor']), access(['auditor', 'administrator']), true],
    [access(['auditor']), access(['auditor'], false), true],
    [access(['auditor'], false), access(['administrator'], false), false],
    [access(['auditor']), access(['auditor'], true, 'void'), true],
  ])('from %j to %j changes access: %s', (before, after, expected) => {
    expect(changesAccess(before, after)).toBe(expected);
  });

  test.each([
    [access(['administrator']), access(['auditor']), true],
    [access(['administrator']), access(['administrator'], false), true],
    [access(['administrator']), access(['administrator'], true, 'void'), true],
    [access(['administrator']), access(['administrator', 'auditor']), false],
    [access(['auditor']), access(['auditor'], false), false],
    [access(['administrator'], false), access(['auditor'], false), false],
  ])('from %j to %j loses administration: %s', (before, after, expected) => {
    expect(losesAdministration(before, after)).toBe(expected);
  });

  test('roles are at least one, each once', () => {
    expect(rolesFault(['auditor', 'qc-inspector'])).toBeNull();
    expect(rolesFault([])).toBe('at least one role, each once');
    expect(rolesFault(['auditor', 'auditor'])).toBe('at least one role, each once');
  });
});
