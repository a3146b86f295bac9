import { interval, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import type { Channel } from '../channels/channel.entity.js';
import type { Stretch } from './stretch.js';

/** Samples further apart than so many times their usual distance leave a gap. Our own choice. */
const GAP_FROM = 1.5;

/** Gathers for which pipe samples speak: each for its share of the way to the next, as long as that is not too far. */
export class Speech {
  private readonly found: Interval[] = [];
  private open: { from: number; to: number } | null = null;
  /** 0 where samples come by time. */
  readonly stepMm: number;
  private readonly byLength: boolean;
  private readonly stepUs: number;

  constructor({ sampling }: Channel, private readonly stretch: Stretch) {
    this.byLength = sampling.per === 'length';
    this.stepMm = sampling.per === 'length' ? Number(sampling.everyMm) : 0;
    this.stepUs = sampling.per === 'time' ? Number(sampling.everyMs) * 1_000 : 0;
  }

  /** Whether so many samples from one position to another lie close enough to each other to speak for all between. */
  isEven(first: number, last: number, samples: number): boolean {
    return samples === 1 || this.isNear(first, first + (last - first) / (samples - 1));
  }

  /** Adds samples that speak for all from one position to another, in the order in which they were read. */
  between(first: number, last: number): void {
    if (this.open !== null && this.isNear(this.open.to, first)) this.open.to = last;
    else {
      this.close();
      this.open = { from: first, to: last };
    }
  }

  intervals(): Interval[] {
    this.close();
    return this.found;
  }

  /** Within the usual distance: along the pipe where samples go by length or by a counter, else by time. */
  isNear(one: number, other: number): boolean {
    if (this.byLength) return Math.abs(this.stretch.footageOf(other) - this.stretch.footageOf(one)) <= this.stepMm * GAP_FROM;
    return this.stretch.fromPosition === -Infinity || Math.abs(other - one) <= this.stepUs * GAP_FROM;
  }

  private close(): void {
    if (this.open === null) return;
    const ends = [this.stretch.footageOf(this.open.from), this.stretch.footageOf(this.open.to)];
    // A sample speaks for the length of a step from it on: the last one too, and one alone.
    const fromMm = roundMm(Math.min(...ends));
    const toMm = roundMm(Math.max(...ends) + this.stepMm);
    this.found.push(interval(fromMm, Math.max(toMm, fromMm + 1)));
    this.open = null;
  }
}
