import { cautionBlock } from '../strip-chart/chart-cautions.js';
import { BESIDE_PLOT_EM, frameOf } from '../strip-chart/chart-frame.js';
import { EM_PX, svgDocument } from '../strip-chart/chart-svg.js';
import { scaleBlock, titleBlock } from '../strip-chart/head-block.js';
import { roomyRuler } from '../strip-chart/ruler.js';
import { stacked } from '../strip-chart/shapes.js';
import { assumedWords, depthWords, knownAtWords, paragraphsBlock, ratingKeyBlock, reasonWords, weakestWords } from './rating-chart-blocks.js';
import { checkRatingChart, type RatingChart } from './rating-chart-data.js';
import { ratingPanelBlock } from './rating-panel.js';

const PLOT_PX = 900;
const PLOT_HEIGHT_EM = 10;

/**
 * A rating profile as an SVG document of a fixed size: black, white and greys, no script, no link, no style sheet; the same chart gives
 * the same bytes.
 * @throws ReportDataError for a chart that cannot be drawn truthfully.
 */
export function drawRatingChartSvg(chart: RatingChart): string {
  checkRatingChart('chart', chart);
  const frame = frameOf(chart.axis, PLOT_PX + BESIDE_PLOT_EM * EM_PX, EM_PX, roomyRuler);
  const words = [depthWords(chart), ...assumedWords(chart), ...chart.panels.map(weakestWords), ...reasonWords(chart)];
  const whole = stacked([
    titleBlock({ titles: [...chart.titles, knownAtWords(chart)] }, frame), scaleBlock({ quantity: 'measured depth', depth: chart.depth }, frame), paragraphsBlock([], frame),
    ...chart.panels.map((panel) => ratingPanelBlock(panel, frame, PLOT_HEIGHT_EM * EM_PX)), ratingKeyBlock(frame), paragraphsBlock(words, frame), cautionBlock(chart.cautions, frame),
  ]);
  return svgDocument(whole, frame, chart.titles[0] ?? '', [knownAtWords(chart), ...words].join(' '));
}
