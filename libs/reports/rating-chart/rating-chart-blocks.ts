import type { Box } from '../canvas.js';
import { formatInstant, formatInterval, formatUncertainty } from '../instants-and-lengths.js';
import { brokenInto } from '../strip-chart/chart-cautions.js';
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { hatched } from '../strip-chart/hatch.js';
import { type KeyEntry, keyRows } from '../strip-chart/key-rows.js';
import { type Block, box, stroke } from '../strip-chart/shapes.js';
import type { RatingChart, RatingPanel } from './rating-chart-data.js';
import { ASSUMED_PEN, RATING_PEN, reasonSign, triangle, WEAKEST_PEN } from './rating-panel.js';

const middleOf = ({ yPt, heightPt }: Box): number => yPt + heightPt / 2;

const ENTRIES: readonly KeyEntry[] = [
  { words: 'rating by depth', draw: (area) => [stroke(area.xPt, middleOf(area), area.xPt + area.widthPt, middleOf(area), RATING_PEN)] },
  { words: 'λ assumed', draw: (area) => [stroke(area.xPt, middleOf(area), area.xPt + area.widthPt, middleOf(area), ASSUMED_PEN)] },
  {
    words: 'weakest of the wall that is known',
    draw: (area, emPt) => {
      const yPt = area.yPt + 0.2 * emPt;
      return [stroke(area.xPt, yPt, area.xPt + area.widthPt, yPt, WEAKEST_PEN), ...triangle(area.xPt + area.widthPt / 2, yPt + 0.25 * emPt, 0.35 * emPt)];
    },
  },
  { words: 'not computable, for the reason of its number', draw: (area, emPt) => [box(area, 'white', { ink: 'dark', widthPt: 0.4 }), ...hatched(area, 'falling', emPt)] },
  { words: 'no pipe of this wall, or none asked about', draw: (area, emPt) => [box(area, 'white', { ink: 'dark', widthPt: 0.4 }), ...hatched(area, 'dots', emPt)] },
];

/** What each drawing means. */
export const ratingKeyBlock = (frame: ChartFrame): Block => keyRows(ENTRIES, frame);

/** Paragraphs in rows as wide as the chart. */
export function paragraphsBlock(paragraphs: readonly string[], frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  const rows = paragraphs.flatMap((text) => brokenInto(text, widthPt, frame));
  return { heightPt: (rows.length * 1.35 + 0.6) * emPt, shapes: rows.map((row, index) => textAt(frame, row, 0, (1 + index * 1.35) * emPt)) };
}

export const knownAtWords = ({ knownAt }: Pick<RatingChart, 'knownAt'>): string => `As known at ${formatInstant(knownAt)}`;

/** Datum and uncertainty in full. */
export const depthWords = ({ depth: { datum, uncertaintyMm } }: Pick<RatingChart, 'depth'>): string =>
  `Depths are measured from ${datum}, ${formatUncertainty(uncertaintyMm)} at the widest here.`;

/** Where a rating rests on an assumed λ; none where none does. */
export function assumedWords({ panels }: Pick<RatingChart, 'panels'>): string[] {
  const steps = panels.flatMap((panel) => panel.steps).filter(({ isAssumed }) => isAssumed);
  if (steps.length === 0) return [];
  const span = { fromMm: Math.min(...steps.map(({ fromMm }) => fromMm)), toMm: Math.max(...steps.map(({ toMm }) => toMm)) };
  return [`Dashed, within ${formatInterval(span)}: λ is assumed, since no two shoe ties give it there.`];
}

/** Why something is not computable, each with its number and where it is. */
export function reasonWords({ reasons, panels }: Pick<RatingChart, 'reasons' | 'panels'>): string[] {
  return reasons.map((reason, index) => {
    const places = panels.flatMap(({ steps }) => steps.filter((step) => step.reason === index + 1)).map((step) => formatInterval(step));
    const [first = '', ...others] = [...new Set(places)];
    return `${reasonSign(index + 1)} ${first}${others.length === 0 ? '' : ` and ${others.length} more`}: ${reason}`;
  });
}

/** What the weakest of a panel rests on. */
export function weakestWords({ wall, rating, weakest }: RatingPanel): string {
  if (weakest === null) return `${rating}, ${wall} wall: nothing could be rated.`;
  const places = weakest.places.slice(0, MOST_PLACES).map((place) => formatInterval(place));
  const more = weakest.places.length > MOST_PLACES ? ` and ${weakest.places.length - MOST_PLACES} more` : '';
  return `${rating}, ${wall} wall: weakest known ${weakest.pressureMpa.toFixed(2)} MPa (${weakest.tablePsi} psi) at ${places.join('; ')}${more}. It rests on ${weakest.restsOn.join('; ')}.`;
}

const MOST_PLACES = 6;
