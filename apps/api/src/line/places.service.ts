import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import type { EntityManager } from 'typeorm';
import type { NewVersion, RecordClass, RecordVersion, Transaction } from '#libs/persistence';
import { LengthError } from '#libs/length';
import { Refused, refusedField } from '../http/problem.js';
import { DERIVED_AGAIN } from '../records/amendment.js';
import { RecordDesk } from '../records/record-desk.js';
import { knowledgeOf, loadLine } from './line-loader.js';
import type { LineKnowledge } from './line-knowledge.js';

/** In this order positions are derived again, since each stage rests on the ones before. */
const STAGES = ['counter-periods', 'cut-outs', 'records'] as const;
export type Stage = (typeof STAGES)[number];

/** The new columns of a row whose position moved, and the words for its history. */
export interface Move {
  readonly columns: object;
  readonly said: string;
}

/** A kind of record with derived positions. */
export interface PlacedKind<R extends RecordVersion> {
  /** The kind as people read it. */
  readonly kind: string;
  readonly stage: Stage;
  readonly entity: RecordClass<R>;
  /** What the row's derived columns are under `line` when they differ from what it says; null when nothing moved. */
  moved(row: R, line: LineKnowledge): Move | null;
  /** The line as later rows of the same kind see it, for a kind whose rows rest on one another. */
  followedBy?(row: R, line: LineKnowledge): LineKnowledge;
}

interface Known {
  readonly revision: string;
  readonly line: LineKnowledge;
}

const KEPT_STRINGS = 500;

/** Turns places as given into footage, and derives footage again when what it rests on is corrected. */
@Injectable()
export class Places {
  private readonly kinds: PlacedKind<RecordVersion>[] = [];
  private readonly inTransaction = new WeakMap<Transaction, { readonly stringId: string; readonly line: LineKnowledge }>();
  private readonly known = new LRUCache<string, Known>({ max: KEPT_STRINGS });

  constructor(private readonly desk: RecordDesk) {
    desk.changes.follow((tx, stringId, cause) => this.deriveAgain(tx, stringId, cause));
  }

  /** Has the positions of a kind derived again whenever a string's line changes. */
  register<R extends RecordVersion>(kind: PlacedKind<R>): void {
    this.kinds.push(kind);
  }

  /**
   * What positions on a string rest on, as the transaction sees it. Kept between calls while the string's revision
   * stands still, and for the whole of a transaction: the caller holds the string's lock, so it cannot move under way.
   */
  async line(tx: Transaction, stringId: string): Promise<LineKnowledge> {
    // What this transaction changed may yet be rolled back; only what is committed is kept.
    if (this.desk.changes.hasTouched(tx, stringId)) return this.load(tx.manager, stringId);
    const seen = this.inTransaction.get(tx);
    if (seen?.stringId === stringId) return seen.line;
    const line = await this.committed(tx, stringId);
    this.inTransaction.set(tx, { stringId, line });
    return line;
  }

  /** What is kept about a string's line, with the revision it stands for; null when nothing is. */
  kept(stringId: string): { readonly revision: string; readonly line: LineKnowledge } | null {
    return this.known.get(stringId) ?? null;
  }

  private async committed(tx: Transaction, stringId: string): Promise<LineKnowledge> {
    const revision = await this.desk.changes.revisionIn(tx, stringId);
    const known = this.known.get(stringId);
    if (known?.revision === revision) return known.line;
    const line = await this.load(tx.manager, stringId);
    this.known.set(stringId, { revision, line });
    return line;
  }

  private async load(manager: EntityManager, stringId: string): Promise<LineKnowledge> {
    const { masterCounter, records } = await loadLine(this.desk.store, manager, stringId, null);
    if (masterCounter === null) throw refusedField('no-string', 'stringId', stringId, 'the id of a casing string in use');
    try {
      return knowledgeOf(masterCounter, records);
    } catch (error) {
      if (error instanceof LengthError) throw new Refused(409, 'rested-on', `Another record rests on this: ${error.message}.`);
      throw error;
    }
  }

  private async deriveAgain(tx: Transaction, stringId: string, cause: string): Promise<void> {
    for (const stage of STAGES) {
      for (const kind of this.kinds.filter((candidate) => candidate.stage === stage)) {
        const rows = await this.standing(tx, stringId, kind);
        const line = await this.load(tx.manager, stringId);
        await this.desk.store.amendTogether(tx, kind.entity, movesOf(kind, rows, line, cause));
      }
    }
  }

  private standing(tx: Transaction, stringId: string, kind: PlacedKind<RecordVersion>): Promise<RecordVersion[]> {
    const condition = "string_id = $1 and state = 'active'";
    const order = 'order by observed_at, id';
    return this.desk.store.select(kind.entity, condition, [stringId], null, order, tx.manager);
  }
}

function movesOf(
  kind: PlacedKind<RecordVersion>,
  rows: readonly RecordVersion[],
  loaded: LineKnowledge,
  cause: string,
): { version: number; row: NewVersion<RecordVersion> }[] {
  let line = loaded;
  return rows.flatMap((row) => {
    const move = moveOf(kind, row, line, cause);
    const now = { ...row, ...move?.columns };
    line = kind.followedBy?.(now, line) ?? line;
    if (move === null) return [];
    const reason = `${DERIVED_AGAIN} ${cause}: ${move.said}.`;
    return [{ version: row.version, row: { ...now, reason } }];
  });
}

/** A position that can no longer be derived refuses the change, and says whose position it is. */
function moveOf(kind: PlacedKind<RecordVersion>, row: RecordVersion, line: LineKnowledge, cause: string): Move | null {
  try {
    return kind.moved(row, line);
  } catch (error) {
    if (!(error instanceof Refused || error instanceof LengthError)) throw error;
    const whose = `${kind.kind} ${row.id}`;
    throw new Refused(
      409, 'rested-on', `The position of ${whose} rests on this; since ${cause}, it would need ${error.message}.`,
      [], { kind: kind.kind, id: row.id },
    );
  }
}
