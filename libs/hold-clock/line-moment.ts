/**
 * A line at one instant, made ready to be asked about many places: where the weld point was at the last reading, which footage
 * lies in which part of the string, and how fast the line runs.
 */
import { IntervalSet, type Interval } from '#libs/intervals';
import { LengthError, materialAtStation, type LengthModel, type PathDistance, type WeldFootageFigure } from '#libs/length';
import { paceAt, RECENT_US, type Pace } from './pace.js';

/** In the order of rising footage, but for what was cut out. */
export const WHERES = ['lead-end', 'outer-wall', 'inner-wall', 'on-the-line', 'strip', 'not-made', 'cut-out', 'not-known'] as const;
export type Where = (typeof WHERES)[number];

export interface ClockStation {
  readonly name: string;
  readonly role: 'hang-off' | null;
  /** From the weld point; negative upstream. */
  readonly path: PathDistance;
}

/** The line set-up in force. */
export interface ClockSetup {
  readonly id: string;
  readonly stations: readonly ClockStation[];
}

/** Pipe, or strip to be pipe, that lies in one part of the string; half-open, whole mm. */
export interface PartOfPlace extends Interval {
  readonly where: Where;
}

/** Where one part of the string ends and the next begins, unrounded footage, mm. */
interface Edge {
  readonly where: Where;
  readonly toMm: number;
}

export class LineMoment {
  /** Null where no reading says where the line is. */
  readonly figure: WeldFootageFigure | null;
  /** Since the last reading, µs; null without one. */
  readonly ageUs: number | null;
  /** Null where fewer than two readings are recent. */
  readonly pace: Pace | null;
  private readonly removed: IntervalSet;
  private readonly edges: readonly Edge[];
  private whyUnknown: LengthError | null = null;

  constructor(
    readonly lengths: LengthModel,
    readonly setup: ClockSetup | null,
    readonly atUs: number,
  ) {
    this.removed = lengths.nets.removedBy(atUs);
    this.figure = this.attempt(() => lengths.weldFootageAt(atUs));
    this.ageUs = this.figure === null ? null : atUs - (this.figure.readings[0]?.atUs ?? atUs);
    this.pace = this.figure === null ? null : paceAt(lengths.lengths.weldFootage, atUs);
    this.edges = this.figure === null ? [{ where: 'not-known', toMm: Infinity }] : this.edgesAt(this.figure.footageMm);
  }

  /** Why it is not known where some pipe is; null where it is known of all. */
  get unknown(): string | null {
    return this.whyUnknown === null ? null : `not known: ${this.whyUnknown.message}`;
  }

  /** True where the line may have run any distance since the last reading: that is too old, or the only recent one. */
  get isStale(): boolean {
    return this.figure?.basis === 'after the last reading' && ((this.ageUs ?? 0) > RECENT_US || this.pace === null);
  }

  get hangOff(): ClockStation | null {
    return this.setup?.stations.find(({ role }) => role === 'hang-off') ?? null;
  }

  /** Distance past the weld point at the last reading, mm; negative upstream. Cut-outs made by then take nothing. */
  pathMm(footageMm: number): number {
    const net = this.lengths.nets.at(this.atUs);
    return net.at(this.figure?.footageMm ?? NaN) - net.at(footageMm);
  }

  /** What of a place was not cut out, by rising footage. */
  standing(place: IntervalSet): readonly Interval[] {
    return place.subtract(this.removed).intervals;
  }

  /** A place divided by where its pipe was at the last reading, by rising footage. */
  partsOf(place: IntervalSet): PartOfPlace[] {
    const cut = place.intersect(this.removed).intervals.map((one): PartOfPlace => ({ ...one, where: 'cut-out' }));
    return [...this.standing(place).flatMap((one) => this.divided(one)), ...cut].sort((one, other) => one.fromMm - other.fromMm);
  }

  private divided({ fromMm, toMm }: Interval): PartOfPlace[] {
    const parts: PartOfPlace[] = [];
    let startMm = fromMm;
    for (const { where, toMm: edgeMm } of this.edges) {
      // A millimetre belongs to where its start lies.
      const endMm = Math.min(toMm, Math.ceil(edgeMm));
      if (endMm > startMm) parts.push({ fromMm: startMm, toMm: endMm, where });
      startMm = Math.max(startMm, endMm);
    }
    return parts;
  }

  private edgesAt(weldMm: number): Edge[] {
    const madeMm = this.lengths.maxWeldFootage(this.atUs);
    const net = this.lengths.nets.at(this.atUs);
    const first = Math.min(0, ...(this.setup?.stations.map(({ path }) => path.minMm) ?? []));
    const strip = { where: 'strip', toMm: Math.max(madeMm, materialAtStation(weldMm, first, net).bestMm) } as const;
    return [...this.wellEdges(weldMm), { where: 'on-the-line', toMm: madeMm }, strip, { where: 'not-made', toMm: Infinity }];
  }

  /** What lies past the hang-off: walls once the string hangs, a lead end before. */
  private wellEdges(weldMm: number): Edge[] {
    const { hangOff } = this.lengths.lengths;
    if (hangOff === null || this.atUs < hangOff.atUs) {
      const path = this.lengths.findHangOffPath(this.atUs);
      return path === null ? [] : [{ where: 'lead-end', toMm: materialAtStation(weldMm, path.pathMm, this.lengths.nets.at(this.atUs)).bestMm }];
    }
    const lead = { where: 'lead-end', toMm: hangOff.footageMm } as const;
    const shoe = this.attempt(() => this.lengths.shoeAtTime(this.atUs));
    if (shoe === null) return [lead, { where: 'not-known', toMm: this.lengths.maxWeldFootage(this.atUs) }];
    return [
      lead, { where: 'outer-wall', toMm: this.lengths.outerWall(shoe).footageRange.toMm }, { where: 'inner-wall', toMm: this.lengths.innerWall(shoe).footageRange.toMm },
    ];
  }

  private attempt<T>(work: () => T): T | null {
    try {
      return work();
    } catch (error) {
      if (!(error instanceof LengthError)) throw error;
      this.whyUnknown = error;
      return null;
    }
  }
}
