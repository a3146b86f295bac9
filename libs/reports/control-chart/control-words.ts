/** What a control chart says in words. */
import { formatInterval, formatUncertainty, type IntervalMm } from '../instants-and-lengths.js';
import { NO_INTERLOCK, unsureWords } from '../strip-chart/chart-cautions.js';
import { isOnAxis } from '../strip-chart/chart-frame.js';
import { rangeWords } from '../strip-chart/head-block.js';
import { textTo } from '../strip-chart/value-scale.js';
import type { ControlChartAxis, ControlChartPicture, PicturePanel, PicturePoint } from './control-chart-data.js';
import { rangeOf, watchWords } from './control-head.js';
import { counted } from './control-panel.js';

const PLACES_MOST = 6;
/** Single readings spread more than what is made of several of them. */
const OF_SEVERAL: ReadonlySet<PicturePanel['shows']> = new Set(['means', 'batch means', 'weighted averages']);

export const axisWords = (axis: ControlChartAxis): string => (axis.by === 'pipe' ? rangeWords(axis) : `${axis.of}, ${axis.labels.length} in order`);

const pointsOf = ({ panels, axis }: ControlChartPicture): PicturePoint[] => panels.flatMap(({ points }) => points.filter((point) => isOnAxis(rangeOf(axis), point)));

/** What there is to see, in one line: signals first. */
export function statusWords(picture: ControlChartPicture): string {
  const points = pointsOf(picture);
  const signals = new Set(points.flatMap((point) => point.signals)).size;
  const warnings = picture.notes.filter(({ isWarning }) => isWarning).length;
  const parts = [
    points.length === 0 ? 'No points' : signals === 0 ? 'No signal' : counted(signals, 'signal'),
    warnings === 0 ? '' : counted(warnings, 'warning'), watchWords(picture.watch, rangeOf(picture.axis)),
  ];
  return parts.filter((part) => part !== '').join(' · ');
}

/** Signals as they are listed; one at no point of this chart says so. */
export function signalWords(picture: ControlChartPicture): { number: number; text: string }[] {
  const drawn = new Set(pointsOf(picture).flatMap(({ signals }) => signals));
  return picture.signals.map(({ number, text }) => ({ number, text: drawn.has(number) ? text : `${text} (off this chart)` }));
}

/** Points that the limits were taken without: how many for each reason, and where. */
export function leftOutWords(picture: ControlChartPicture): string[] {
  const byReason = new Map<string, Set<string>>();
  for (const point of pointsOf(picture)) {
    if (point.leftOut === null) continue;
    const places = byReason.get(point.leftOut) ?? new Set();
    byReason.set(point.leftOut, places.add(placeWords(point, picture.axis)));
  }
  return [...byReason].map(([reason, places]) => {
    const named = [...places].slice(0, PLACES_MOST).join('; ');
    return `Limits were taken without ${counted(places.size, 'point')}, ${reason}: ${named}${places.size > PLACES_MOST ? ` and ${places.size - PLACES_MOST} more` : ''}.`;
  });
}

function placeWords(place: IntervalMm, axis: ControlChartAxis): string {
  if (axis.by === 'pipe') return formatInterval(place);
  const [first = '', last = ''] = [axis.labels[place.fromMm], axis.labels[place.toMm - 1]];
  return first === last ? first : `${first} to ${last}`;
}

/** What a reader must be told beside a control chart, from what is on it. Sentences of our own. Common practice, no published source. */
export function controlChartCautions({ axis, panels }: ControlChartPicture): string[] {
  const depths = axis.by === 'pipe' ? [axis, ...axis.seconds].flatMap(({ quantity, depth }) => (depth === null ? [] : [{ quantity, depth }])) : [];
  const isSpecified = panels.some(({ specification }) => specification !== null);
  return [
    'A signal says: look for what changed. It is no nonconformance by itself, and no signal is no proof that the pipe conforms.',
    'Control limits are what the process did. They are no specification limits, and are not to be judged by.',
    ...(isSpecified && panels.some(({ shows, specification }) => specification !== null && OF_SEVERAL.has(shows))
      ? ['The specification is for single readings. Points here are made of several, which spread less: single readings may be outside where the point is not.'] : []),
    ...depths.map(({ quantity, depth }) => `The ${quantity} is an estimate: ${formatUncertainty(depth.uncertaintyMm)} at its widest here, measured from ${depth.datum}.`),
    ...(axis.by === 'pipe' ? unsureWords(axis) : []),
    NO_INTERLOCK,
  ];
}

/** The chart in words, for who cannot see it. */
export function controlChartInWords(picture: ControlChartPicture): string {
  const said = [...signalWords(picture).map(({ number, text }) => `Signal ${number}: ${text}`), ...leftOutWords(picture), ...picture.notes.map(({ text, isWarning }) => `${isWarning ? 'Warning: ' : ''}${text}`)];
  return [`Control chart of ${axisWords(picture.axis)}. ${statusWords(picture)}.`, ...picture.panels.map((panel) => panelInWords(panel, picture)), ...said].join(' ');
}

function panelInWords({ shows, unit, points, specification }: PicturePanel, { axis }: ControlChartPicture): string {
  const last = points.findLast((point) => isOnAxis(rangeOf(axis), point));
  const apart = last === undefined ? NaN : Math.min(...[last.lower, last.upper].flatMap((limit) => (limit === null || limit === last.centre ? [] : [Math.abs(limit - last.centre)])));
  const figures = last === undefined ? [] : ([['centre', last.centre], ['lower limit', last.lower], ['upper limit', last.upper]] as const)
    .flatMap(([name, value]) => (value === null ? [] : [`${name} ${textTo(value, apart)}`]));
  const limits = (['lower', 'upper'] as const).flatMap((side) => (specification?.[side] == null ? [] : [`${side} specification ${specification[side]}`]));
  return `${[`${shows}${unit === '' ? '' : ` in ${unit}`}: ${counted(points.length, 'point')}`, ...figures, ...limits].join(', ')}.`;
}
