import { advance, NO_MEMORY, type RunRule, ZONE_LINES, type ZoneMemory, type ZoneRule } from './run-rules.js';

/** The lines of a chart on which centre and standard error stay the same; what lies between two lines, or on one, is a cell. */
export class ZoneLines {
  private readonly lines: Float64Array;
  private readonly scale: number;
  /** So near to a line, in standard errors, a quotient may be on its wrong side: 100 times what rounding moves it by. Where that is much, all are near. */
  private readonly near: number;

  constructor(private readonly centre: number, standardError: number) {
    this.lines = Float64Array.from(ZONE_LINES, (line) => (line < 0 ? centre - -line * standardError : centre + line * standardError));
    this.scale = 1 / standardError;
    this.near = Math.abs(centre) < 1e8 * standardError ? 1e-6 : 1;
  }

  /** The number of lines below the value and of lines not above it together: even between two lines, odd on one. */
  cellOf(value: number): number {
    const place = (value - this.centre) * this.scale + FIRST_ZONE;
    const zone = place | 0;
    const rest = place - zone;
    return rest > this.near && rest < 1 - this.near && zone < ZONES ? 2 * zone : this.compared(value);
  }

  private compared(value: number): number {
    let cell = 0;
    for (const line of this.lines) cell += Number(value > line) + Number(value >= line);
    return cell;
  }
}

const ZONES = ZONE_LINES.length + 1;
/** Zones lie one standard error apart; that below the lowest line is the first. */
const FIRST_ZONE = 1 - ZONE_LINES[0];

/** Entries of a state: one for each cell, and as many more as make a power of two. */
const ROW = 16;
/** Of an entry, for the rules that signal: more than there are rules of zones. */
const SIGNAL_BITS = 10;
const SIGNALS = 2 ** SIGNAL_BITS - 1;
const UNKNOWN = -1;

/**
 * Rules of zones, all of them in one go over the points. What they remember together is a state; a table says, by state and cell of
 * the next point, the state that follows (where its row begins) and which rules signal. An entry is worked out when it is first
 * met, by the rules themselves (`advance`), and kept.
 */
export class ZoneAutomaton {
  private table = new Int32Array(64 * ROW).fill(UNKNOWN);
  private readonly states: (readonly ZoneMemory[])[] = [];
  private readonly rows = new Map<string, number>();

  constructor(private readonly rules: readonly ZoneRule[]) {
    this.rowOf(rules.map(() => NO_MEMORY));
  }

  /** By rule the points at which it signals, from 1. */
  signals(values: Float64Array, lines: ZoneLines): number[][] {
    const points: number[][] = this.rules.map(() => []);
    let { table } = this;
    let row = 0;
    for (let index = 0; index < values.length; index++) {
      const at = row + lines.cellOf(values[index] ?? NaN);
      let entry = table[at] ?? UNKNOWN;
      if (entry === UNKNOWN) {
        entry = this.workOut(at);
        ({ table } = this);
      }
      row = entry >> SIGNAL_BITS;
      if ((entry & SIGNALS) !== 0) note(points, entry, index + 1);
    }
    return points;
  }

  private workOut(at: number): number {
    const [state, cell] = [this.states[Math.floor(at / ROW)] ?? [], at % ROW];
    // A value in the cell: half a standard error past a line, or on it.
    const point = { value: ZONE_LINES[0] - 0.5 + cell / 2, centre: 0, standardError: 1 };
    const next = this.rules.map((rule, index) => advance(rule, state[index] ?? NO_MEMORY, point));
    const signalling = next.reduce((bits, { side }, rule) => (side === 0 ? bits : bits | (1 << rule)), 0);
    const entry = (this.rowOf(next.map(({ memory }) => memory)) << SIGNAL_BITS) | signalling;
    this.table[at] = entry;
    return entry;
  }

  private rowOf(memories: readonly ZoneMemory[]): number {
    const key = memories.map(({ above, below }) => `${above},${below}`).join(';');
    const known = this.rows.get(key);
    if (known !== undefined) return known;
    const row = ROW * (this.states.push(memories) - 1);
    this.rows.set(key, row);
    if (row === this.table.length) {
      const wider = new Int32Array(2 * row).fill(UNKNOWN);
      wider.set(this.table);
      this.table = wider;
    }
    return row;
  }
}

function note(points: readonly number[][], entry: number, point: number): void {
  for (let rest = entry & SIGNALS; rest !== 0; rest &= rest - 1) points[31 - Math.clz32(rest & -rest)]?.push(point);
}

/** What was worked out once is kept, for as many choices of rules. Our own choice. */
const MOST_KNOWN = 20;
const knownAutomata = new Map<string, ZoneAutomaton>();

export function zoneAutomaton(names: readonly RunRule[], rules: readonly ZoneRule[]): ZoneAutomaton {
  const key = names.join();
  const automaton = knownAutomata.get(key) ?? new ZoneAutomaton(rules);
  if (knownAutomata.size < MOST_KNOWN) knownAutomata.set(key, automaton);
  return automaton;
}
