import type { PageFrame } from '../page-frame.js';
import { drawBlock } from './chart-pages.js';
import type { Block } from './shapes.js';

/** Panels that stand between one head and one foot, on however many pages. */
export interface PanelPages<Panel> {
  readonly panels: readonly Panel[];
  /** On each page. */
  readonly head: Block;
  /** On each page. */
  readonly foot: Block;
  /** A panel with a plot of a height. */
  readonly blockOf: (panel: Panel, plotPt: number) => Block;
  readonly leastPt: number;
  readonly mostPt: number;
}

/** From the cursor on, as many panels on a page as fit, and as high as leaves no room. */
export function drawPanelPages<Panel>({ panels, head, foot, blockOf, leastPt, mostPt }: PanelPages<Panel>, page: PageFrame): void {
  for (let from = 0; from < panels.length;) {
    if (from > 0) page.newPage();
    const roomPt = page.roomPt - head.heightPt - foot.heightPt;
    let [to, usedPt] = [from, 0];
    for (let panel = panels[to]; panel !== undefined; panel = panels[to]) {
      const neededPt = blockOf(panel, leastPt).heightPt;
      if (to > from && usedPt + neededPt > roomPt) break;
      usedPt += neededPt;
      to += 1;
    }
    const plotPt = Math.min(mostPt, leastPt + Math.max(0, roomPt - usedPt) / (to - from));
    for (const block of [head, ...panels.slice(from, to).map((panel) => blockOf(panel, plotPt)), foot]) drawBlock(block, page);
    from = to;
  }
}
