import { interval, type Interval, type IntervalSet } from '#libs/intervals';
import { type Edge, type ExcludedSamples, type Indication, mayContinue } from './indication.js';
import { MarkedIntervals } from './marked-intervals.js';
import { checkRule, type IndicationRule, wholeFrom } from './rule.js';
import { begin, indicationOf, join, type Running } from './running.js';
import { AT_LEAST, AT_MOST, checkBlock, MEASURED, type SampleBlock } from './samples.js';

/** How the signal was taken, whatever the rule. */
export interface SignalBase {
  /** A sample speaks for the pipe from its footage to the next sample's, at most this far; whole mm from 1. */
  readonly pitchMm: number;
  /** Marked intervals (splices, reference standards, lifted probes): samples there form no indication. */
  readonly excluded: IntervalSet;
}

/** What became settled: no later sample changes it. Both in order of footage. */
export interface Settled {
  readonly indications: readonly Indication[];
  /** Pipe between the first and the last sample, outside the exclusions, for which no sample speaks. */
  readonly gaps: readonly Interval[];
}

export interface DetectionCounts {
  readonly samples: number;
  readonly missingSamples: number;
  /** Samples whose value is a bound. */
  readonly saturatedSamples: number;
  /** What reached the threshold, ended on both sides in known signal and was shorter than the minimum length. */
  readonly tooShort: number;
  /** Exclusions in which samples lay. */
  readonly excluded: readonly ExcludedSamples[];
}

/**
 * Finds the indications of one channel, block by block, in constant memory (beyond the exclusions); where the signal is cut
 * into blocks plays no part. An indication is a run of samples at the release level or beyond with at least one at the threshold
 * or beyond: it reaches as far back as forward, so that pipe read in either direction gives the same. Neighbours are combined
 * first and short ones dropped afterwards, so that a row of spots counts by its whole length. Neither combining nor bridging
 * crosses an exclusion. A missing sample is a gap: it never counts as signal below the threshold, ends an indication as
 * `gap`, or is bridged as the rule says. A saturated sample counts as the worst that it may be: "at least" reaches every
 * threshold `above`, and is its bound for `below`. The levels are compared in the precision of the samples. Common practice,
 * no published source; API 5CT asks that indicators at or above the threshold are found.
 * Throws RangeError as `checkRule` does, and on a pitch below 1 mm.
 */
export class IndicationDetector {
  private readonly sign: 1 | -1;
  private readonly openBound: number;
  private readonly pitchMm: number;
  private readonly marked: MarkedIntervals;
  private release = 0;
  private threshold = 0;

  private hasData = false;
  private lastMm = Number.NEGATIVE_INFINITY;
  private goodMm = Number.NEGATIVE_INFINITY;
  /** Up to where something speaks for the pipe, and what that is. */
  private spokenToMm = 0;
  private behind: Edge = 'end-of-data';
  private missingToMm = Number.NEGATIVE_INFINITY;
  private running: Running | null = null;
  /** Complete but for what may be combined with it. */
  private waiting: Running | null = null;
  private missingMm = 0;
  private samples = 0;
  private missingSamples = 0;
  private saturatedSamples = 0;
  private tooShort = 0;
  private indications: Indication[] = [];
  private gaps: Interval[] = [];

  constructor(private readonly rule: IndicationRule, { pitchMm, excluded }: SignalBase) {
    checkRule(rule);
    wholeFrom(1, pitchMm, 'pitchMm');
    this.sign = rule.sense === 'above' ? 1 : -1;
    this.openBound = rule.sense === 'above' ? AT_LEAST : AT_MOST;
    this.pitchMm = pitchMm;
    this.marked = new MarkedIntervals(excluded);
  }

  /** Takes the samples that follow, and answers what they settled. Throws RangeError as `checkBlock` does, and has then taken none of them. */
  add(block: SampleBlock): Settled {
    checkBlock(block, this.lastMm);
    const { positionsMm, values, bounds } = block;
    this.setLevels(values instanceof Float32Array);
    for (let index = this.skip(block, 0); index < positionsMm.length; index = this.skip(block, index + 1)) {
      const atMm = positionsMm[index] as number;
      this.take(atMm, this.sign * (values[index] as number), bounds === null ? MEASURED : (bounds[index] as number));
    }
    this.samples += positionsMm.length;
    this.lastMm = positionsMm.at(-1) ?? this.lastMm;
    this.settleWaiting();
    return this.handOut();
  }

  /** What would follow were this the end of the data; changes nothing, and more samples may follow. */
  rest(): Settled {
    const twin = this.twin();
    twin.end();
    return twin.handOut();
  }

  /** Of the samples up to here, as if they were all. */
  counts(): DetectionCounts {
    const twin = this.twin();
    twin.end();
    const { samples, missingSamples, saturatedSamples, tooShort } = twin;
    return { samples, missingSamples, saturatedSamples, tooShort, excluded: this.marked.counts() };
  }

  /** A copy to bring to its end; the marked intervals are shared, since an end moves none of them. */
  private twin(): IndicationDetector {
    const twin = Object.create(IndicationDetector.prototype) as IndicationDetector;
    const copy = (one: Running | null): Running | null => (one === null ? null : { ...one });
    return Object.assign(twin, this, { running: copy(this.running), waiting: copy(this.waiting), indications: [], gaps: [] });
  }

  private setLevels(isSingle: boolean): void {
    const inPrecision = (level: number): number => this.sign * (isSingle ? Math.fround(level) : level);
    this.release = inPrecision(this.rule.release);
    this.threshold = inPrecision(this.rule.threshold);
  }

  /**
   * Goes over the samples from `from` on that change nothing but how far an indication, or the quiet between two, has come, and
   * answers the index of the first that may do more. `take` would do the same with each of them, several times slower.
   */
  private skip(block: SampleBlock, from: number): number {
    if (!this.hasData) return from;
    const index = this.running === null ? this.skipQuiet(block, from) : this.skipLoud(block, from, this.running);
    if (index > from) this.spokenFor(block.positionsMm[index - 1] as number);
    return index;
  }

  private skipQuiet({ positionsMm, values, bounds }: SampleBlock, from: number): number {
    const { sign, release, pitchMm } = this;
    const stopMm = this.marked.fromMm;
    const count = positionsMm.length;
    let spokenToMm = this.spokenToMm;
    let index = from;
    for (; index < count; index += 1) {
      const atMm = positionsMm[index] as number;
      if (!(sign * (values[index] as number) < release) || atMm > spokenToMm || atMm >= stopMm || (bounds !== null && bounds[index] !== MEASURED)) break;
      spokenToMm = atMm + pitchMm;
    }
    return index;
  }

  private skipLoud({ positionsMm, values, bounds }: SampleBlock, from: number, running: Running): number {
    const { sign, release, pitchMm } = this;
    const stopMm = this.marked.fromMm;
    const count = positionsMm.length;
    let { spokenToMm } = this;
    let { peak, peakMm } = running;
    let index = from;
    for (; index < count; index += 1) {
      const atMm = positionsMm[index] as number;
      const value = sign * (values[index] as number);
      if (!(value >= release) || atMm > spokenToMm || atMm >= stopMm || (bounds !== null && bounds[index] !== MEASURED)) break;
      spokenToMm = atMm + pitchMm;
      if (value > peak) {
        peak = value;
        peakMm = atMm;
      }
    }
    running.samples += index - from;
    running.peak = peak;
    running.peakMm = peakMm;
    if (index > from && peak >= this.threshold) running.reachedThreshold = true;
    return index;
  }

  private take(atMm: number, value: number, bound: number): void {
    const isMissing = Number.isNaN(value);
    const isOpen = bound === this.openBound;
    if (bound !== MEASURED) this.saturatedSamples += 1;
    if (isMissing) this.missingSamples += 1;
    if (atMm >= this.marked.fromMm && this.isExcluded(atMm)) {
      this.marked.count(isMissing, !isMissing && (isOpen || value >= this.threshold));
      return;
    }
    if (!this.hasData) this.startAt(atMm);
    else if (this.behind === 'signal' && atMm > this.goodMm && atMm < this.spokenToMm) this.spokenToMm = atMm;
    if (isMissing) this.missingToMm = Math.min(atMm + this.pitchMm, this.marked.fromMm);
    else this.read(atMm, value, isOpen);
  }

  private startAt(atMm: number): void {
    this.hasData = true;
    this.spokenToMm = atMm;
  }

  private read(atMm: number, value: number, isOpen: boolean): void {
    const gapMm = Math.max(0, atMm - this.spokenToMm);
    if (gapMm > 0) this.missed(this.spokenToMm, atMm);
    const isBeyond = isOpen || value >= this.release;
    if (gapMm > this.rule.bridgedGapMm || (gapMm > 0 && !isBeyond)) this.close(this.spokenToMm, 'gap');
    else if (!isBeyond) this.close(atMm === this.goodMm ? atMm + 1 : this.spokenToMm, 'signal');
    if (isBeyond) {
      this.running ??= begin(atMm, gapMm > 0 ? 'gap' : this.behind, this.missingMm);
      this.extend(this.running, atMm, value, isOpen);
    }
    this.spokenFor(atMm);
  }

  private extend(running: Running, atMm: number, value: number, isOpen: boolean): void {
    running.samples += 1;
    running.missingThroughMm = this.missingMm;
    if (isOpen) running.saturated = true;
    if (isOpen || value >= this.threshold) running.reachedThreshold = true;
    if (value > running.peak) {
      running.peak = value;
      running.peakMm = atMm;
    }
  }

  private spokenFor(atMm: number): void {
    this.goodMm = atMm;
    this.spokenToMm = Math.min(atMm + this.pitchMm, this.marked.fromMm);
    this.behind = 'signal';
  }

  private missed(fromMm: number, toMm: number): void {
    this.gaps.push(interval(fromMm, toMm));
    this.missingMm += toMm - fromMm;
  }

  private isExcluded(atMm: number): boolean {
    while (atMm >= this.marked.fromMm) {
      if (this.hasData) this.endBeforeExclusion();
      const isWithin = atMm < this.marked.toMm;
      if (isWithin || this.hasData) {
        this.hasData = true;
        this.spokenToMm = this.marked.toMm;
        this.behind = 'exclusion';
      }
      if (isWithin) return true;
      this.marked.next();
    }
    return false;
  }

  private endBeforeExclusion(): void {
    const hasGap = this.spokenToMm < this.marked.fromMm;
    if (hasGap) this.missed(this.spokenToMm, this.marked.fromMm);
    this.close(this.spokenToMm, hasGap ? 'gap' : 'exclusion');
    this.handOver();
  }

  private end(): void {
    const hasGap = this.missingToMm > this.spokenToMm;
    this.close(this.spokenToMm, hasGap ? 'gap' : 'end-of-data');
    if (hasGap) this.missed(this.spokenToMm, this.missingToMm);
    this.handOver();
  }

  /** Ends the running indication; what only reached the release level is none. */
  private close(toMm: number, ends: Edge): void {
    const closed = this.running;
    if (closed === null) return;
    this.running = null;
    if (!closed.reachedThreshold) return;
    closed.toMm = toMm;
    closed.ends = ends;
    if (this.waiting !== null && this.isNear(this.waiting, closed.fromMm)) {
      join(this.waiting, closed);
      return;
    }
    this.handOver();
    this.waiting = closed;
  }

  private isNear(waiting: Running, fromMm: number): boolean {
    return fromMm - waiting.toMm < this.rule.combiningMm;
  }

  /** Hands over what nothing that may still begin can be combined with. */
  private settleWaiting(): void {
    if (this.waiting !== null && !this.isNear(this.waiting, this.running?.fromMm ?? this.lastMm)) this.handOver();
  }

  private handOver(): void {
    const complete = this.waiting;
    if (complete === null) return;
    this.waiting = null;
    if (complete.toMm - complete.fromMm < this.rule.minimumLengthMm && !mayContinue(complete)) this.tooShort += 1;
    else this.indications.push(indicationOf(complete, this.sign));
  }

  private handOut(): Settled {
    const settled = { indications: this.indications, gaps: this.gaps };
    this.indications = [];
    this.gaps = [];
    return settled;
  }
}
