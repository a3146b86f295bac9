import { describe, expect, test } from '@jest/globals';
import { PERMISSIONS, permits, ROLES, type Party, type Permission } from './permissions.js';

const permissions = Object.keys(PERMISSIONS) as Permission[];
const ofParty = (party: Party): Permission[] => permissions.filter((permission) => permits(permission, [party]));
const writes = permissions.filter((permission) => permission.endsWith(':write'));

describe('who may do what', () => {
  test('every role reads the records and minds its own account', () => {
    for (const role of ROLES) {
      expect(ofParty(role)).toEqual(
        expect.arrayContaining(['records:read', 'questions:ask', 'own-account:read', 'own-session:end', 'own-password:change']),
      );
    }
  });

  test('an administrator manages people and devices and writes nothing else', () => {
    expect(ofParty('administrator').filter((permission) => writes.includes(permission)).sort()).toEqual([
      'device:write', 'person:write',
    ]);
  });

  test('an auditor reads everything and writes nothing', () => {
    const reads = permissions.filter((permission) => permission.endsWith(':read'));
    expect(ofParty('auditor')).toEqual(expect.arrayContaining(reads));
    expect(ofParty('auditor').filter((permission) => /:(write|append)$/.test(permission))).toEqual([]);
  });

  test('a device appends readings and signals, sees how far it is with them, and does nothing else', () => {
    expect(ofParty('device')).toEqual(['counter-reading:append', 'signal:append', 'signal-upload:read']);
  });

  test('an inspector writes what the line does, and not what it rests on', () => {
    const inspector = ofParty('qc-inspector');
    expect(inspector).toEqual(expect.arrayContaining(['splice:write', 'inspection:write', 'nonconformance:write']));
    for (const permission of ['casing-string:write', 'coil:write', 'certificate:write', 'person:write'] as const) {
      expect(inspector).not.toContain(permission);
    }
  });

  test('who has two roles may do what either may; who has none, nothing', () => {
    expect(permits('person:write', ['auditor', 'administrator'])).toBe(true);
    expect(permissions.filter((permission) => permits(permission, []))).toEqual([]);
  });
});
