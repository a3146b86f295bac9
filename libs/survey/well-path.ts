import type { ExplanationStep } from '#libs/explanation';
import { Arc } from './arc.js';
import { checkSurvey, type SurveyStation, type SurveyTieIn } from './check-survey.js';
import { attitudeOf, toDegrees, toRadians } from './direction.js';
import { explainTvdInArc } from './explain-tvd.js';
import { type MdInterval, type MonotonePiece, MonotoneRun, monotoneRuns } from './monotone-run.js';
import { requireFinite, SurveyError } from './survey-error.js';

/** A place on the well path: position (mm), inclination and azimuth (degrees). */
export interface PathPosition {
  readonly northMm: number;
  readonly eastMm: number;
  readonly tvdMm: number;
  readonly inclinationDeg: number;
  readonly azimuthDeg: number;
}

/** A station with its position and the dogleg from the station above it (0 at the first). */
export interface StationPosition extends PathPosition {
  readonly mdMm: number;
  readonly doglegDeg: number;
  readonly doglegSeverityDegPer30M: number;
}

/** Distance from the origin in the plane of a section azimuth, at a station. */
export interface SectionPoint {
  readonly mdMm: number;
  readonly sectionMm: number;
}

/** An arc between the positions of its two stations. */
interface PlacedArc {
  readonly arc: Arc;
  readonly top: StationPosition;
  readonly bottom: StationPosition;
}

const DOGLEG_COURSE_MM = 30_000;

/**
 * Builds a well path by the minimum-curvature method.
 * @param stations at least 2, measured depth strictly rising
 * @param tieIn position of the first station; the origin when left out
 * @throws SurveyError when the stations cannot be a path
 */
export function wellPath(stations: readonly SurveyStation[], tieIn?: SurveyTieIn): WellPath {
  return new WellPath(stations, tieIn);
}

/** The path of a hole through its survey stations: one circular arc between each two neighbours. Lengths in mm. */
export class WellPath {
  private readonly stations: StationPosition[];
  private readonly arcs: PlacedArc[];
  private readonly runs: MonotoneRun[];
  private readonly first: StationPosition;
  private readonly last: StationPosition;
  private readonly lastArc: PlacedArc;

  /** As `wellPath`. */
  constructor(stations: readonly SurveyStation[], tieIn: SurveyTieIn = { northMm: 0, eastMm: 0, tvdMm: 0 }) {
    checkSurvey(stations, tieIn);
    this.arcs = [];
    this.stations = [];
    for (const station of stations) {
      const top = this.stations.at(-1);
      if (top === undefined) {
        this.stations.push(firstStation(station, tieIn));
      } else {
        const arc = new Arc(top, station, station.mdMm - top.mdMm);
        const bottom = stationBelow(top, station, arc);
        this.arcs.push({ arc, top, bottom });
        this.stations.push(bottom);
      }
    }
    [this.first, this.last] = ends(this.stations);
    [, this.lastArc] = ends(this.arcs);
    this.runs = monotoneRuns(this.arcs.flatMap(monotonePieces));
  }

  /**
   * The position at a measured depth, stations included.
   * @throws SurveyError when the survey does not reach that depth
   */
  positionAt(mdMm: number): PathPosition {
    const { arc, top, bottom, alongMm } = this.locate(mdMm);
    if (mdMm === top.mdMm || mdMm === bottom.mdMm) {
      const { northMm, eastMm, tvdMm, inclinationDeg, azimuthDeg } = mdMm === top.mdMm ? top : bottom;
      return { northMm, eastMm, tvdMm, inclinationDeg, azimuthDeg };
    }
    const step = arc.displacementAt(alongMm);
    return {
      northMm: top.northMm + step.northMm,
      eastMm: top.eastMm + step.eastMm,
      tvdMm: top.tvdMm + step.tvdMm,
      ...attitudeOf(arc.tangentAt(alongMm), top.azimuthDeg),
    };
  }

  /**
   * True vertical depth (mm) at a measured depth.
   * @throws SurveyError when the survey does not reach that depth
   */
  tvdAt(mdMm: number): number {
    return this.positionAt(mdMm).tvdMm;
  }

  /** Every station with its position, dogleg and dogleg severity (degrees per 30 m: dl * 30 m / dM). */
  stationPositions(): readonly StationPosition[] {
    return this.stations;
  }

  /**
   * The vertical section N cos V + E sin V (mm) of every station, from the origin of north and east.
   * @throws SurveyError when the azimuth is not a finite number
   */
  verticalSection(sectionAzimuthDeg: number): readonly SectionPoint[] {
    requireFinite('sectionAzimuthDeg', sectionAzimuthDeg);
    const cosine = Math.cos(toRadians(sectionAzimuthDeg));
    const sine = Math.sin(toRadians(sectionAzimuthDeg));
    return this.stations.map(({ mdMm, northMm, eastMm }) => ({ mdMm, sectionMm: northMm * cosine + eastMm * sine }));
  }

  /** The measured depths between which the hole is surveyed. */
  mdRange(): MdInterval {
    return { fromMdMm: this.first.mdMm, toMdMm: this.last.mdMm };
  }

  /** The shallowest and deepest true vertical depth (mm) of the path, turns between stations included. */
  tvdRange(): { readonly fromTvdMm: number; readonly toTvdMm: number } {
    const ranges = this.runs.map((run) => run.tvdRange());
    return {
      fromTvdMm: Math.min(...ranges.map((range) => range.fromTvdMm)),
      toTvdMm: Math.max(...ranges.map((range) => range.toTvdMm)),
    };
  }

  /**
   * All measured-depth intervals whose true vertical depth lies in [from, to], both limits included, in order, merged
   * where they touch. A path that only touches a limit gives an interval of equal ends; a path that does not come
   * there gives none (see `tvdRange`). Depths within TVD_TOLERANCE_MM of each other count as equal at a turn.
   * @throws SurveyError when a limit is not finite or the limits are reversed
   */
  mdIntervalsOfTvd(fromTvdMm: number, toTvdMm: number): readonly MdInterval[] {
    requireFinite('fromTvdMm', fromTvdMm);
    requireFinite('toTvdMm', toTvdMm);
    if (fromTvdMm > toTvdMm) {
      const message = `The depth interval is reversed: from ${fromTvdMm} mm to ${toTvdMm} mm`;
      throw new SurveyError('toTvdMm', toTvdMm, `at least ${fromTvdMm}`, message);
    }
    const found: { fromMdMm: number; toMdMm: number }[] = [];
    for (const run of this.runs) {
      const interval = run.mdIntervalOfTvd(fromTvdMm, toTvdMm);
      const previous = found.at(-1);
      if (interval !== undefined && previous !== undefined && interval.fromMdMm <= previous.toMdMm) {
        previous.toMdMm = interval.toMdMm;
      } else if (interval !== undefined) {
        found.push({ ...interval });
      }
    }
    return found;
  }

  /**
   * All measured depths of one true vertical depth, in order: points as intervals of equal ends, and a stretch that
   * stays at that depth as an interval.
   * @throws SurveyError when the depth is not finite
   */
  mdsOfTvd(tvdMm: number): readonly MdInterval[] {
    return this.mdIntervalsOfTvd(tvdMm, tvdMm);
  }

  /**
   * How the true vertical depth at a measured depth was found, step by step.
   * @throws SurveyError when the survey does not reach that depth
   */
  explainTvd(mdMm: number): ExplanationStep[] {
    const { arc, top, bottom, alongMm } = this.locate(mdMm);
    return explainTvdInArc(arc, top, bottom.mdMm, alongMm);
  }

  private locate(mdMm: number): PlacedArc & { alongMm: number } {
    const { fromMdMm, toMdMm } = this.mdRange();
    if (!(mdMm >= fromMdMm && mdMm <= toMdMm)) {
      const message = `The survey does not reach measured depth ${mdMm} mm: it covers ${fromMdMm} mm to ${toMdMm} mm`;
      throw new SurveyError('mdMm', mdMm, `${fromMdMm} to ${toMdMm}`, message);
    }
    let low = 0;
    let high = this.arcs.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.arcs[middle] ?? this.lastArc).top.mdMm <= mdMm) {
        low = middle;
      } else {
        high = middle - 1;
      }
    }
    const placed = this.arcs[low] ?? this.lastArc;
    return { ...placed, alongMm: mdMm - placed.top.mdMm };
  }
}

/** The first and the last item of a list that the checked survey has left with at least one. */
function ends<T>(items: readonly T[]): [T, T] {
  const first = items[0];
  const last = items.at(-1);
  if (first === undefined || last === undefined) {
    throw new SurveyError('stations', items.length, 'at least 2', 'A well path needs at least 2 survey stations');
  }
  return [first, last];
}

function firstStation({ mdMm, inclinationDeg, azimuthDeg }: SurveyStation, tieIn: SurveyTieIn): StationPosition {
  const { northMm, eastMm, tvdMm } = tieIn;
  const noDogleg = { doglegDeg: 0, doglegSeverityDegPer30M: 0 };
  return { mdMm, inclinationDeg, azimuthDeg, northMm, eastMm, tvdMm, ...noDogleg };
}

function stationBelow(above: StationPosition, station: SurveyStation, arc: Arc): StationPosition {
  const step = arc.displacementAt(arc.lengthMm);
  const doglegDeg = toDegrees(arc.doglegRad);
  return {
    mdMm: station.mdMm,
    inclinationDeg: station.inclinationDeg,
    azimuthDeg: station.azimuthDeg,
    northMm: above.northMm + step.northMm,
    eastMm: above.eastMm + step.eastMm,
    tvdMm: above.tvdMm + step.tvdMm,
    doglegDeg,
    doglegSeverityDegPer30M: (doglegDeg * DOGLEG_COURSE_MM) / arc.lengthMm,
  };
}

/** The one or two stretches of an arc over which its depth keeps its direction, split where it is horizontal. */
function monotonePieces({ arc, top, bottom }: PlacedArc): MonotonePiece[] {
  const base = { arc, arcMdMm: top.mdMm, arcTvdMm: top.tvdMm };
  const { down: first } = arc.fromTangent;
  const { down: last } = arc.toTangent;
  const turnMm = arc.turningPointMm();
  if (turnMm === undefined) {
    return [pieceBetween(base, top, bottom, first + last)];
  }
  const turn = { mdMm: top.mdMm + turnMm, tvdMm: top.tvdMm + arc.displacementAt(turnMm).tvdMm };
  return [pieceBetween(base, top, turn, first), pieceBetween(base, turn, bottom, last)];
}

type Depths = Pick<PathPosition, 'tvdMm'> & Pick<SurveyStation, 'mdMm'>;

function pieceBetween(
  base: Pick<MonotonePiece, 'arc' | 'arcMdMm' | 'arcTvdMm'>,
  from: Depths,
  to: Depths,
  downward: number,
): MonotonePiece {
  const direction = downward > 0 ? 1 : downward < 0 ? -1 : 0;
  return { ...base, fromMdMm: from.mdMm, toMdMm: to.mdMm, fromTvdMm: from.tvdMm, toTvdMm: to.tvdMm, direction };
}
