import type { IntervalSet, Interval } from '#libs/intervals';
import { isWorse, type EvidenceState } from './evidence-state.js';
import { SAYINGS, type Saying, type Testimony } from './testimony.js';

/**
 * Pipe in one state for one demand, and the testimonies that decide it, as indices into the list judged, rising: those that say the
 * state; of conceded pipe the waivers; of missing pipe those that say why nothing can be there yet.
 */
export interface JudgedStretch extends Interval {
  readonly state: EvidenceState;
  /**
   * All that makes the state was entered only after this pipe had passed the hang-off, whether it speaks for it or against it. Never
   * of missing pipe: nothing came. Pipe can be provisional in time and late once it is confirmed.
   */
  readonly late: boolean;
  /** Of what is conceded: what it would be without; null of any other. */
  readonly otherwise: EvidenceState | null;
  readonly by: readonly number[];
}

/**
 * What testimonies make of the pipe of which something is demanded, in order of footage; stretches that touch differ. At each
 * millimetre what speaks against it decides before what speaks for it, and the worst of that; else the best of what speaks
 * for it; else it is missing. A waiver makes conceded what would be worse, and nothing else. So one more testimony makes a metre
 * worse only when it speaks against it, and the order in which they come plays no part. Cost O(n log n) for n
 * testimonies, and O(k log k) at each place where one begins, ends or turns late, for the k that lie there and decide or waive.
 */
export function judgedPipe<R>(demanded: IntervalSet, testimonies: readonly Testimony<R>[]): JudgedStretch[] {
  const walk = new Walk(partsOf(testimonies));
  const found: JudgedStretch[] = [];
  for (const { fromMm, toMm } of demanded.intervals) {
    let atMm = fromMm;
    while (atMm < toMm) {
      walk.moveTo(atMm);
      const endMm = Math.min(toMm, walk.nextEdgeMm());
      add(found, { fromMm: atMm, toMm: endMm, ...judged(walk) });
      atMm = endMm;
    }
  }
  return found;
}

/** A testimony, or the part of one that came late or on time. */
interface Part extends Interval {
  readonly nth: number;
  readonly says: Saying;
  readonly late: boolean;
}

function partsOf<R>(testimonies: readonly Testimony<R>[]): Part[] {
  return testimonies.flatMap(({ fromMm, toMm, says, onTimeFromMm }, nth): Part[] => {
    const cutMm = Math.min(Math.max(onTimeFromMm, fromMm), toMm);
    return [
      ...(fromMm < cutMm ? [{ fromMm, toMm: cutMm, nth, says, late: true }] : []),
      ...(cutMm < toMm ? [{ fromMm: cutMm, toMm, nth, says, late: false }] : []),
    ];
  });
}

const NONE: ReadonlySet<Part> = new Set();

/** Walks up the pipe with the parts that lie over the place where it is. */
class Walk {
  private readonly starting: readonly Part[];
  private readonly ending: readonly Part[];
  private readonly over = new Map<Saying, Set<Part>>(SAYINGS.map((says) => [says, new Set()]));
  private begun = 0;
  private ended = 0;

  constructor(parts: readonly Part[]) {
    this.starting = parts.toSorted((a, b) => a.fromMm - b.fromMm);
    this.ending = parts.toSorted((a, b) => a.toMm - b.toMm);
  }

  moveTo(atMm: number): void {
    for (let part = this.starting[this.begun]; part !== undefined && part.fromMm <= atMm; part = this.starting[this.begun]) {
      this.over.get(part.says)?.add(part);
      this.begun += 1;
    }
    for (let part = this.ending[this.ended]; part !== undefined && part.toMm <= atMm; part = this.ending[this.ended]) {
      this.over.get(part.says)?.delete(part);
      this.ended += 1;
    }
  }

  /** Where a part begins or ends next; what has not begun begins before it ends. */
  nextEdgeMm(): number {
    return Math.min(this.starting[this.begun]?.fromMm ?? Infinity, this.ending[this.ended]?.toMm ?? Infinity);
  }

  saying(says: Saying): ReadonlySet<Part> {
    return this.over.get(says) ?? NONE;
  }
}

type Judged = Omit<JudgedStretch, keyof Interval>;

/** What speaks against pipe, worst first; then what speaks for it, best first. */
const DECIDING = ['failed', 'suspect', 'confirmed', 'provisional'] as const;

function judged(walk: Walk): Judged {
  const plain = withoutWaiver(walk);
  const waivers = walk.saying('waived');
  if (waivers.size === 0 || !isWorse(plain.state, 'conceded')) return plain;
  return { state: 'conceded', ...carriedBy(waivers), otherwise: plain.state };
}

function withoutWaiver(walk: Walk): Judged {
  for (const state of DECIDING) {
    const words = walk.saying(state);
    if (words.size > 0) return { state, ...carriedBy(words), otherwise: null };
  }
  return { state: 'missing', late: false, otherwise: null, by: carriedBy(walk.saying('awaited')).by };
}

function carriedBy(parts: ReadonlySet<Part>): Pick<Judged, 'late' | 'by'> {
  const by: number[] = [];
  let late = true;
  for (const part of parts) {
    by.push(part.nth);
    late &&= part.late;
  }
  return { late, by: by.sort((a, b) => a - b) };
}

/** Adds a stretch, to the one before where it only goes on. */
function add(found: JudgedStretch[], stretch: JudgedStretch): void {
  const last = found.at(-1);
  if (last === undefined || last.toMm !== stretch.fromMm || !isAlike(last, stretch)) found.push(stretch);
  else found[found.length - 1] = { ...last, toMm: stretch.toMm };
}

const isAlike = (one: JudgedStretch, other: JudgedStretch): boolean =>
  one.state === other.state && one.late === other.late && one.otherwise === other.otherwise
  && one.by.length === other.by.length && one.by.every((nth, index) => other.by[index] === nth);
