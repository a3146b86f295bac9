/** Bars that show where an extent lies: on its coils' strip, on the string's footage and on both walls by depth. */
import { type BarScale, DRAWN_WIDTH_MIN_PT, drawnStretch, rangeHolding, scaleMarks, toPt } from './bar-scale.js';
import { lineHeightPt } from './canvas.js';
import { formatInterval, formatMetres, formatUncertainty, type IntervalMm } from './instants-and-lengths.js';
import { placeImportantFirst, placeInRows, type PlacedLabel } from './label-placement.js';
import type { TextStyle } from './line-layout.js';
import type { NonconformanceExtent, StringGeometry } from './nonconformance-data.js';
import type { PageFrame } from './page-frame.js';

interface BarMark {
  readonly text: string;
  readonly atMm: number;
}

interface BarPosition {
  readonly interval: IntervalMm;
  readonly uncertaintyMm: number | null;
  readonly text: string;
}

/** One bar; `positions` is empty when the extent is not on it, and `absence` then says so. */
interface Bar {
  readonly title: string;
  readonly lengthMm: number;
  readonly positions: readonly BarPosition[];
  readonly absence: string;
  readonly marks: readonly BarMark[];
}

const LABEL: TextStyle = { sizePt: 7, isBold: false };
const LABEL_BOLD: TextStyle = { sizePt: 7, isBold: true };
const LABEL_PT = lineHeightPt(LABEL);
const BAR_PT = 13;
const BAND_PT = 5;
const TICK_PT = 3;
const GAP_PT = 5;

function stripBars(extent: NonconformanceExtent): Bar[] {
  if (extent.strips.length === 0) {
    return [{ title: 'strip', lengthMm: 0, positions: [], absence: 'no strip position recorded', marks: [] }];
  }
  return extent.strips.map((strip) => ({
    title: `strip of coil ${strip.coil}, from its head, m`,
    lengthMm: strip.coilLengthMm,
    positions: [{ interval: strip.interval, uncertaintyMm: null, text: formatInterval(strip.interval) }],
    absence: '',
    marks: [],
  }));
}

function footageBar(extent: NonconformanceExtent, geometry: StringGeometry): Bar {
  const known = [
    { text: 'last known good', atMm: extent.lastKnownGoodFootageMm },
    { text: 'first known good', atMm: extent.firstKnownGoodFootageMm },
  ];
  const interval = extent.footage;
  const uncertaintyMm = extent.footageUncertaintyMm;
  return {
    title: 'footage of the whole string, m',
    lengthMm: geometry.lengthMm,
    positions: interval === null ? [] : [{ interval, uncertaintyMm, text: positionText(interval, uncertaintyMm) }],
    absence: 'no footage recorded',
    marks: known.flatMap(({ text, atMm }) => (atMm === null ? [] : [{ text, atMm }])),
  };
}

function wallBars(extent: NonconformanceExtent, geometry: StringGeometry): Bar[] {
  const { outerWall, innerWall } = extent;
  const named = [
    { text: 'hang-off', atMm: geometry.hangOffDepthMm },
    { text: 'shoe', atMm: geometry.shoeDepthMm },
  ];
  const marks = named.flatMap(({ text, atMm }) => (atMm === null ? [] : [{ text, atMm }]));
  const lengthMm = Math.max(geometry.shoeDepthMm ?? 0, ...[...outerWall, ...innerWall].map(({ depth }) => depth.toMm));
  return (['outer', 'inner'] as const).map((wall) => {
    const places = wall === 'outer' ? outerWall : innerWall;
    return {
      title: `${wall} wall, measured depth, m`,
      lengthMm,
      positions: places.map(({ depth, uncertaintyMm }) => {
        return { interval: depth, uncertaintyMm, text: positionText(depth, uncertaintyMm) };
      }),
      absence: extent.depthsUnknown === null ? `not on the ${wall} wall` : 'depth not known',
      marks,
    };
  });
}

function positionText(interval: IntervalMm, uncertaintyMm: number | null): string {
  return `${formatInterval(interval)} ${formatUncertainty(uncertaintyMm)}`;
}

function possibleInterval({ interval, uncertaintyMm }: BarPosition): IntervalMm | null {
  if (uncertaintyMm === null) return null;
  return { fromMm: interval.fromMm - uncertaintyMm, toMm: interval.toMm + uncertaintyMm };
}

function scaleOf(bar: Bar, frame: PageFrame): BarScale {
  const drawn = bar.positions.flatMap((position) => {
    const { fromMm, toMm } = possibleInterval(position) ?? position.interval;
    return [fromMm, toMm];
  });
  const rangeMm = rangeHolding([bar.lengthMm, ...drawn, ...bar.marks.map((mark) => mark.atMm)]);
  return { rangeMm, leftPt: frame.leftPt, widthPt: frame.widthPt };
}

function rowsOf(labels: readonly PlacedLabel[]): number {
  return labels.reduce((rows, label) => Math.max(rows, label.rowIndex + 1), 0);
}

class BarDrawing {
  private readonly scale: BarScale;
  private readonly marks: readonly PlacedLabel[];
  private readonly positionTexts: readonly PlacedLabel[];

  constructor(
    private readonly frame: PageFrame,
    private readonly bar: Bar,
  ) {
    this.scale = scaleOf(bar, frame);
    this.positionTexts = placeInRows(
      bar.positions.map(({ text, interval }) => this.label(text, (interval.fromMm + interval.toMm) / 2)),
      ...this.ends(),
    );
    this.marks = placeInRows(bar.marks.map(({ text, atMm }) => this.label(`${text} ${formatMetres(atMm)}`, atMm)), ...this.ends());
  }

  heightPt(): number {
    const titlePt = this.frame.canvas.layout(this.bar.title, this.frame.widthPt, LABEL_BOLD).length * LABEL_PT;
    return titlePt + this.positionTextPt() + TICK_PT + BAR_PT + TICK_PT + LABEL_PT + rowsOf(this.marks) * LABEL_PT + GAP_PT;
  }

  draw(): void {
    this.frame.ensure(this.heightPt());
    this.frame.paragraph(this.bar.title, LABEL_BOLD);
    this.drawPositionText();
    const barTopPt = this.frame.yPt;
    this.drawBox(barTopPt);
    this.drawMarkRules(barTopPt);
    this.drawScale(barTopPt + BAR_PT);
    this.drawLabels(this.marks, this.frame.yPt);
    this.frame.yPt += rowsOf(this.marks) * LABEL_PT + GAP_PT;
  }

  private ends(): [number, number] {
    return [this.scale.leftPt, this.scale.leftPt + this.scale.widthPt];
  }

  private label(text: string, atMm: number) {
    const [line] = this.frame.canvas.layout(text, this.frame.widthPt, LABEL);
    return { text, centrePt: toPt(this.scale, atMm), widthPt: line?.widthPt ?? 0 };
  }

  private drawLabels(labels: readonly PlacedLabel[], yPt: number): void {
    for (const { text, leftPt, rowIndex } of labels) {
      const [line] = this.frame.canvas.layout(text, this.frame.widthPt, LABEL);
      if (line !== undefined) this.frame.canvas.drawLine(line, leftPt, yPt + rowIndex * LABEL_PT, LABEL);
    }
  }

  private drawPositionText(): void {
    this.drawLabels(this.positionTexts, this.frame.yPt);
    this.frame.yPt += this.positionTextPt() + TICK_PT;
  }

  private positionTextPt(): number {
    return rowsOf(this.positionTexts) * LABEL_PT;
  }

  private drawBox(yPt: number): void {
    const { leftPt, widthPt } = this.scale;
    const { canvas } = this.frame;
    canvas.drawArea({ xPt: leftPt, yPt, widthPt, heightPt: BAR_PT }, 'blank', { widthPt: 0.8 });
    if (this.bar.positions.length === 0) {
      const [line] = canvas.layout(this.bar.absence, widthPt, LABEL);
      if (line !== undefined) canvas.drawLine(line, leftPt + (widthPt - line.widthPt) / 2, yPt + (BAR_PT - LABEL_PT) / 2, LABEL);
      return;
    }
    for (const position of this.bar.positions) this.drawPossible(position, yPt);
    for (const { interval } of this.bar.positions) {
      const stretch = drawnStretch(this.scale, interval);
      canvas.drawArea({ xPt: stretch.leftPt, yPt, widthPt: stretch.widthPt, heightPt: BAR_PT }, 'hatched', { widthPt: 0.9 });
    }
  }

  private drawPossible(position: BarPosition, yPt: number): void {
    const possible = possibleInterval(position);
    if (possible === null) return;
    const band = drawnStretch(this.scale, possible);
    const box = { xPt: band.leftPt, yPt: yPt + (BAR_PT - BAND_PT) / 2, widthPt: band.widthPt, heightPt: BAND_PT };
    this.frame.canvas.drawArea(box, 'dotted', { widthPt: 0.5 });
  }

  private drawMarkRules(yPt: number): void {
    for (const { atMm } of this.bar.marks) {
      const xPt = toPt(this.scale, atMm);
      this.frame.canvas.drawRule(xPt, yPt - TICK_PT, xPt, yPt + BAR_PT + TICK_PT, { widthPt: 1.1, dashPt: 2 });
    }
  }

  private drawScale(yPt: number): void {
    if (this.bar.lengthMm > 0) {
      const marks = scaleMarks(this.scale.rangeMm);
      for (const { atMm } of marks) {
        const xPt = toPt(this.scale, atMm);
        this.frame.canvas.drawRule(xPt, yPt, xPt, yPt + TICK_PT);
      }
      const labels = marks.map(({ atMm, text }) => this.label(text, atMm));
      this.drawLabels(placeImportantFirst(labels, ...this.ends()), yPt + TICK_PT);
    }
    this.frame.yPt = yPt + TICK_PT + LABEL_PT;
  }
}

function barsOf(extent: NonconformanceExtent): Bar[] {
  const { string } = extent;
  const pipe = string === null ? [] : [footageBar(extent, string), ...wallBars(extent, string)];
  return [...stripBars(extent), ...pipe];
}

/**
 * Draws the bars of one extent, all on one page where a page has the room; a single bar is never cut.
 * Each bar names its extent, since it may stand on a page without the extent's heading.
 */
export function drawPosition(frame: PageFrame, extent: NonconformanceExtent, extentName: string): void {
  const bars = barsOf(extent).map((bar) => ({ ...bar, title: `${extentName}: ${bar.title}` }));
  const drawings = bars.map((bar) => new BarDrawing(frame, bar));
  const togetherPt = drawings.reduce((sum, drawing) => sum + drawing.heightPt(), 0);
  if (togetherPt <= frame.fullRoomPt) frame.ensure(togetherPt);
  for (const drawing of drawings) drawing.draw();
}

/** Says in words what the hatching, the dots and the broken lines mean. */
export function drawLegend(frame: PageFrame): void {
  const entries = [
    ['hatched', `Hatched: the extent. One narrower than ${DRAWN_WIDTH_MIN_PT} points on its scale is drawn ${DRAWN_WIDTH_MIN_PT} points wide; the figures above the bar are exact.`],
    ['dotted', 'Dotted: where the extent may also lie, its ends moved out by the expanded uncertainty (k = 2).'],
    ['blank', 'Blank: the rest of the coil, the string or the well. A broken line across a bar is a mark named below it.'],
  ] as const;
  for (const [filling, text] of entries) {
    frame.ensure(2 * LABEL_PT);
    const heightPt = filling === 'dotted' ? BAND_PT : LABEL_PT - 2;
    const box = { xPt: frame.leftPt, yPt: frame.yPt + (LABEL_PT - heightPt) / 2, widthPt: 18, heightPt };
    frame.canvas.drawArea(box, filling);
    frame.paragraph(text, LABEL, 24);
  }
}
