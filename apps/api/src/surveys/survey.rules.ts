import { SurveyError, wellPath, type WellPath } from '#libs/survey';
import type { FieldProblem } from '../http/problem.js';
import type { StationReading, TieIn } from './survey.entity.js';

/** The readings of a survey that its path rests on. */
export interface SurveyReadings {
  readonly stations: readonly StationReading[];
  readonly tieIn: TieIn;
}

/** The path through the stations by the minimum-curvature method. @throws SurveyError when they cannot be a path */
export function pathOf({ stations, tieIn }: SurveyReadings): WellPath {
  return wellPath(
    stations.map(({ mdM, inclinationDeg, azimuthDeg }) => ({
      mdMm: mmOf(mdM), inclinationDeg: Number(inclinationDeg), azimuthDeg: Number(azimuthDeg),
    })),
    { northMm: mmOf(tieIn.northM), eastMm: mmOf(tieIn.eastM), tvdMm: mmOf(tieIn.tvdM) },
  );
}

/** What keeps the readings from being a path, at the field as it was sent, or null. */
export function problemOfPath(readings: SurveyReadings): FieldProblem | null {
  try {
    pathOf(readings);
    return null;
  } catch (error) {
    if (error instanceof SurveyError) return asSent(error, readings.stations);
    throw error;
  }
}

/** Decimal metres to mm, rounded once and not twice as a product would be. */
const mmOf = (metres: string): number => Number(`${metres}e3`);

/** The path is reckoned in mm, the stations are sent in m. */
function asSent({ field, value, limit }: SurveyError, stations: readonly StationReading[]): FieldProblem {
  const index = Number(/^stations\[(\d+)\]\.mdMm$/.exec(field)?.[1] ?? NaN);
  const [above, station] = [stations[index - 1], stations[index]];
  if (above === undefined || station === undefined) return { field, value, limit };
  return { field: `stations[${index}].mdM`, value: station.mdM, limit: `deeper than the station above, at ${above.mdM} m` };
}
