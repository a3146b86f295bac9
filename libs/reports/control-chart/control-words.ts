/** What a control chart says in words. */
import { formatInterval, formatUncertainty, type IntervalMm } from '../instants-and-lengths.js';
import { NO_INTERLOCK, unsureWords } from '../strip-chart/chart-cautions.js';
import { isOnAxis } from '../strip-chart/chart-frame.js';
import { rangeWords } from '../strip-chart/head-block.js';
import { textTo } from '../strip-chart/value-scale.js';
import type { ControlChartAxis, ControlChartPicture, PicturePanel } from './control-chart-data.js';
import { rangeOf, watchWords } from './control-head.js';
import { counted } from './counted.js';
import { leftOutReasons, pointsOf } from './left-out-reasons.js';
import { letterWords, signalName } from './rule-letters.js';

const PLACES_MOST = 6;
/** Single readings spread more than what is made of several of them. */
const OF_SEVERAL: ReadonlySet<PicturePanel['shows']> = new Set(['means', 'batch means', 'weighted averages']);

export const axisWords = (axis: ControlChartAxis): string => (axis.by === 'pipe' ? rangeWords(axis) : `${axis.of}, ${axis.labels.length} in order`);

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
export function signalWords(picture: ControlChartPicture): { name: string; text: string }[] {
  const drawn = new Set(pointsOf(picture).flatMap(({ signals }) => signals));
  return picture.signals.map((signal) => ({ name: signalName(signal), text: drawn.has(signal.number) ? signal.text : `${signal.text} (off this chart)` }));
}

/** Points that the limits were taken without: for each reason, by its number, how many and where. */
export function leftOutWords(picture: ControlChartPicture): string[] {
  return leftOutReasons(picture).map(({ reason, points }, index) => {
    const places = [...new Set(points.map((point) => placeWords(point, picture.axis)))];
    const named = places.slice(0, PLACES_MOST).join('; ');
    return `(${index + 1}) Limits were taken without ${counted(places.length, 'point')}, ${reason}: ${named}${places.length > PLACES_MOST ? ` and ${places.length - PLACES_MOST} more` : ''}.`;
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
  const said = [...signalWords(picture).map(({ name, text }) => `Signal ${name}: ${text}`), letterWords(picture.signals), ...leftOutWords(picture), ...picture.notes.map(({ text, isWarning }) => `${isWarning ? 'Warning: ' : ''}${text}`)];
  return [`Control chart of ${axisWords(picture.axis)}. ${statusWords(picture)}.`, ...picture.panels.map((panel) => panelInWords(panel, picture)), ...said].filter((part) => part !== '').join(' ');
}

function panelInWords({ shows, unit, points, specification }: PicturePanel, { axis }: ControlChartPicture): string {
  const last = points.findLast((point) => isOnAxis(rangeOf(axis), point));
  const apart = last === undefined ? NaN : Math.min(...[last.lower, last.upper].flatMap((limit) => (limit === null || limit === last.centre ? [] : [Math.abs(limit - last.centre)])));
  const figures = last === undefined ? [] : ([['centre', last.centre], ['lower limit', last.lower], ['upper limit', last.upper]] as const)
    .flatMap(([name, value]) => (value === null ? [] : [`${name} ${textTo(value, apart)}`]));
  const limits = (['lower', 'upper'] as const).flatMap((side) => (specification?.[side] == null ? [] : [`${side} specification ${specification[side]}`]));
  return `${[`${shows}${unit === '' ? '' : ` in ${unit}`}: ${counted(points.length, 'point')}`, ...figures, ...limits].join(', ')}.`;
}
