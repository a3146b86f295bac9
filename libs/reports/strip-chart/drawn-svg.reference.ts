/** A chart that was drawn as SVG, read back: its texts, where they stand, and which of them lie over each other. */
import { roomyRuler } from './ruler.js';
import { elementsOf, type ReadElement, readXml } from './svg-reader.reference.js';

export interface DrawnSvg {
  readonly root: ReadElement;
  readonly all: readonly ReadElement[];
  readonly texts: readonly ReadElement[];
}

export function drawnSvg(source: string): DrawnSvg {
  const root = readXml(source);
  const all = elementsOf(root);
  return { root, all, texts: all.filter(({ name }) => name === 'text') };
}

export const words = ({ texts }: DrawnSvg): string[] => texts.map(({ text }) => text);
export const attribute = (element: ReadElement, name: string): number => Number(element.attributes.get(name));

export function boxesOf({ texts }: DrawnSvg): { text: string; left: number; right: number; top: number; bottom: number }[] {
  return texts.map((element) => {
    const [x, y, size] = [attribute(element, 'x'), attribute(element, 'y'), attribute(element, 'font-size')];
    const width = roomyRuler(element.text, size, element.attributes.get('font-weight') === 'bold');
    const anchor = element.attributes.get('text-anchor') ?? 'start';
    const left = anchor === 'start' ? x : anchor === 'middle' ? x - width / 2 : x - width;
    return { text: element.text, left, right: left + width, top: y - 0.8 * size, bottom: y + 0.22 * size };
  });
}

export function collisionsOf(chart: DrawnSvg): string[] {
  const boxes = boxesOf(chart);
  return boxes.flatMap((a, at) => boxes.slice(at + 1).filter((b) =>
    Math.min(a.right, b.right) - Math.max(a.left, b.left) > 0.1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 0.1).map((b) => `${a.text} | ${b.text}`));
}
