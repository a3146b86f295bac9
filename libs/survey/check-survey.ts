import { doglegRad, toDegrees } from './direction.js';
import { requireFinite, requireWithin, SurveyError } from './survey-error.js';

/** Closer to a half turn than this (rad) the plane of the arc is not determined by the station angles. */
const HALF_TURN_MARGIN_RAD = 1e-6;

/** One survey reading: measured depth along the hole (mm), inclination from vertical 0..180, azimuth from north 0..360. */
export interface SurveyStation {
  readonly mdMm: number;
  readonly inclinationDeg: number;
  readonly azimuthDeg: number;
}

/** The position (mm) of the first station. */
export interface SurveyTieIn {
  readonly northMm: number;
  readonly eastMm: number;
  readonly tvdMm: number;
}

/**
 * Refuses what cannot be a well path: fewer than two stations, a measured depth that does not rise, an angle out of
 * range, a number that is not finite, a half turn between neighbours.
 * @throws SurveyError naming the field, its value and the limit
 */
export function checkSurvey(stations: readonly SurveyStation[], tieIn: SurveyTieIn): void {
  if (stations.length < 2) {
    const message = `A well path needs at least 2 survey stations; ${stations.length} given`;
    throw new SurveyError('stations', stations.length, 'at least 2', message);
  }
  requireFinite('tieIn.northMm', tieIn.northMm);
  requireFinite('tieIn.eastMm', tieIn.eastMm);
  requireFinite('tieIn.tvdMm', tieIn.tvdMm);
  let above: SurveyStation | undefined;
  for (const [index, station] of stations.entries()) {
    const field = `stations[${index}]`;
    requireFinite(`${field}.mdMm`, station.mdMm);
    requireWithin(`${field}.inclinationDeg`, station.inclinationDeg, 0, 180);
    requireWithin(`${field}.azimuthDeg`, station.azimuthDeg, 0, 360);
    if (above !== undefined) {
      checkStep(field, above, station);
    }
    above = station;
  }
}

function checkStep(field: string, above: SurveyStation, station: SurveyStation): void {
  if (station.mdMm <= above.mdMm) {
    const message = `${field}.mdMm is ${station.mdMm}: it must be deeper than the station above, at ${above.mdMm}`;
    throw new SurveyError(`${field}.mdMm`, station.mdMm, `above ${above.mdMm}`, message);
  }
  const dogleg = doglegRad(above, station);
  if (dogleg >= Math.PI - HALF_TURN_MARGIN_RAD) {
    const doglegDeg = toDegrees(dogleg);
    const message = `The hole turns by ${doglegDeg} degrees up to ${field}: two stations a half turn apart fix no arc`;
    throw new SurveyError(`${field}.doglegDeg`, doglegDeg, 'below 180', message);
  }
}
