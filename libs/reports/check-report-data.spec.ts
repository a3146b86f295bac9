import { describe, expect, test } from '@jest/globals';
import { ReportDataError } from './check-fields.js';
import { checkReportData } from './check-report-data.js';
import { oneExtent, oneReport } from './nonconformance-report.factory.js';

const refusedPath = (overrides: Parameters<typeof oneReport>[0]): string => {
  try {
    checkReportData(oneReport(overrides));
  } catch (error) {
    if (error instanceof ReportDataError) return error.path;
    throw error;
  }
  return 'accepted';
};

describe('data of a report', () => {
  test('the complete report is accepted, and so is one with nothing in its sections', () => {
    expect(refusedPath({})).toBe('accepted');
    expect(refusedPath({ requirement: null, found: null, extents: [], containment: [], disposition: null, amendments: [] })).toBe(
      'accepted',
    );
  });

  test.each([
    ['generatedAt', { generatedAt: '2031-04-05T07:08:09+02:00' }],
    ['generatedAt', { generatedAt: '2031-13-05T07:08:09Z' }],
    ['dataCutOff', { dataCutOff: 'yesterday' }],
    ['fingerprintSha256', { fingerprintSha256: 'abc' }],
    ['identity.version', { identity: { ...oneReport().identity, version: 0 } }],
    ['extents[0].footage', { extents: [oneExtent({ footage: { fromMm: 2, toMm: 1 } })] }],
    ['extents[0].footage.toMm', { extents: [oneExtent({ footage: { fromMm: 2, toMm: 2.5 } })] }],
    ['extents[0].outerWall[0].uncertaintyMm', { extents: [oneExtent({ outerWall: [{ depth: { fromMm: 0, toMm: 1 }, uncertaintyMm: -1 }] })] }],
    ['extents[0].string.lengthMm', { extents: [oneExtent({ string: { ...oneExtent().string!, lengthMm: Number.NaN } })] }],
    ['identity.recordedAt', { identity: { ...oneReport().identity, recordedAt: '' } }],
  ])('%s is refused', (path, overrides) => {
    expect(refusedPath(overrides)).toBe(path);
  });

  test('a stretch of no length is accepted', () => {
    expect(refusedPath({ extents: [oneExtent({ footage: { fromMm: 2, toMm: 2 } })] })).toBe('accepted');
  });
});
