import { PartError, shown } from './part-error.js';

/** A member of a flat JSON object: its name, and its value as text; null for null. */
export type TakeMember = (name: string, text: string | null) => void;

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const STRING = /"[^"\\]*(?:\\.[^"\\]*)*"/y;
const SPACE = /[ \t\r\n]*/y;

/**
 * Reads one JSON object (RFC 8259) whose values are numbers, strings and nulls, member by member as they stand. A parser that
 * makes objects keeps of two equal names the last, and of a number the nearest double; it also goes as deep as a line says.
 */
export class JsonLine {
  private text = '';
  private at = 0;
  private line = 0;

  read(text: string, line: number, take: TakeMember): void {
    [this.text, this.line, this.at] = [text, line, 0];
    this.expect('{', 'a JSON object');
    if (!this.skip('}')) {
      do {
        const name = this.string('a name in quotes');
        this.expect(':', 'a colon');
        take(name, this.value(name));
      } while (this.skip(','));
      this.expect('}', 'a comma or the end of the object');
    }
    this.match(SPACE);
    if (this.at < text.length) throw this.fault('the end of the line');
  }

  private match(pattern: RegExp): string | null {
    pattern.lastIndex = this.at;
    if (!pattern.test(this.text)) return null;
    const found = this.text.slice(this.at, pattern.lastIndex);
    this.at = pattern.lastIndex;
    return found;
  }

  /** Passes over a sign that may be there, and spaces before it. */
  private skip(sign: string): boolean {
    if (this.text[this.at] !== sign) this.match(SPACE);
    if (this.text[this.at] !== sign) return false;
    this.at += 1;
    return true;
  }

  private expect(sign: string, what: string): void {
    if (!this.skip(sign)) throw this.fault(what);
  }

  private string(what: string): string {
    if (this.text[this.at] !== '"') this.match(SPACE);
    const quoted = this.match(STRING);
    if (quoted === null) throw this.fault(what);
    if (!quoted.includes('\\')) return quoted.slice(1, -1);
    try {
      return JSON.parse(quoted) as string;
    } catch {
      throw this.fault('no such escape in a string');
    }
  }

  private value(name: string): string | null {
    this.match(SPACE);
    const first = this.text[this.at];
    if (first === '"') return this.string('a string');
    if (first === 'n' && this.text.startsWith('null', this.at)) {
      this.at += 'null'.length;
      return null;
    }
    const number = this.match(NUMBER);
    if (number !== null) return number;
    const is = first === '{' ? 'an object' : first === '[' ? 'an array' : `"${shown(/^[^,}]*/.exec(this.text.slice(this.at, this.at + 80))?.[0] ?? '')}"`;
    throw new PartError('wrong-value', `line ${this.line}: ${shown(name)} is ${is}; a number, a string or null is taken`, { field: name, line: this.line, value: is });
  }

  private fault(expected: string): PartError {
    const value = this.text.slice(this.at, this.at + 80);
    return new PartError('malformed', `line ${this.line} is not a flat JSON object: ${expected} is expected at character ${this.at + 1}`, { line: this.line, value });
  }
}
