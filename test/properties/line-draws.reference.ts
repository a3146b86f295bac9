/** Seeded draws for the simulated strings, and the encoder that is read while they are made. */
import type { SimulatedCoil } from './line-cells.reference.js';

/** Seeded draws (mulberry32), the same on every machine. */
export class Draws {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  /** In [0, 1). */
  fraction(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number, both ends included. */
  whole(from: number, to: number): number {
    return from + Math.floor(this.fraction() * (to - from + 1));
  }

  /** A multiple of `stepMm`, both ends included when they are multiples. */
  lengthMm(fromMm: number, toMm: number, stepMm: number): number {
    return this.whole(Math.ceil(fromMm / stepMm), Math.floor(toMm / stepMm)) * stepMm;
  }

  oneOf<T>(values: readonly T[]): T {
    return values[this.whole(0, values.length - 1)]!;
  }

  chance(probability: number): boolean {
    return this.fraction() < probability;
  }
}

/** A counter period as a user enters it; the start footage of a later one follows from the one before. */
export interface SimulatedCounterPeriod {
  startedAt: string;
  startReading: string;
  /** The encoder's true scale. */
  scaleMmPerCount: string;
  /** The scale that was entered first, and when it was put right; absent when it was right from the start. */
  mistakenScale?: { scaleMmPerCount: string; correctedAt: string };
  /** The first period only. */
  startFootageMm?: number;
  /** The later periods only: what the period before read at `startedAt`. */
  previousEndReading?: string;
}

export interface SimulatedReading {
  at: string;
  reading: string;
  /** Index of the counter period it was read in. At a reset this is the new period, and the reading its start reading. */
  period: number;
}

// Metres, centimetres, tenths and quarters of a millimetre, a foot; the rest are encoders with a worn or swollen wheel.
const SCALES_MM_PER_COUNT = ['1000', '10', '0.1', '0.25', '304.8', '1003.2', '0.9964', '9.987'];

/** An encoder at the weld point that counts in its own units. */
export class Encoder {
  readonly periods: SimulatedCounterPeriod[] = [];
  private startFootageMm = 0;
  private startReading = 0;
  private scaleMmPerCount = 1;

  constructor(private readonly draws: Draws) {}

  /** Six decimals at most: with the largest scale that is a thousandth of a millimetre. Negative after backing up past a reset to 0. */
  read(footageMm: number): string {
    return trimmed(this.startReading + (footageMm - this.startFootageMm) / this.scaleMmPerCount);
  }

  /** Begins a period: the first one names its footage, a later one the reading the period before it ended with. */
  reset(at: string, footageMm: number): void {
    const previousEndReading = this.read(footageMm);
    const isFirst = this.periods.length === 0;
    if (isFirst || this.draws.chance(0.5)) this.scaleMmPerCount = Number(this.draws.oneOf(SCALES_MM_PER_COUNT));
    this.startFootageMm = footageMm;
    this.startReading = this.draws.chance(0.5) ? 0 : this.draws.whole(0, 90000) / 100;
    this.periods.push({
      startedAt: at,
      startReading: trimmed(this.startReading),
      scaleMmPerCount: String(this.scaleMmPerCount),
      ...(isFirst ? { startFootageMm: footageMm } : { previousEndReading }),
    });
  }
}

function trimmed(value: number): string {
  const text = value.toFixed(6).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/** Coils that together make `lengthMm` of pipe, with forming elongations from 0.99 to 1.01, some fed tail first. */
export function drawCoils(draws: Draws, count: number, lengthMm: number, cellMm: number): SimulatedCoil[] {
  const coils: SimulatedCoil[] = [];
  const shares = Array.from({ length: count }, () => 0.4 + draws.fraction());
  const whole = shares.reduce((sum, share) => sum + share, 0);
  let fromMm = 0;
  shares.forEach((share, index) => {
    const isLast = index === count - 1;
    const toMm = isLast ? lengthMm : fromMm + Math.max(1, Math.round(((share / whole) * lengthMm) / cellMm)) * cellMm;
    const stripFromMm = draws.chance(0.5) ? 0 : draws.whole(200, 4000);
    const stripToMm = stripFromMm + Math.round((toMm - fromMm) / (0.99 + 0.02 * draws.fraction()));
    const name = `C${String(index + 1).padStart(3, '0')}`;
    coils.push({ name, fromMm, toMm, stripFromMm, stripToMm, headFirst: draws.chance(0.6) });
    fromMm = toMm;
  });
  return coils;
}
