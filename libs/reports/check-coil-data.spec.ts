import { describe, expect, test } from '@jest/globals';
import { checkCoilSheetData, checkCoilTagData } from './check-coil-data.js';
import { ReportDataError } from './check-fields.js';
import type { CoilVerdict } from './coil-data.js';
import { oneCoilSheet, oneCoilTag, oneDecision, oneLine } from './coil-papers.factory.js';

function refusedPath(check: () => void): string {
  try {
    check();
  } catch (error) {
    if (error instanceof ReportDataError) return error.path;
    throw error;
  }
  return 'accepted';
}

const sheetPath = (overrides: Parameters<typeof oneCoilSheet>[0]): string => refusedPath(() => { checkCoilSheetData(oneCoilSheet(overrides)); });
const tagPath = (overrides: Parameters<typeof oneCoilTag>[0]): string => refusedPath(() => { checkCoilTagData(oneCoilTag(overrides)); });
const { identity } = oneCoilSheet();
const [permit] = oneCoilSheet().permits;
const ofVerdicts = (...verdicts: CoilVerdict[]) => verdicts.map((verdict) => oneLine({ verdict }));

describe('data of a coil sheet', () => {
  test('the complete sheet is accepted, and so is one with nothing in its sections', () => {
    expect(sheetPath({})).toBe('accepted');
    const nothing = { mill: null, order: null, specification: null, certificates: [], widthMm: null, thicknessMm: null, massKg: null, lengths: [], receivedAt: null, place: null, condition: null };
    expect(sheetPath({ identity: { ...identity, ...nothing }, verdict: 'not-reported', lines: [], checks: [], decisions: [], permits: [] })).toBe('accepted');
  });

  test.each([
    ['identity.number', { identity: { ...identity, number: ' ' } }],
    ['identity.heat', { identity: { ...identity, heat: '' } }],
    ['identity.version', { identity: { ...identity, version: 0 } }],
    ['identity.version', { identity: { ...identity, version: 1.5 } }],
    ['identity.receivedAt', { identity: { ...identity, receivedAt: '2031-04-01' } }],
    ['decisions[1].evaluationSha256', { decisions: [oneDecision(), oneDecision({ evaluationSha256: 'f'.repeat(63) })] }],
    ['decisions[0].signedAt', { decisions: [oneDecision({ signedAt: 'today' })] }],
    ['decisions[0].signedBy', { decisions: [oneDecision({ signedBy: '' })] }],
    ['permits[0].approvedAt', { permits: [{ ...permit!, approvedAt: '2031-04-03T07:45:00' }] }],
    ['fingerprintSha256', { fingerprintSha256: 'g'.repeat(64) }],
    ['fingerprintSha256', { fingerprintSha256: '0'.repeat(65) }],
    ['dataCutOff', { dataCutOff: '2031-04-05T00:00:00+00:00' }],
    ['generatedAt', { generatedAt: '2031-13-05T00:00:00Z' }],
    ['link', { link: `https://records.example/${'x'.repeat(2000)}` }],
    ['lines[1].verdict', { lines: [oneLine(), oneLine({ verdict: 'passes' as CoilVerdict })] }],
  ])('%s is refused', (path, overrides) => {
    expect(sheetPath(overrides)).toBe(path);
  });

  test('a verdict that the lines contradict is refused', () => {
    expect(sheetPath({ verdict: 'conforms', lines: ofVerdicts('conforms') })).toBe('accepted');
    expect(sheetPath({ verdict: 'conforms', lines: [] })).toBe('verdict');
    for (const doubtful of ['inside-guard-band', 'not-comparable', 'not-reported', 'does-not-conform'] as const) {
      expect(sheetPath({ verdict: 'conforms', lines: ofVerdicts('conforms', doubtful) })).toBe('verdict');
      expect(sheetPath({ verdict: doubtful, lines: ofVerdicts('conforms', doubtful) })).toBe('accepted');
      if (doubtful !== 'does-not-conform') expect(sheetPath({ verdict: doubtful, lines: ofVerdicts(doubtful, 'does-not-conform') })).toBe('verdict');
    }
  });
});

describe('data of a coil tag', () => {
  test('the complete tag is accepted, and so is one without what may be unknown', () => {
    expect(tagPath({})).toBe('accepted');
    expect(tagPath({ length: null, order: null, specification: null, stateSince: null, state: 'NOT DECIDED' })).toBe('accepted');
  });

  test.each([
    ['number', { number: '' }],
    ['heat', { heat: '\t' }],
    ['state', { state: 'hold' as 'HOLD' }],
    ['stateSince', { stateSince: '' }],
    ['printedAt', { printedAt: '2031-04-05' }],
    ['version', { version: -1 }],
    ['link', { link: '/coils/7' }],
  ])('%s is refused', (path, overrides) => {
    expect(tagPath(overrides)).toBe(path);
  });
});
