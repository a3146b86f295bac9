import { checkInstant, checkSha256, checkVersion, ReportDataError } from './check-fields.js';
import type { IntervalMm } from './instants-and-lengths.js';
import type { NonconformanceExtent, NonconformanceReportData } from './nonconformance-data.js';

function checkLength(path: string, lengthMm: number | null): void {
  if (lengthMm !== null && !Number.isSafeInteger(lengthMm)) throw new ReportDataError(path, 'is not a whole number of millimetres');
}

function checkUncertainty(path: string, uncertaintyMm: number | null): void {
  checkLength(path, uncertaintyMm);
  if (uncertaintyMm !== null && uncertaintyMm < 0) throw new ReportDataError(path, 'is negative');
}

function checkInterval(path: string, interval: IntervalMm): void {
  checkLength(`${path}.fromMm`, interval.fromMm);
  checkLength(`${path}.toMm`, interval.toMm);
  if (interval.fromMm > interval.toMm) throw new ReportDataError(path, 'ends before it starts');
}

function checkExtent(path: string, extent: NonconformanceExtent): void {
  extent.strips.forEach((strip, i) => {
    checkUncertainty(`${path}.strips[${i}].coilLengthMm`, strip.coilLengthMm);
    checkInterval(`${path}.strips[${i}].interval`, strip.interval);
  });
  if (extent.footage !== null) checkInterval(`${path}.footage`, extent.footage);
  checkUncertainty(`${path}.footageUncertaintyMm`, extent.footageUncertaintyMm);
  checkLength(`${path}.lastKnownGoodFootageMm`, extent.lastKnownGoodFootageMm);
  checkLength(`${path}.firstKnownGoodFootageMm`, extent.firstKnownGoodFootageMm);
  for (const wall of ['outerWall', 'innerWall'] as const) {
    extent[wall].forEach((place, i) => {
      checkInterval(`${path}.${wall}[${i}].depth`, place.depth);
      checkUncertainty(`${path}.${wall}[${i}].uncertaintyMm`, place.uncertaintyMm);
    });
  }
  if (extent.string === null) return;
  checkUncertainty(`${path}.string.lengthMm`, extent.string.lengthMm);
  checkLength(`${path}.string.hangOffDepthMm`, extent.string.hangOffDepthMm);
  checkLength(`${path}.string.shoeDepthMm`, extent.string.shoeDepthMm);
}

/**
 * Refuses data whose figures could not be drawn as they are.
 * @throws ReportDataError for an instant that is not UTC, a length that is not whole millimetres, a reversed interval,
 * a version below 1 or a fingerprint that is not 64 hexadecimal digits.
 */
export function checkReportData(data: NonconformanceReportData): void {
  checkInstant('dataCutOff', data.dataCutOff);
  checkInstant('generatedAt', data.generatedAt);
  checkInstant('identity.observedAt', data.identity.observedAt);
  checkInstant('identity.recordedAt', data.identity.recordedAt);
  if (data.found !== null) checkInstant('found.foundAt', data.found.foundAt);
  data.containment.forEach((action, i) => {
    checkInstant(`containment[${i}].takenAt`, action.takenAt);
    checkLength(`containment[${i}].footageMm`, action.footageMm);
  });
  data.disposition?.approvals.forEach((approval, i) => {
    checkInstant(`disposition.approvals[${i}].approvedAt`, approval.approvedAt);
  });
  data.amendments.forEach((amendment, i) => {
    checkInstant(`amendments[${i}].amendedAt`, amendment.amendedAt);
  });
  data.extents.forEach((extent, i) => {
    checkExtent(`extents[${i}]`, extent);
  });
  checkVersion('identity.version', data.identity.version);
  checkSha256('fingerprintSha256', data.fingerprintSha256);
}
