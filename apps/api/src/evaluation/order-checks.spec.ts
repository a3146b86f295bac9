import { describe, expect, test } from '@jest/globals';
import { certificateRow, coilKnowledge, coilPaper, heatRow, keying, orderRow, paperLine, receiptRow, specificationRow } from './coil-knowledge.factory.js';
import type { CoilPaper } from './coil-knowledge.js';
import { dateChecks, revisionChecks } from './order-checks.js';

interface Days {
  readonly castOn?: string | null;
  readonly orderedOn?: string;
  readonly issuedOn?: string;
  readonly receivedAt?: string;
  readonly role?: CoilPaper['role'];
}

/** Details of the checks of one paper; cast on 14 January, ordered on 4 December, issued on 22 January, received on 18 February. */
function dates({ castOn = '2026-01-14', orderedOn = '2025-12-04', issuedOn = '2026-01-22', receivedAt = '2026-02-18T09:00:00.000000Z', role = 'delivered' }: Days): string[] {
  const paper = coilPaper([paperLine()], { certificate: certificateRow({ issuedOn }), role });
  const receipts = [receiptRow({ id: 'back', occasion: 'back-from-line', observedAt: '2025-01-01T00:00:00.000000Z' }), receiptRow({ observedAt: receivedAt })];
  return dateChecks(coilKnowledge({ heat: heatRow({ castOn }), order: orderRow({ orderedOn }), papers: [paper], receipts })).map(({ detail }) => detail);
}

describe('dates', () => {
  test('in their order say nothing, the same day at every step included', () => {
    expect(dates({})).toEqual([]);
    expect(dates({ castOn: '2026-01-22', orderedOn: '2026-01-22', receivedAt: '2026-01-22T00:00:00.000000Z' })).toEqual([]);
  });

  test('a certificate a day older than its heat', () => {
    expect(dates({ castOn: '2026-01-23' })).toEqual(['certificate TS-1 of 2026-01-22 is older than its heat, cast on 2026-01-23']);
    expect(dates({ castOn: null })).toEqual([]);
  });

  test('a certificate a day older than the order, but for the mill\'s: strip is slit from stock', () => {
    expect(dates({ orderedOn: '2026-01-23' })).toEqual(['certificate TS-1 of 2026-01-22 is older than the order of 2026-01-23']);
    expect(dates({ orderedOn: '2026-01-23', role: 'mill' })).toEqual([]);
    expect(dates({ orderedOn: '2026-01-23', role: 'slitter' })).toHaveLength(1);
  });

  test('a certificate a day later than the delivery, but for a retest; coming back from the line is no delivery', () => {
    expect(dates({ receivedAt: '2026-01-21T23:59:59.999999Z' })).toEqual(['certificate TS-1 of 2026-01-22 is later than the delivery of 2026-01-21']);
    expect(dates({ receivedAt: '2026-01-21T23:59:59.999999Z', role: 'retest' })).toEqual([]);
  });

  test('all wrong at once are all told, with their records', () => {
    const checks = dateChecks(coilKnowledge({ heat: heatRow({ castOn: '2026-03-01' }), order: orderRow({ orderedOn: '2026-03-02' }), papers: [coilPaper([], { certificate: certificateRow({ issuedOn: '2026-02-28' }) })] }));
    expect(checks.map(({ records }) => records.map(({ kind }) => kind))).toEqual([['certificate', 'heat'], ['certificate', 'strip-order'], ['certificate']]);
  });

  test('without order and receipt there is nothing to compare', () => {
    expect(dateChecks(coilKnowledge({ order: null, receipts: [] }))).toEqual([]);
  });
});

describe('the revision', () => {
  const printed = (specification: string | null, orderNumber: string | null = null): CoilPaper => coilPaper([], { keyings: [keying([], { specification, orderNumber })] });
  const details = (changes: Parameters<typeof coilKnowledge>[0]): string[] => revisionChecks(coilKnowledge(changes)).map(({ detail }) => detail);

  test('ordered to, in force and named on the papers is one', () => {
    expect(details({ papers: [printed('STS-12 rev 4', ' po-1187 '), printed(null), coilPaper([], { keyings: [] })] })).toEqual([]);
  });

  test('ordered to was not in force then', () => {
    expect(details({ inForce: specificationRow({ id: 'revision 3', revision: 3 }) })).toEqual(['order PO-1187 names revision 4 of STS-12; on 2025-12-04 revision 3 was in force']);
    expect(details({ inForce: null })).toEqual(['order PO-1187 names revision 4 of STS-12; on 2025-12-04 no revision was in force']);
  });

  test('on the paper is another one, or another specification', () => {
    expect(details({ papers: [printed('STS-12 rev 3')] })).toEqual(['certificate TS-1 was made out to STS-12 rev 3, not to revision 4 of STS-12']);
    expect(details({ papers: [printed('STS-123 rev 4')] })).toEqual(['certificate TS-1 was made out to STS-123 rev 4, not to revision 4 of STS-12']);
  });

  test('the order on the paper is another one', () => {
    expect(details({ papers: [printed(null, 'PO-1178')] })).toEqual(['certificate TS-1 names order PO-1178; the coil\'s is PO-1187']);
  });

  test('does not follow without an order, which is a note', () => {
    expect(revisionChecks(coilKnowledge({ order: null, ordered: null }))).toMatchObject([{ severity: 'note', check: 'revision in force' }]);
  });
});
