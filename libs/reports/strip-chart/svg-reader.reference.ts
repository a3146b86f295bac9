/** A strict reader of the XML that charts are written in, to check them independently. What it does not know, it refuses. */

export interface ReadElement {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly ReadElement[];
  readonly text: string;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
// XML 1.0, production 2.
const CHARACTERS = /^[\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]*$/u;
const TAG = /^<(?<close>\/)?(?<name>[A-Za-z][\w:-]*)(?<attributes>(?:\s+[A-Za-z][\w:-]*="[^"<]*")*)\s*(?<empty>\/)?>/u;

function unescaped(text: string): string {
  if (/&(?!(?:amp|lt|gt|quot|apos);)/.test(text) || text.includes('<')) throw new Error(`not escaped: ${text}`);
  return text.replace(/&(\w+);/g, (_whole, name: string) => ENTITIES[name] ?? '');
}

function attributesOf(text: string): Map<string, string> {
  const attributes = new Map<string, string>();
  for (const [, name = '', value = ''] of text.matchAll(/([\w:-]+)="([^"]*)"/g)) {
    if (attributes.has(name)) throw new Error(`attribute ${name} twice`);
    attributes.set(name, unescaped(value));
  }
  return attributes;
}

/** The root element. Throws for anything that is not well-formed. */
export function readXml(source: string): ReadElement {
  if (!CHARACTERS.test(source)) throw new Error('a character that XML cannot hold');
  const declaration = '<?xml version="1.0" encoding="UTF-8"?>\n';
  if (!source.startsWith(declaration)) throw new Error('no XML declaration');
  const root = { name: '', attributes: new Map<string, string>(), children: [] as ReadElement[], text: '' };
  const open = [root];
  for (let rest = source.slice(declaration.length); rest !== '';) {
    const here = open.at(-1) ?? root;
    if (!rest.startsWith('<')) {
      const end = rest.indexOf('<');
      const text = end < 0 ? rest : rest.slice(0, end);
      here.text += unescaped(text);
      rest = rest.slice(text.length);
      continue;
    }
    const tag = TAG.exec(rest);
    if (tag?.groups === undefined) throw new Error(`no tag: ${rest.slice(0, 60)}`);
    const { close, name = '', attributes = '', empty } = tag.groups;
    if (close !== undefined) {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes what is not open`);
    } else {
      const element = { name, attributes: attributesOf(attributes), children: [], text: '' };
      here.children.push(element);
      if (empty === undefined) open.push(element);
    }
    rest = rest.slice(tag[0].length);
  }
  const [only, ...more] = root.children;
  if (open.length !== 1 || only === undefined || more.length > 0 || root.text.trim() !== '') throw new Error('not one root element');
  return only;
}

/** Every element below one, and itself. */
export const elementsOf = (element: ReadElement): ReadElement[] => [element, ...element.children.flatMap(elementsOf)];

/** The points of a path, one list a subpath. Knows M, L, H, V and Z with absolute numbers, and nothing else. */
export function pointsOf(path: string): [number, number][][] {
  const subpaths: [number, number][][] = [];
  let [x, y] = [NaN, NaN];
  for (const [whole, letter = '', numbers = ''] of path.matchAll(/([A-Za-z])([^A-Za-z]*)/g)) {
    const values = numbers.trim() === '' ? [] : numbers.trim().split(/\s+/).map(Number);
    const wanted = letter === 'M' || letter === 'L' ? 2 : letter === 'H' || letter === 'V' ? 1 : letter === 'Z' ? 0 : -1;
    if (values.length !== wanted || values.some(Number.isNaN)) throw new Error(`not a step of a path: ${whole}`);
    if (letter === 'Z') continue;
    if (letter !== 'V') x = values[0] ?? NaN;
    if (letter !== 'H') y = values.at(-1) ?? NaN;
    if (letter === 'M') subpaths.push([]);
    subpaths.at(-1)?.push([x, y]);
  }
  return subpaths;
}
