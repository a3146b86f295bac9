import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, type Wall } from '#libs/length';
import type { ControlChartAxis, DepthAxis } from '#libs/reports';
import type { RowPoint } from '../characteristics/chart-row.js';
import { hullOf } from '../characteristics/row-points.js';
import { standingWalls } from '../evidence/evidence-on-walls.js';
import { isAsked, type ChartPart } from './chart-part.js';
import type { ControlChartView } from './control-chart-views.service.js';

const QUANTITIES = { footage: 'footage', outer: 'outer-wall depth', inner: 'inner-wall depth' } as const;
const UNSURE = 'past the last shoe tie: default length ratio';

/** Where things lie on the axis of a picture. */
export interface OnAxis {
  readonly footage: (span: Interval) => Interval[];
  /** Of the points of a row from one to another; null where they are not on it. */
  readonly points: (first: RowPoint, last: RowPoint) => Interval | null;
}

/** The axis of a picture: the pipe, or the order of the points where one of them has no place on it. */
export function pictureAxis(view: ControlChartView, parts: readonly ChartPart[], datum: string): { readonly axis: ControlChartAxis; readonly place: OnAxis } {
  const points = parts.flatMap((part) => part.row.points.filter((point) => isAsked(part, point)));
  if (points.some(({ place }) => place === null)) return orderAxis(points);
  const { axis: { by, interval, plusMinusMm, unsure, footagePieces }, footage } = view;
  const onAxis = (span: Interval): Interval[] => view.axis.onAxis(span);
  return {
    axis: {
      by: 'pipe', quantity: QUANTITIES[by], ...interval, depth: plusMinusMm === null ? null : { datum, uncertaintyMm: plusMinusMm }, unsure: unsure.map((span) => ({ ...span, words: UNSURE })),
      seconds: by === 'footage' ? depthsOf(view, footage, datum) : [{ quantity: 'footage', depth: null, pieces: footagePieces }],
    },
    place: {
      footage: onAxis,
      points: (first, last) => {
        const hull = hullOf([first, last]);
        const pieces = hull === null ? [] : onAxis(hull);
        return hullOf(pieces.map((place) => ({ place })));
      },
    },
  };
}

function orderAxis(points: readonly RowPoint[]): ReturnType<typeof pictureAxis> {
  const nth = new Map(points.map((point, index) => [point, index]));
  return {
    axis: { by: 'order', of: 'points as observed', labels: points.map(({ label, coil }) => label || coil || '?') },
    place: {
      footage: () => [],
      points: (first, last) => {
        const [from, to] = [nth.get(first) ?? nth.get(last), nth.get(last)];
        return from === undefined || to === undefined ? null : { fromMm: from, toMm: to + 1 };
      },
    },
  };
}

/** The depths of some footage on both walls as the last counter reading has them; none where they are not known. */
function depthsOf({ model }: ControlChartView, footage: Interval, datum: string): DepthAxis[] {
  return standingWalls(model).walls.flatMap((wall) => {
    const pieces = wall.piecesOfFootage(footage).filter(({ footage: { fromMm, toMm } }) => fromMm < toMm);
    if (pieces.length === 0) return [];
    const widest = pieces.reduce((most, { uMdFromMm, uMdToMm }) => Math.max(most, uMdFromMm, uMdToMm), 0);
    return [{ quantity: QUANTITIES[wall.name], depth: { datum, uncertaintyMm: Math.ceil(COVERAGE_FACTOR * widest) }, pieces: pieces.map((piece) => depthPiece(wall, piece)).sort((a, b) => a.fromMm - b.fromMm) }];
  });
}

/** With rising footage the outer wall goes down from the hang-off, and the inner one up from the shoe. */
const depthPiece = ({ name }: Wall, { footage, md }: ReturnType<Wall['piecesOfFootage']>[number]): DepthAxis['pieces'][number] =>
  ({ ...footage, startMm: name === 'outer' ? md.fromMm : md.toMm, endMm: name === 'outer' ? md.toMm : md.fromMm });
