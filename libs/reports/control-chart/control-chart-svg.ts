import { cautionBlock } from '../strip-chart/chart-cautions.js';
import { EM_PX, svgDocument } from '../strip-chart/chart-svg.js';
import { titleBlock } from '../strip-chart/head-block.js';
import { roomyRuler } from '../strip-chart/ruler.js';
import { stacked } from '../strip-chart/shapes.js';
import { checkControlChart } from './check-control-chart.js';
import type { ControlChartPicture } from './control-chart-data.js';
import { BESIDE_CONTROL_EM, controlFrame, controlHead, watchLane } from './control-head.js';
import { controlKey } from './control-key.js';
import { listsBlock, noteBlocks, statusBlock } from './control-lists.js';
import { controlPanelBlock } from './control-panel.js';
import { controlChartCautions, controlChartInWords } from './control-words.js';

/** Makes the whole 1,200 wide. */
const PLOT_PX = 800;
/** Of one, two and three panels. */
const PLOT_HEIGHTS_EM = [17, 12.5, 10.5];

/**
 * A control chart as an SVG document of a fixed size: black, white and greys, no script, no link, no style sheet; the same picture
 * gives the same bytes. Of points that stand too close to be drawn apart the least and the greatest of every pixel are drawn.
 * @throws ReportDataError for a picture that cannot be drawn truthfully.
 */
export function drawControlChartSvg(picture: ControlChartPicture): string {
  checkControlChart('picture', picture);
  const frame = controlFrame(picture.axis, PLOT_PX + BESIDE_CONTROL_EM * EM_PX, EM_PX, roomyRuler);
  const plotPx = (PLOT_HEIGHTS_EM[picture.panels.length - 1] ?? 0) * EM_PX;
  const whole = stacked([
    titleBlock(picture, frame), statusBlock(picture, frame), ...noteBlocks(picture, frame), controlHead(picture, frame), ...picture.panels.map((panel) => controlPanelBlock(picture, panel, frame, plotPx)),
    watchLane(picture, frame), controlKey(picture, frame), listsBlock(picture, frame), cautionBlock(controlChartCautions(picture), frame),
  ]);
  return svgDocument(whole, frame, picture.titles[0] ?? '', controlChartInWords(picture));
}
