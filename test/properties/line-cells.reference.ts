/**
 * A literal model of the line and the well, cell by cell: every short length of pipe is an object that is made at the
 * weld point, handed along the line, cut out, passed over the hang-off and turned inside out at the shoe.
 * It exists to check the length model from outside, so it shares no code and no formula with it.
 */

/** Footage `[fromMm, toMm)` was made from strip `[stripFromMm, stripToMm)`; tail first means from `stripToMm` downwards. */
export interface SimulatedCoil {
  name: string;
  fromMm: number;
  toMm: number;
  stripFromMm: number;
  stripToMm: number;
  headFirst: boolean;
}

/** One short length of pipe; the strip positions are those of its first-made and its last-made edge. */
export interface Cell {
  readonly fromMm: number;
  readonly coil: string;
  readonly stripStartMm: number;
  readonly stripEndMm: number;
}

/** Part of one cell that has been turned at the shoe; depths are below the hang-off. */
export interface TurnedPiece {
  readonly cell: Cell;
  readonly ratio: number;
  readonly fromMm: number;
  toMm: number;
  readonly fromDepthMm: number;
  toDepthMm: number;
}

export interface CellLineSetUp {
  cellMm: number;
  lineMm: number;
  /** Millimetres of outer wall made from one millimetre of inner pipe. */
  ratio: number;
  coils: readonly SimulatedCoil[];
  /** True: a cell turns only when the whole of it can; the shoe then lags by less than one cell. */
  turnsWholeCells?: boolean;
}

const NEGLIGIBLE_MM = 1e-7;

/** A queue open at both ends; constant time per operation, so that a cell can be as short as 1 mm. */
export class CellQueue {
  private cells: (Cell | undefined)[] = [];
  private head = 0;

  get size(): number {
    return this.cells.length - this.head;
  }

  pushBack(cell: Cell): void {
    this.cells.push(cell);
  }

  pushFront(cell: Cell): void {
    if (this.head > 0) this.cells[--this.head] = cell;
    else this.cells.unshift(cell);
  }

  popBack(): Cell | undefined {
    return this.size > 0 ? this.cells.pop() : undefined;
  }

  popFront(): Cell | undefined {
    if (this.size === 0) return undefined;
    const cell = this.cells[this.head];
    this.cells[this.head++] = undefined;
    return cell;
  }

  front(): Cell | undefined {
    return this.cells[this.head];
  }

  /** The cells, front first. */
  toArray(): Cell[] {
    return this.cells.slice(this.head).map((cell) => cell!);
  }

  replaceWith(cells: Cell[]): void {
    this.cells = [...cells];
    this.head = 0;
  }
}

/** The line, the lead end and both walls as lists of cells. */
export class CellLine {
  readonly made: Cell[] = [];
  readonly removed: Cell[] = [];
  readonly leadEnd: Cell[] = [];
  readonly outer: TurnedPiece[] = [];
  /** Front: the cell at the shoe, perhaps partly turned. Back: the cell that passed the hang-off last. */
  readonly inner = new CellQueue();
  /** Front: the cell next to the hang-off. Back: the cell at the weld point. */
  readonly line = new CellQueue();
  /** Pipe that a reversal has drawn back upstream of the weld point; the last one leaves first. */
  readonly behindWeld: Cell[] = [];
  /** How much of the cell at the shoe has been turned. */
  turnedOfShoeCellMm = 0;
  depthMm = 0;
  ratio: number;
  isHungOff = false;
  readonly cellMm: number;
  readonly lineCells: number;
  private readonly turnsWholeCells: boolean;
  private coilIndex = 0;
  private stripUsedMm = 0;

  constructor(private readonly setUp: CellLineSetUp) {
    this.cellMm = setUp.cellMm;
    this.ratio = setUp.ratio;
    this.turnsWholeCells = setUp.turnsWholeCells ?? false;
    this.lineCells = this.cellsIn(setUp.lineMm);
  }

  /** Whole cells in a length; throws a RangeError for a length that is not a multiple of the cell. */
  cellsIn(lengthMm: number): number {
    const cells = lengthMm / this.cellMm;
    if (!Number.isInteger(cells)) throw new RangeError(`${lengthMm} mm is not a whole number of ${this.cellMm} mm cells`);
    return cells;
  }

  /** What an encoder at the weld point has seen go by, less what went back. */
  get weldFootageMm(): number {
    return (this.made.length - this.behindWeld.length) * this.cellMm;
  }

  get innerLengthMm(): number {
    return this.inner.size * this.cellMm - this.turnedOfShoeCellMm;
  }

  get lineIsFull(): boolean {
    return this.line.size === this.lineCells;
  }

  /** One cell leaves the weld point; when the line is full, one cell passes the hang-off. */
  advance(): void {
    this.line.pushBack(this.behindWeld.pop() ?? this.makeCell());
    if (this.line.size <= this.lineCells) return;
    const passing = this.line.popFront()!;
    if (this.isHungOff) this.inner.pushBack(passing);
    else this.leadEnd.push(passing);
    this.settleShoe();
  }

  /** The line backs up by one cell; the pipe in the well is drawn back with it. */
  reverse(): void {
    const cell = this.line.popBack();
    if (cell === undefined) throw new RangeError('there is no pipe on the line to draw back');
    this.behindWeld.push(cell);
    this.drawBackOverHangOff();
  }

  /** The material at the hang-off is fixed there; returns its footage. */
  hangOff(): number {
    if (!this.lineIsFull) throw new RangeError('the pipe has not reached the hang-off');
    this.isHungOff = true;
    return this.line.front()!.fromMm;
  }

  /** Takes the cells of a footage interval off the line, leaving a gap; the caller closes it in one of the two ways below. */
  takeOut(fromMm: number, toMm: number): void {
    const isTaken = (cell: Cell): boolean => cell.fromMm >= fromMm && cell.fromMm < toMm;
    const cells = this.line.toArray();
    const taken = cells.filter(isTaken);
    if (taken.length !== this.cellsIn(toMm - fromMm)) throw new RangeError('a cut-out must lie wholly on the line');
    this.removed.push(...taken);
    this.line.replaceWith(cells.filter((cell) => !isTaken(cell)));
  }

  /** The mill runs until the upstream end meets the downstream one, which has not moved: the counter goes on. */
  closeGapByMill(): void {
    while (!this.lineIsFull) this.advance();
  }

  /** The downstream end is drawn back to the upstream one, which has not moved: the counter stands still. */
  closeGapByDrawingBack(): void {
    while (!this.lineIsFull) this.drawBackOverHangOff();
  }

  private makeCell(): Cell {
    const fromMm = this.made.length * this.cellMm;
    const coils = this.setUp.coils;
    while (coils[this.coilIndex] !== undefined && coils[this.coilIndex]!.toMm <= fromMm) {
      this.coilIndex += 1;
      this.stripUsedMm = 0;
    }
    const coil = coils[this.coilIndex];
    if (coil === undefined) throw new RangeError(`no coil is left at ${fromMm} mm`);
    const usedBeforeMm = this.stripUsedMm;
    this.stripUsedMm += (this.cellMm * (coil.stripToMm - coil.stripFromMm)) / (coil.toMm - coil.fromMm);
    const stripAt = (usedMm: number): number => (coil.headFirst ? coil.stripFromMm + usedMm : coil.stripToMm - usedMm);
    const cell = { fromMm, coil: coil.name, stripStartMm: stripAt(usedBeforeMm), stripEndMm: stripAt(this.stripUsedMm) };
    this.made.push(cell);
    return cell;
  }

  private drawBackOverHangOff(): void {
    if (this.isHungOff && this.inner.size < 2) throw new RangeError('there is no inner pipe to draw back');
    const cell = this.isHungOff ? this.inner.popBack() : this.leadEnd.pop();
    if (cell !== undefined) this.line.pushFront(cell);
    this.settleShoe();
  }

  /** Moves the shoe until the pipe between hang-off and shoe is as long as the shoe is deep. */
  private settleShoe(): void {
    while (this.isHungOff && this.innerLengthMm - this.depthMm > NEGLIGIBLE_MM) if (!this.turn()) return;
    while (this.isHungOff && this.innerLengthMm - this.depthMm < -NEGLIGIBLE_MM) this.turnBack();
  }

  /** Turns (part of) the cell at the shoe; false when whole cells are wanted and there is no room for one. */
  private turn(): boolean {
    const excessMm = this.innerLengthMm - this.depthMm;
    // Each millimetre turned shortens the inner pipe by one and deepens the shoe by the ratio.
    const wantedMm = excessMm / (1 + this.ratio);
    if (this.turnsWholeCells && wantedMm < this.cellMm - NEGLIGIBLE_MM) return false;
    const leftMm = this.cellMm - this.turnedOfShoeCellMm;
    const turnedMm = wantedMm > leftMm - NEGLIGIBLE_MM ? leftMm : wantedMm;
    this.appendTurned(this.inner.front()!, turnedMm);
    this.turnedOfShoeCellMm += turnedMm;
    if (turnedMm === leftMm) {
      this.inner.popFront();
      this.turnedOfShoeCellMm = 0;
    }
    return true;
  }

  private appendTurned(cell: Cell, turnedMm: number): void {
    const toMm = cell.fromMm + this.turnedOfShoeCellMm + turnedMm;
    const toDepthMm = this.depthMm + this.ratio * turnedMm;
    const last = this.outer.at(-1);
    if (last?.cell === cell && last.ratio === this.ratio) {
      last.toMm = toMm;
      last.toDepthMm = toDepthMm;
    } else {
      const fromMm = cell.fromMm + this.turnedOfShoeCellMm;
      this.outer.push({ cell, ratio: this.ratio, fromMm, toMm, fromDepthMm: this.depthMm, toDepthMm });
    }
    this.depthMm = toDepthMm;
  }

  /** Turns (part of) the last piece of outer wall back, at the ratio it was made with. */
  private turnBack(): void {
    const piece = this.outer.at(-1);
    if (piece === undefined) throw new RangeError('the shoe cannot be drawn above the hang-off');
    const pieceMm = piece.toMm - piece.fromMm;
    const wantedMm = (this.depthMm - this.innerLengthMm) / (1 + piece.ratio);
    const isWhole = this.turnsWholeCells || wantedMm > pieceMm - NEGLIGIBLE_MM;
    const turnedMm = isWhole ? pieceMm : wantedMm;
    if (this.inner.front() !== piece.cell) {
      this.inner.pushFront(piece.cell);
      this.turnedOfShoeCellMm = this.cellMm;
    }
    this.turnedOfShoeCellMm -= turnedMm;
    piece.toMm -= turnedMm;
    piece.toDepthMm -= piece.ratio * turnedMm;
    this.depthMm = piece.toDepthMm;
    if (isWhole) this.outer.pop();
    if (this.turnedOfShoeCellMm < NEGLIGIBLE_MM) this.turnedOfShoeCellMm = 0;
  }
}
