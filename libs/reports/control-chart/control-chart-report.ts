import { BODY_BOLD, PageFrame, type PageFrameText } from '../page-frame.js';
import { reportCanvas, type ReportOptions } from '../report-canvas.js';
import { checkPrint, drawCautions, drawThisPrint, orNone, type PrintDetails, printFooter } from '../shared-sections.js';
import { drawBlock, EM_PT, rulerOf } from '../strip-chart/chart-pages.js';
import { drawPanelPages } from '../strip-chart/panel-pages.js';
import { type Block, stacked } from '../strip-chart/shapes.js';
import { checkControlChart } from './check-control-chart.js';
import type { ControlChartPicture, PicturePanel } from './control-chart-data.js';
import { controlFrame, controlHead, watchLane } from './control-head.js';
import { controlKey } from './control-key.js';
import { noteBlocks } from './control-lists.js';
import { controlPanelBlock, LEAST_PLOT_EM } from './control-panel.js';
import { axisWords, controlChartCautions, leftOutWords, signalWords, statusWords } from './control-words.js';
import { letterWords } from './rule-letters.js';

/** A control chart as a paper: what it is of, and which data it was drawn from. */
export interface ControlChartReportData extends PrintDetails {
  readonly well: string;
  readonly string: string;
  /** What was known, and as of which instant or version, in words. */
  readonly revision: string;
  readonly picture: ControlChartPicture;
}

const PLOT_MOST_EM = 26;

function frameText(data: ControlChartReportData): PageFrameText {
  const { picture } = data;
  const doubts = picture.axis.by === 'pipe' ? [...new Set(picture.axis.unsure.map(({ words }) => words))] : [];
  const [first, ...others] = picture.notes.filter(({ isWarning }) => isWarning).map(({ text }) => text);
  return {
    header: [
      [picture.titles[0] ?? '', orNone(data.revision)],
      [`Well ${data.well}`, `String ${data.string}, ${axisWords(picture.axis)}`],
    ],
    warning: [
      ...(doubts.length === 0 ? [] : [`Marked: ${doubts.join('; ')}.`]), ...(first === undefined ? [] : [`Warning${others.length === 0 ? '' : ` (1 of ${others.length + 1})`}: ${first}`]),
    ].join(' '),
    footer: printFooter(data),
  };
}

/**
 * A control chart as a PDF on paper laid across, in a stream: what to mind and what the limits stand on, the panels, then signals,
 * what was left out and the cautions. The same data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function controlChartReport(data: ControlChartReportData, options: ReportOptions): PDFKit.PDFDocument {
  checkPrint(data);
  checkControlChart('picture', data.picture);
  const { picture } = data;
  const canvas = reportCanvas(`${options.paper}-across`, picture.titles[0] ?? '', data.generatedAt, options);
  const page = new PageFrame(canvas, frameText(data));
  for (const title of picture.titles.slice(1)) page.paragraph(title);
  page.paragraph(statusWords(picture), BODY_BOLD);
  page.gap();
  drawPanels(picture, page);
  drawLists(picture, page);
  drawCautions(page, controlChartCautions(picture));
  drawThisPrint(page, data, 'End of chart');
  page.finish();
  canvas.document.end();
  return canvas.document;
}

/** Notes in the type of the chart. The first two panels, which are read together, stand on one page where they fit on any. */
function drawPanels(picture: ControlChartPicture, page: PageFrame): void {
  const frame = controlFrame(picture.axis, page.widthPt, EM_PT, rulerOf(page.canvas));
  for (const block of noteBlocks(picture, frame)) {
    page.ensure(block.heightPt);
    drawBlock(block, page);
  }
  const [head, foot] = [controlHead(picture, frame), stacked([watchLane(picture, frame), controlKey(picture, frame)])];
  const blockOf = (panel: PicturePanel, plotPt: number): Block => controlPanelBlock(picture, panel, frame, plotPt);
  const [leastPt, mostPt] = [LEAST_PLOT_EM * EM_PT, PLOT_MOST_EM * EM_PT];
  const neededPt = (count: number): number => picture.panels.slice(0, count).reduce((sum, panel) => sum + blockOf(panel, leastPt).heightPt, head.heightPt + foot.heightPt);
  page.ensure(neededPt(2) <= page.fullRoomPt ? neededPt(2) : neededPt(1));
  drawPanelPages({ panels: picture.panels, head, foot, blockOf, leastPt, mostPt }, page);
}

function drawLists(picture: ControlChartPicture, page: PageFrame): void {
  page.heading('Signals');
  const [signals, leftOut] = [signalWords(picture), leftOutWords(picture)];
  if (signals.length === 0) page.paragraph('none on this chart');
  for (const { name, text } of signals) page.paragraph(`${name}. ${text}`);
  if (signals.length > 0) page.paragraph(letterWords(picture.signals));
  page.heading('Left out');
  if (leftOut.length === 0) page.paragraph('nothing: limits were taken with every point of this chart');
  for (const text of leftOut) page.paragraph(text);
}
