import { BODY_BOLD, PageFrame, type PageFrameText } from '../page-frame.js';
import { reportCanvas, type ReportOptions } from '../report-canvas.js';
import { checkPrint, drawCautions, drawThisPrint, orNone, type PrintDetails, printFooter } from '../shared-sections.js';
import { EM_PT, rulerOf } from '../strip-chart/chart-pages.js';
import { drawPanelPages } from '../strip-chart/panel-pages.js';
import { stacked } from '../strip-chart/shapes.js';
import { checkControlChart } from './check-control-chart.js';
import type { ControlChartPicture } from './control-chart-data.js';
import { controlFrame, controlHead, watchLane } from './control-head.js';
import { controlKey } from './control-key.js';
import { controlPanelBlock, LEAST_PLOT_EM } from './control-panel.js';
import { axisWords, controlChartCautions, leftOutWords, signalWords, statusWords } from './control-words.js';

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
      ...(first === undefined ? [] : [`Warning${others.length === 0 ? '' : ` (1 of ${others.length + 1})`}: ${first}`]), ...(doubts.length === 0 ? [] : [`Marked: ${doubts.join('; ')}`]),
    ].join(' '),
    footer: printFooter(data),
  };
}

/**
 * A control chart as a PDF on paper laid across, in a stream: the panels, then warnings, signals, what the limits stand on and the
 * cautions. The same data and options give the same bytes.
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

function drawPanels(picture: ControlChartPicture, page: PageFrame): void {
  const frame = controlFrame(picture.axis, page.widthPt, EM_PT, rulerOf(page.canvas));
  drawPanelPages({
    panels: picture.panels, head: controlHead(picture, frame), foot: stacked([watchLane(picture, frame), controlKey(picture, frame)]),
    blockOf: (panel, plotPt) => controlPanelBlock(picture, panel, frame, plotPt), leastPt: LEAST_PLOT_EM * EM_PT, mostPt: PLOT_MOST_EM * EM_PT,
  }, page);
}

function drawLists(picture: ControlChartPicture, page: PageFrame): void {
  const { notes } = picture;
  const warnings = notes.filter(({ isWarning }) => isWarning);
  if (warnings.length > 0) page.heading('Warnings');
  for (const { text } of warnings) page.barred(`Warning: ${text}`, BODY_BOLD);
  page.heading('Signals');
  const signals = signalWords(picture);
  if (signals.length === 0) page.paragraph('none on this chart');
  for (const { number, text } of signals) page.paragraph(`${number}. ${text}`);
  page.heading('Limits');
  const limits = [...leftOutWords(picture), ...notes.filter(({ isWarning }) => !isWarning).map(({ text }) => text)];
  if (limits.length === 0) page.paragraph('nothing noted');
  for (const text of limits) page.paragraph(text);
}
