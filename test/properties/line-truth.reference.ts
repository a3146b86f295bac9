/** What is true at one moment of a simulated string, read off the lists of cells. */
import type { CellLine } from './line-cells.reference.js';

/** `mdMm` is that of the asked footage itself, `xMm` its distance downstream of the weld point; neither is rounded. */
export type Place =
  | { kind: 'cut-out' }
  | { kind: 'lead-end' }
  | { kind: 'outer-wall'; mdMm: number }
  | { kind: 'inner-wall'; mdMm: number }
  | { kind: 'on-the-line'; xMm: number }
  | { kind: 'not-yet-made' };

/** One run of one coil in a wall, by increasing depth; a cut-out inside the run does not divide it. */
export interface WallRun {
  coil: string;
  fromMdMm: number;
  toMdMm: number;
}

/** One run of one coil by increasing footage; a cut-out divides it. */
export interface FootageRun {
  coil: string;
  fromFootage: number;
  toFootage: number;
}

export type PieceKind = Exclude<Place['kind'], 'not-yet-made'>;

/**
 * A cell, or a part of one where the shoe stands in it. `startMm` and `endMm` belong to its two footages: measured depth
 * in a wall (falling in the inner one), distance from the weld point on the line, and 0 elsewhere.
 */
export interface Piece {
  kind: PieceKind;
  coil: string;
  fromFootage: number;
  toFootage: number;
  startMm: number;
  endMm: number;
}

export interface MomentTruth {
  /** ISO time. */
  at: string;
  shoeMdMm: number;
  weldFootageMm: number;
  /** Footage of the material at the shoe and at the hang-off. */
  shoeFootageMm: number;
  hangOffFootageMm: number;
  outer: WallRun[];
  inner: WallRun[];
  line: FootageRun[];
  leadEnd: FootageRun[];
  cutOut: FootageRun[];
  /** Footages at which the kind of place changes; nearer than the resolution to one, either answer is right. */
  edgeFootages: number[];
  /** Every piece of pipe made so far, once, by increasing footage. */
  pieces: Piece[];
  placeOfFootage: (footageMm: number) => Place;
}

function innerPieces(pipe: CellLine, hangOffMdMm: number): Piece[] {
  let endMm = hangOffMdMm + pipe.depthMm;
  return pipe.inner.toArray().map((cell, index) => {
    const fromFootage = cell.fromMm + (index === 0 ? pipe.turnedOfShoeCellMm : 0);
    const toFootage = cell.fromMm + pipe.cellMm;
    const startMm = endMm;
    endMm -= toFootage - fromFootage;
    return { kind: 'inner-wall', coil: cell.coil, fromFootage, toFootage, startMm, endMm };
  });
}

function outerPieces(pipe: CellLine, hangOffMdMm: number): Piece[] {
  return pipe.outer.map(({ cell, fromMm, toMm, fromDepthMm, toDepthMm }) => ({
    kind: 'outer-wall',
    coil: cell.coil,
    fromFootage: fromMm,
    toFootage: toMm,
    startMm: hangOffMdMm + fromDepthMm,
    endMm: hangOffMdMm + toDepthMm,
  }));
}

function linePieces(pipe: CellLine): Piece[] {
  let startMm = pipe.line.size * pipe.cellMm;
  return pipe.line.toArray().map(({ coil, fromMm }) => {
    const endMm = startMm - pipe.cellMm;
    const piece: Piece = { kind: 'on-the-line', coil, fromFootage: fromMm, toFootage: fromMm + pipe.cellMm, startMm, endMm };
    startMm = endMm;
    return piece;
  });
}

function restingPieces(kind: PieceKind, cells: CellLine['leadEnd'], cellMm: number): Piece[] {
  return cells.map(({ coil, fromMm }) => ({
    kind,
    coil,
    fromFootage: fromMm,
    toFootage: fromMm + cellMm,
    startMm: 0,
    endMm: 0,
  }));
}

function wallRuns(pieces: readonly Piece[], topMdMm: number): WallRun[] {
  const runs: WallRun[] = [];
  const byDepth = pieces
    .map(({ coil, startMm, endMm }) => ({ coil, fromMdMm: Math.min(startMm, endMm), toMdMm: Math.max(startMm, endMm) }))
    .sort((a, b) => a.fromMdMm - b.fromMdMm);
  for (const piece of byDepth) {
    const last = runs.at(-1);
    if (last?.coil === piece.coil) last.toMdMm = piece.toMdMm;
    else runs.push({ ...piece, fromMdMm: Math.max(topMdMm, piece.fromMdMm) });
  }
  return runs;
}

function footageRuns(pieces: readonly Piece[]): FootageRun[] {
  const runs: FootageRun[] = [];
  for (const { coil, fromFootage, toFootage } of [...pieces].sort((a, b) => a.fromFootage - b.fromFootage)) {
    const last = runs.at(-1);
    if (last?.coil === coil && last.toFootage === fromFootage) last.toFootage = toFootage;
    else runs.push({ coil, fromFootage, toFootage });
  }
  return runs;
}

function placeIn(piece: Piece, footageMm: number): Place {
  const { kind, fromFootage, toFootage, startMm, endMm } = piece;
  const atMm = startMm + ((endMm - startMm) * (footageMm - fromFootage)) / (toFootage - fromFootage);
  if (kind === 'on-the-line') return { kind, xMm: atMm };
  return kind === 'outer-wall' || kind === 'inner-wall' ? { kind, mdMm: atMm } : { kind };
}

function placeFinder(pieces: readonly Piece[], cellMm: number): (footageMm: number) => Place {
  const byCell = new Map<number, Piece[]>();
  for (const piece of pieces) {
    const cell = Math.floor((piece.fromFootage + piece.toFootage) / 2 / cellMm);
    byCell.set(cell, [...(byCell.get(cell) ?? []), piece]);
  }
  return (footageMm) => {
    const inCell = byCell.get(Math.floor(footageMm / cellMm)) ?? [];
    const piece = inCell.find(({ fromFootage, toFootage }) => footageMm >= fromFootage && footageMm < toFootage);
    return piece === undefined ? { kind: 'not-yet-made' } : placeIn(piece, footageMm);
  };
}

/**
 * Reads the truth off the cells: all lengths in mm, unrounded. The string must be hung off, its line closed up and not
 * backed up, or a RangeError is thrown.
 */
export function truthOf(pipe: CellLine, hangOffMdMm: number, at: string): MomentTruth {
  if (!pipe.isHungOff || !pipe.lineIsFull || pipe.behindWeld.length > 0) {
    throw new RangeError('the truth is read only of a string hung off, with its line closed up and not backed up');
  }
  const outer = outerPieces(pipe, hangOffMdMm);
  const inner = innerPieces(pipe, hangOffMdMm);
  const line = linePieces(pipe);
  const leadEnd = restingPieces('lead-end', pipe.leadEnd, pipe.cellMm);
  const cutOut = restingPieces('cut-out', pipe.removed, pipe.cellMm);
  const pieces = [...outer, ...inner, ...line, ...leadEnd, ...cutOut].sort((a, b) => a.fromFootage - b.fromFootage);
  const changes = pieces.filter((piece, index) => piece.kind !== pieces[index - 1]?.kind);
  return {
    at,
    shoeMdMm: hangOffMdMm + pipe.depthMm,
    weldFootageMm: pipe.weldFootageMm,
    shoeFootageMm: inner[0]?.fromFootage ?? line[0]!.fromFootage,
    hangOffFootageMm: line[0]!.fromFootage,
    outer: wallRuns(outer, hangOffMdMm),
    inner: wallRuns(inner, hangOffMdMm),
    line: footageRuns(line),
    leadEnd: footageRuns(leadEnd),
    cutOut: footageRuns(cutOut),
    edgeFootages: [...changes.map((piece) => piece.fromFootage), pipe.weldFootageMm],
    pieces,
    placeOfFootage: placeFinder(pieces, pipe.cellMm),
  };
}
