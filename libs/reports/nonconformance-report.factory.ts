import { NONCONFORMANCE_CAUTIONS } from './cautions.js';
import type { Amendment, NonconformanceExtent, NonconformanceReportData } from './nonconformance-data.js';

/** An extent on one coil, bracketed, that has passed the shoe and lies on both walls. */
export function oneExtent(overrides: Partial<NonconformanceExtent> = {}): NonconformanceExtent {
  return {
    basis: 'bracketed',
    string: { name: 'S-1', lengthMm: 2_400_000, depthDatum: 'rotary table', hangOffDepthMm: 8_000, shoeDepthMm: 1_150_000 },
    strips: [{ coil: 'C-014', coilLengthMm: 354_000, interval: { fromMm: 120_310, toMm: 158_870 } }],
    footage: { fromMm: 1_204_310, toMm: 1_244_870 },
    footageUncertaintyMm: 1_250,
    lastKnownGoodFootageMm: 1_200_000,
    firstKnownGoodFootageMm: 1_249_500,
    locationWhenFound: 'on the line, 18.400 m before the hang-off',
    locationNow: 'outer wall',
    outerWall: [{ depth: { fromMm: 496_200, toMm: 534_700 }, uncertaintyMm: 12_000 }],
    innerWall: [],
    depthsUnknown: null,
    marks: ['past the last tie: depth rests on an assumed length ratio'],
    ...overrides,
  };
}

/** An amendment of the given version with one changed field. */
export function oneAmendment(version: number, overrides: Partial<Amendment> = {}): Amendment {
  return {
    version,
    amendedAt: `2031-04-${String(version + 2).padStart(2, '0')}T06:30:00Z`,
    amendedBy: 'R. Inspector',
    reason: 'the reading was checked against the raw record',
    changes: [{ field: 'found.value', before: '266', after: '268' }],
    ...overrides,
  };
}

/** One complete, valid report; the overrides replace whole fields. */
export function oneReport(overrides: Partial<NonconformanceReportData> = {}): NonconformanceReportData {
  return {
    identity: {
      number: 'NC-0007',
      title: 'Seam hardness above the limit at splice 14',
      classification: 'major',
      source: 'line',
      state: 'disposition approved',
      version: 3,
      well: 'Sample 1',
      string: 'S-1',
      observedAt: '2031-04-02T10:11:00Z',
      recordedAt: '2031-04-05T06:30:00Z',
      recordedBy: 'R. Inspector',
      isLate: true,
    },
    requirement: { document: 'Seam procedure P-12', revision: '3', clause: '5.2', limit: '≤ 250 HV10' },
    found: {
      valueText: '268',
      uncertaintyText: '6',
      unit: 'HV10',
      words: null,
      method: 'Vickers hardness, three positions',
      instrument: 'HT-3',
      foundBy: 'A. Finder',
      foundAt: '2031-04-02T10:11:12.123456Z',
    },
    extents: [oneExtent()],
    containment: [
      { text: 'Line stopped, hold placed', footageMm: 1_262_000, takenBy: 'S. Shift', takenAt: '2031-04-02T10:14:00Z' },
    ],
    disposition: {
      kind: 'use as is, under concession',
      text: 'Accepted for this interval only; limits carried to the interval.',
      approvals: [{ approvedBy: 'D. Authority', role: 'design authority', approvedAt: '2031-04-03T08:00:00Z' }],
    },
    note: null,
    amendments: [oneAmendment(2), oneAmendment(3)],
    dataCutOff: '2031-04-05T00:00:00Z',
    generatedAt: '2031-04-05T07:08:09Z',
    cautions: NONCONFORMANCE_CAUTIONS,
    fingerprintSha256: '0123456789abcdef'.repeat(4),
    ...overrides,
  };
}
