import { describe, expect, test } from '@jest/globals';
import { namesRevision } from './printed-specification.js';

const ordered = { number: 'STS-12', revision: 4 };

describe('a printed specification', () => {
  test.each([
    'STS-12 rev 4', 'STS-12 Rev. 4', 'sts-12 revision 4', 'STS-12 rev04', 'STS-12/4', 'STS-12-4', 'STS-12 (4)', 'STS-12 4', 'STS-12, issue 4', 'STS-12/R4', 'STS-12 R4',
    'STS-12', 'STS-12.', 'Strip to STS-12', 'STS-12, strip to EN 10149-2', 'STS-12 rev 4, clause 3', 'STS-12 rev 4 of 2025-11-01', 'EN 10149-2 and STS-12 rev 4',
    'STS-123 rev 3, STS-12 rev 4',
  ])('%s is revision 4 of STS-12, or names no other', (printed) => {
    expect(namesRevision(printed, ordered)).toBe(true);
  });

  test.each([
    'STS-12 rev 3', 'STS-12/3', 'STS-12 rev 3, clause 4', 'STS-12 rev 40', 'STS-12 rev D', 'STS-12:2024', 'STS-12 R5',
    'STS-123 rev 4', 'STS-123', 'XSTS-12 rev 4', '2STS-12 rev 4', 'STS-12A rev 4', 'STS-12-3 rev 4', 'STS-12-A', 'STS-12.1 rev 4', 'STS-1 rev 4', 'PO-77 rev 4', '',
  ])('%j is not', (printed) => {
    expect(namesRevision(printed, ordered)).toBe(false);
  });

  test('a number with signs of its own is taken letter by letter', () => {
    expect(namesRevision('S.12 (B) rev 2', { number: 'S.12 (B)', revision: 2 })).toBe(true);
    expect(namesRevision('SX12 (B) rev 2', { number: 'S.12 (B)', revision: 2 })).toBe(false);
  });
});
