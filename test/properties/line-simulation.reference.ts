/**
 * Random strings with what a user would enter about them and what is true of them. The truth comes from cells handed
 * along one by one (`line-cells.reference.ts`), never from the formulas under test.
 */
import { CellLine, type SimulatedCoil } from './line-cells.reference.js';
import { Draws, drawCoils, Encoder, type SimulatedCounterPeriod, type SimulatedReading } from './line-draws.reference.js';
import { truthOf, type MomentTruth, type Place } from './line-truth.reference.js';

export type { SimulatedCoil } from './line-cells.reference.js';
export type { SimulatedCounterPeriod, SimulatedReading } from './line-draws.reference.js';
export type { FootageRun, MomentTruth, Piece, PieceKind, Place, WallRun } from './line-truth.reference.js';

export type GapClosing = 'mill-advances' | 'drawn-back';

/** What is not given is drawn from the seed. */
export interface SimulationOptions {
  /** 10 unless given; it must divide 10. */
  cellMm?: 1 | 2 | 5 | 10;
  /** About how much pipe is made; 60 to 250 m when drawn. */
  lengthMm?: number;
  coils?: number;
  cutOuts?: number;
  resets?: number;
  ties?: number;
  reversals?: number;
  /** Two decimals at most, or the shoe seldom stands at a whole millimetre for a tie. */
  ratio?: number;
  /** A new ratio from every shoe tie on; false unless given. */
  ratioChangesAtTies?: boolean;
  /** Whether the scale of one counter period is entered wrong first. */
  mistakenScale?: boolean;
  gapClosing?: GapClosing;
}

/** `at` is when the pipe was rejoined: the gap is closed and nothing has moved since. */
export interface SimulatedCutOut {
  fromMm: number;
  toMm: number;
  at: string;
  gapClosing: GapClosing;
}

export interface SimulatedTie {
  at: string;
  shoeMdMm: number;
}

/** Everything a user would enter. Footage begins with the string; every length is a whole number of millimetres. */
export interface StringInputs {
  /** Weld point, where the counter is, to hang-off. */
  lineMm: number;
  hangOff: { at: string; footageMm: number; mdMm: number };
  /** The ratio past the last tie: the true one. */
  defaultRatio: number;
  counterPeriods: SimulatedCounterPeriod[];
  /** One at every event, in strictly increasing time. */
  readings: SimulatedReading[];
  coils: SimulatedCoil[];
  cutOuts: SimulatedCutOut[];
  shoeTies: SimulatedTie[];
}

export interface SimulatedString {
  seed: number;
  cellMm: number;
  /**
   * How far a right answer in whole millimetres can be from this truth. The cell at the shoe turns little by little and
   * nothing else divides a cell, so cell size does not come into it: only the rounding of the answer and of the shoe
   * depth it rests on.
   */
  resolutionMm: number;
  inputs: StringInputs;
  /** Two moments after hang-off, in order. */
  intermediate: [MomentTruth, MomentTruth];
  end: MomentTruth;
  /** At the end. */
  placeOfFootage: (footageMm: number) => Place;
  /** The strip that became this footage, not rounded; undefined where no pipe has been made. */
  stripOfFootage: (footageMm: number) => { coil: string; stripMm: number } | undefined;
}

type EventKind = 'reading' | 'reset' | 'cut-out' | 'reversal' | 'tie' | 'moment' | 'hang-off' | 'end';
interface PlannedEvent {
  kind: EventKind;
  footageMm: number;
}

const HANG_OFF_MD_MM = 2500;
const RESOLUTION_MM = 2;
// Keeps every join this far from the weld point, and every reversal shorter, so that no join goes back through the weld.
const JOIN_CLEARANCE_MM = 3000;
const SPACING_MM = 500;
const RATIOS = [0.94, 0.95, 0.96, 0.97, 0.98, 0.99, 1.01, 1.02, 1.03];

/** Makes the string the seed names; the same seed and options always give the same string. */
export function simulateRandomString(seed: number, options: SimulationOptions = {}): SimulatedString {
  return new StringMaking(seed, options).run();
}

class StringMaking {
  private readonly draws: Draws;
  private readonly pipe: CellLine;
  private readonly encoder: Encoder;
  private readonly cellMm: number;
  private readonly lengthMm: number;
  private readonly lineMm: number;
  private readonly leadMm: number;
  private readonly coils: SimulatedCoil[];
  private readonly readings: SimulatedReading[] = [];
  private readonly cutOuts: SimulatedCutOut[] = [];
  private readonly shoeTies: SimulatedTie[] = [];
  private readonly moments: MomentTruth[] = [];
  private hangOff = { at: '', footageMm: 0, mdMm: HANG_OFF_MD_MM };
  private clockMs = Date.UTC(2031, 2, 1, 6);
  private lastTieDepthMm = 0;

  constructor(
    private readonly seed: number,
    private readonly options: SimulationOptions,
  ) {
    const draws = new Draws(seed);
    this.draws = draws;
    this.cellMm = options.cellMm ?? 10;
    this.lengthMm = options.lengthMm ?? draws.lengthMm(60_000, 250_000, 10);
    this.lineMm = draws.lengthMm(8000, Math.min(30_000, 0.33 * this.lengthMm), 10);
    this.leadMm = draws.lengthMm(1500, 4000, 10);
    // What closing the gaps and waiting for a whole millimetre add is taken from the last coil's rest.
    const coilLengthMm = this.lengthMm + draws.lengthMm(40_000, 60_000, 10);
    this.coils = drawCoils(draws, options.coils ?? draws.whole(3, 7), coilLengthMm, 10);
    const ratio = options.ratio ?? this.drawRatio();
    this.pipe = new CellLine({ cellMm: this.cellMm, lineMm: this.lineMm, ratio, coils: this.coils });
    this.encoder = new Encoder(draws);
  }

  run(): SimulatedString {
    if (this.draws.chance(0.3)) this.advanceBy(this.draws.lengthMm(100, 900, 10));
    this.startCounterPeriod();
    for (const event of this.planEvents()) {
      const leastMm = this.pipe.weldFootageMm + SPACING_MM;
      this.advanceUntil(() => this.pipe.weldFootageMm >= Math.max(event.footageMm, leastMm));
      this.take(event.kind);
    }
    const [first, second, end] = this.moments as [MomentTruth, MomentTruth, MomentTruth];
    if (this.options.mistakenScale ?? this.draws.chance(0.3)) this.mistakeAScale();
    return {
      seed: this.seed,
      cellMm: this.cellMm,
      resolutionMm: RESOLUTION_MM,
      inputs: this.inputs(),
      intermediate: [first, second],
      end,
      placeOfFootage: end.placeOfFootage,
      stripOfFootage: (footageMm) => this.stripOfFootage(footageMm),
    };
  }

  private inputs(): StringInputs {
    const { lineMm, hangOff, readings, coils, cutOuts, shoeTies } = this;
    const counterPeriods = this.encoder.periods;
    return { lineMm, hangOff, defaultRatio: this.pipe.ratio, counterPeriods, readings, coils, cutOuts, shoeTies };
  }

  private planEvents(): PlannedEvent[] {
    const { draws, options, lineMm, lengthMm } = this;
    const hangOffAtMm = lineMm + this.leadMm;
    const planned: PlannedEvent[] = [{ kind: 'hang-off', footageMm: hangOffAtMm }];
    const plan = (kind: EventKind, count: number, fromMm: number, toMm = lengthMm - 2000): void => {
      for (let i = 0; i < count; i += 1) planned.push({ kind, footageMm: draws.lengthMm(fromMm, toMm, 10) });
    };
    plan('reading', draws.whole(4, 8), 1000);
    plan('reset', options.resets ?? draws.whole(0, 2), 2000);
    const cutOuts = options.cutOuts ?? draws.whole(0, 3);
    const cutsBeforeHangOff = cutOuts > 0 && draws.chance(0.25) ? 1 : 0;
    plan('cut-out', cutsBeforeHangOff, lineMm + 1200, hangOffAtMm - 10);
    plan('cut-out', cutOuts - cutsBeforeHangOff, lineMm + 1200);
    plan('reversal', options.reversals ?? draws.whole(0, 2), JOIN_CLEARANCE_MM);
    plan('tie', options.ties ?? draws.whole(0, 3), hangOffAtMm + 8000);
    plan('moment', 2, hangOffAtMm + 6000);
    planned.sort((a, b) => a.footageMm - b.footageMm);
    return [...planned, { kind: 'end', footageMm: lengthMm }];
  }

  private take(kind: EventKind): void {
    if (kind === 'reading') this.record();
    else if (kind === 'reset') this.startCounterPeriod();
    else if (kind === 'reversal') this.backUp();
    else {
      // The others wait until pipe drawn back behind the weld point has come out again.
      this.advanceUntil(() => this.pipe.behindWeld.length === 0);
      if (kind === 'cut-out') this.cutOut();
      else if (kind === 'tie') this.tieShoe();
      else if (kind === 'hang-off') this.hangOffPipe();
      else this.moments.push(truthOf(this.pipe, HANG_OFF_MD_MM, this.record()));
    }
  }

  /** Writes the counter down, and returns the time. */
  private record(): string {
    const at = this.nextTime();
    this.readings.push({ at, reading: this.encoder.read(this.pipe.weldFootageMm), period: this.encoder.periods.length - 1 });
    return at;
  }

  private startCounterPeriod(): void {
    const at = this.nextTime();
    this.encoder.reset(at, this.pipe.weldFootageMm);
    const period = this.encoder.periods.length - 1;
    this.readings.push({ at, reading: this.encoder.periods[period]!.startReading, period });
  }

  private backUp(): void {
    const lengthMm = this.draws.lengthMm(300, 2000, 10);
    this.advanceUntil(() => this.canDrawBack(lengthMm));
    this.record();
    for (let i = this.pipe.cellsIn(lengthMm); i > 0; i -= 1) this.pipe.reverse();
    this.record();
  }

  /** Drawing back must not lift the shoe above a tie, nor pipe upstream of the weld point further than the joins allow. */
  private canDrawBack(lengthMm: number): boolean {
    if (this.pipe.behindWeld.length > 0) return false;
    return !this.pipe.isHungOff || this.pipe.depthMm - this.lastTieDepthMm > lengthMm;
  }

  private cutOut(): void {
    const lengthMm = this.draws.lengthMm(200, 800, 10);
    let fromMm = this.drawCut(lengthMm);
    while (fromMm === undefined) {
      this.advanceBy(SPACING_MM);
      fromMm = this.drawCut(lengthMm);
    }
    const toMm = fromMm + lengthMm;
    const drawsBack = this.pipe.isHungOff ? this.canDrawBack(lengthMm) : this.pipe.leadEnd.length > this.pipe.cellsIn(lengthMm);
    const wanted = this.options.gapClosing ?? this.draws.oneOf<GapClosing>(['mill-advances', 'drawn-back']);
    const gapClosing = drawsBack ? wanted : 'mill-advances';
    this.record();
    this.pipe.takeOut(fromMm, toMm);
    if (gapClosing === 'drawn-back') this.pipe.closeGapByDrawingBack();
    else this.pipe.closeGapByMill();
    this.cutOuts.push({ fromMm, toMm, at: this.record(), gapClosing });
  }

  /** The footage a cut could begin at, clear of the weld point, of the hang-off and of earlier joins; undefined when the try failed. */
  private drawCut(lengthMm: number): number | undefined {
    const cells = this.pipe.line.toArray().reverse();
    const clearMm = 300;
    const upstreamMm = this.draws.lengthMm(JOIN_CLEARANCE_MM, this.lineMm - lengthMm - 2 * clearMm, 10);
    const upstream = cells[this.pipe.cellsIn(upstreamMm - clearMm)];
    const downstream = cells[this.pipe.cellsIn(upstreamMm + lengthMm + clearMm)];
    if (!this.pipe.lineIsFull || upstream === undefined || downstream === undefined) return undefined;
    const isUnbroken = upstream.fromMm - downstream.fromMm === lengthMm + 2 * clearMm;
    return isUnbroken ? downstream.fromMm + clearMm : undefined;
  }

  private hangOffPipe(): void {
    this.advanceUntil(() => this.pipe.leadEnd.length * this.cellMm >= 1000);
    const footageMm = this.pipe.hangOff();
    this.hangOff = { at: this.record(), footageMm, mdMm: HANG_OFF_MD_MM };
  }

  /** Waits until the shoe stands at a whole millimetre, so that what is entered is exact. */
  private tieShoe(): void {
    const isWhole = (mm: number): boolean => Math.abs(mm - Math.round(mm)) < 0.001;
    this.advanceUntil(() => this.pipe.depthMm > this.lastTieDepthMm + 2000 && isWhole(this.pipe.depthMm));
    this.shoeTies.push({ at: this.record(), shoeMdMm: HANG_OFF_MD_MM + Math.round(this.pipe.depthMm) });
    this.lastTieDepthMm = this.pipe.depthMm;
    if (this.options.ratioChangesAtTies === true) this.pipe.ratio = this.drawRatio();
  }

  private mistakeAScale(): void {
    const period = this.draws.oneOf(this.encoder.periods);
    const factor = this.draws.oneOf([0.97, 0.995, 1.004, 1.02]);
    const scaleMmPerCount = String(Number((Number(period.scaleMmPerCount) * factor).toFixed(6)));
    this.clockMs += 3_600_000;
    period.mistakenScale = { scaleMmPerCount, correctedAt: new Date(this.clockMs).toISOString() };
  }

  private stripOfFootage(footageMm: number): { coil: string; stripMm: number } | undefined {
    const cell = this.pipe.made[Math.floor(footageMm / this.cellMm)];
    if (cell === undefined) return undefined;
    const share = (footageMm - cell.fromMm) / this.cellMm;
    return { coil: cell.coil, stripMm: cell.stripStartMm + (cell.stripEndMm - cell.stripStartMm) * share };
  }

  private drawRatio(): number {
    return this.draws.chance(0.4) ? 1 : this.draws.oneOf(RATIOS);
  }

  private nextTime(): string {
    this.clockMs += this.draws.whole(30, 1800) * 1000;
    return new Date(this.clockMs).toISOString();
  }

  private advanceBy(lengthMm: number): void {
    for (let i = this.pipe.cellsIn(lengthMm); i > 0; i -= 1) this.pipe.advance();
  }

  private advanceUntil(isReached: () => boolean): void {
    while (!isReached()) this.pipe.advance();
  }
}
