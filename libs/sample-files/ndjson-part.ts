import { isUtf8 } from 'node:buffer';
import { JsonLine } from './json-line.js';
import { PartError, shown } from './part-error.js';
import type { PartPlan, RawPart } from './part.js';
import { LineBlocks } from './text-lines.js';
import { TextRows } from './text-rows.js';

/**
 * One flat JSON object a line, in UTF-8, each with every column and no other; null, or an empty text, where nothing was read.
 * Empty lines are passed over. Values are numbers or texts, read as `TextRows` says: digit by digit, not as doubles.
 */
export function readNdjsonPart(bytes: Uint8Array, plan: PartPlan): RawPart {
  if (!isUtf8(bytes)) throw new PartError('malformed', 'the NDJSON text is not UTF-8');
  const blocks = new LineBlocks(bytes);
  const members = new Members(plan);
  for (let block = blocks.next(); block !== null; block = blocks.next()) {
    const lines = Buffer.from(block.buffer, block.byteOffset, block.byteLength).toString().split('\n');
    for (const [index, text] of lines.entries()) if (text !== '' && text !== '\r') members.readLine(text, blocks.firstLine + index);
  }
  return members.rows.end();
}

/** The members of one line after the other. */
class Members {
  private line = 0;
  private readonly json = new JsonLine();
  readonly rows: TextRows;
  /** Where each name belongs: an index of a column, or −1 for the position. */
  private readonly places: ReadonlyMap<string, number>;
  /** The line in which each was seen last. */
  private readonly seen: Map<string, number>;
  private members = 0;

  constructor(plan: PartPlan) {
    this.rows = new TextRows(plan, () => this.line);
    this.places = new Map([[plan.position.name, -1], ...plan.columns.map(({ name }, index) => [name, index] as const)]);
    this.seen = new Map([...this.places.keys()].map((name) => [name, 0]));
  }

  readLine(text: string, line: number): void {
    [this.line, this.members] = [line, 0];
    this.rows.begin();
    this.json.read(text, line, this.take);
    if (this.members < this.places.size) this.demandAll();
  }

  private readonly take = (name: string, text: string | null): void => {
    const place = this.places.get(name);
    if (place === undefined || this.seen.get(name) === this.line) throw this.wrongName(name, place === undefined ? 'is no column of the part' : 'is there more than once');
    this.seen.set(name, this.line);
    this.members += 1;
    if (place === -1) this.rows.setPosition(text);
    else this.rows.setValue(place, text);
  };

  private demandAll(): void {
    for (const [name, last] of this.seen) if (last !== this.line) throw this.wrongName(name, 'is missing; where nothing was read, send null');
  }

  private wrongName(name: string, is: string): PartError {
    const limit = [...this.places.keys()].join(', ');
    return new PartError('wrong-columns', `line ${this.line}: ${shown(name)} ${is}`, { field: name, line: this.line, limit });
  }
}
