import { interval, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import type { Channel } from '../channels/channel.entity.js';
import type { DirectoryBlock } from './channel-directory.js';
import type { Stretch } from './stretch.js';

/** Samples further apart than so many times their usual distance leave a gap. Our own choice. */
const GAP_FROM = 1.5;

/** Gathers for which pipe samples speak: each for its share of the way to the next, as long as that is not too far. */
export class Speech {
  private readonly found: Interval[] = [];
  private open: { from: number; to: number } | null = null;
  /** 0 where samples come by time. */
  readonly stepMm: number;
  private readonly isByLength: boolean;
  private readonly stepUs: number;
  /** Samples come by time and say their counter alone: one goes on to the next in their order, and a lost one is seen only there. */
  readonly goesByOrder: boolean;

  /** How far apart samples by time come at the most, along the pipe, within the window of speed; infinite where the channel has none. */
  private readonly mostMm: number;

  constructor({ sampling, speedWindow }: Pick<Channel, 'sampling' | 'speedWindow'>, private readonly stretch: Stretch) {
    this.isByLength = sampling.per === 'length';
    this.stepMm = sampling.per === 'length' ? Number(sampling.everyMm) : 0;
    this.stepUs = sampling.per === 'time' ? Number(sampling.everyMs) * 1_000 : 0;
    // A millimetre more, since a counter may count in whole ones.
    this.mostMm = sampling.per === 'time' && speedWindow !== null ? (Number(sampling.everyMs) * Number(speedWindow.toMPerMin)) / 60 * GAP_FROM + 1 : Infinity;
    this.goesByOrder = sampling.per === 'time' && stretch.fromPosition === -Infinity;
  }

  /**
   * Whether so many samples from one position to another are each a step from the next. A mean step alone does not say so: a gap
   * of a thousand steps among four thousand leaves it below one and a half.
   */
  isEven(first: number, last: number, samples: number): boolean {
    if (samples === 1) return true;
    if (this.goesByOrder) return this.isNear(first, first + (last - first) / (samples - 1));
    const [steps, span] = [samples - 1, this.isByLength ? Math.abs(this.stretch.footageOf(last) - this.stretch.footageOf(first)) : Math.abs(last - first)];
    const step = this.isByLength ? this.stepMm : this.stepUs;
    return Math.abs(span - steps * step) <= step * (GAP_FROM - 1) || (span <= steps * step * GAP_FROM && this.isByWholeSteps(first, last, steps));
  }

  /** An encoder gives a sample every so many counts: then no count is left out, whatever the counter is corrected by. */
  private isByWholeSteps(first: number, last: number, steps: number): boolean {
    if (this.stretch.fromPosition !== -Infinity) return false;
    const mmPerPosition = Math.abs(this.stretch.footageOf(first + 1) - this.stretch.footageOf(first));
    return Math.abs(last - first) === steps * Math.max(1, Math.round(this.stepMm / mmPerPosition));
  }

  /** Whether what one block says goes on in the next. */
  goesOn(block: DirectoryBlock, next: DirectoryBlock): boolean {
    if (!this.isNear(block.lastPosition, next.firstPosition)) return false;
    if (!this.goesByOrder) return true;
    const lengthOf = (one: number, other: number): number => Math.abs(this.stretch.footageOf(other) - this.stretch.footageOf(one));
    const usual = Math.max(...[block, next].map(({ firstPosition, lastPosition, samples }) => (samples === 1 ? 0 : lengthOf(firstPosition, lastPosition) / (samples - 1))));
    return next.fromUs - block.toUs <= this.stepUs * GAP_FROM || lengthOf(block.lastPosition, next.firstPosition) <= usual * GAP_FROM;
  }

  /** What comes next does not go on from what came before. */
  breakOff(): void {
    this.close();
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

  /**
   * Within the usual distance: along the pipe where samples go by length, else by time. Of samples by time at positions of a
   * counter that is what the window of speed lets go by in between; without one nothing here tells of a gap.
   */
  isNear(one: number, other: number): boolean {
    if (!this.isByLength && !this.goesByOrder) return Math.abs(other - one) <= this.stepUs * GAP_FROM;
    return Math.abs(this.stretch.footageOf(other) - this.stretch.footageOf(one)) <= (this.isByLength ? this.stepMm * GAP_FROM : this.mostMm);
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
