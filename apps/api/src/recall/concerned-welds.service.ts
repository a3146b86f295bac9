import { Injectable } from '@nestjs/common';
import { likeNumber } from '#libs/strip';
import { placeOfWeld, placeOnPipe } from '../measured-work/measured-work.service.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { Weld } from '../welds/weld.entity.js';
import type { Concern, Concerned } from './concerned.js';
import { PLAIN_CONCERN } from './concerned.js';
import { LocatedWork, type ConcernedWork } from './located-work.service.js';
import { RecordFinder } from './record-finder.service.js';
import { linkOf, REPAIRS, SEAM_EVENTS, startAt, WELD_PROCEDURES, WELDS } from './record-kinds.js';

/** What a batch went into, and the column that names it. */
const BATCH_COLUMNS = { fillerBatch: 'filler_batch', gasBatch: 'gas_batch' } as const;

/** From what a weld was made by or of to the welds and their pipe. */
@Injectable()
export class ConcernedWelds {
  constructor(
    private readonly finder: RecordFinder,
    private readonly located: LocatedWork,
  ) {}

  /** The welds and repairs made by a revision of a procedure, and the events of the seam weld that ran by it. */
  async ofWeldProcedure(id: string, asKnownAt: string | null): Promise<Concerned> {
    const row = await this.finder.one(WELD_PROCEDURES, id, asKnownAt);
    const used = { sql: 'weld_procedure_id = $1', parameters: [id] };
    const [welds, seamEvents, repairs] = await Promise.all([
      this.finder.where(WELDS, used, asKnownAt), this.finder.where(SEAM_EVENTS, used, asKnownAt), this.finder.where(REPAIRS, used, asKnownAt),
    ]);
    const works = [
      ...welds.map((weld) => workOf(weld, PLAIN_CONCERN)),
      ...seamEvents.map((event): ConcernedWork => ({ record: linkOf(SEAM_EVENTS, event), place: placeOnPipe(event), ...PLAIN_CONCERN })),
      ...repairs.map((repair) => repairOf(repair, PLAIN_CONCERN)),
    ];
    return { ...startAt(WELD_PROCEDURES, row), ...(await this.located.of(works, asKnownAt)) };
  }

  /**
   * The welds and repairs that a batch of filler or gas went into, and possibly those with a batch that is easily taken for it. Capitals
   * make no difference. A batch that no weld names gives an empty answer: it is no record that could be missing.
   */
  async ofBatch(by: keyof typeof BATCH_COLUMNS, batch: string, asKnownAt: string | null): Promise<Concerned> {
    const column = BATCH_COLUMNS[by];
    const near = { sql: `(upper(${column}) = upper($1) or near_number_key(${column}) = near_number_key($1))`, parameters: [batch] };
    const [welds, repairs] = await Promise.all([
      this.finder.where(WELDS, near, asKnownAt), by === 'fillerBatch' ? this.finder.where(REPAIRS, near, asKnownAt) : [],
    ]);
    const withConcern = <R>(row: R, named: string | null, work: (row: R, concern: Concern) => ConcernedWork): ConcernedWork[] => {
      const concern = concernOfBatch(batch, named ?? '');
      return concern === null ? [] : [work(row, concern)];
    };
    const works = [
      ...welds.flatMap((weld) => withConcern(weld, weld[by], workOf)), ...repairs.flatMap((repair) => withConcern(repair, repair.fillerBatch, repairOf)),
    ];
    return { record: null, isVoid: false, ...(await this.located.of(works, asKnownAt)) };
  }
}

const workOf = (weld: Weld, concern: Concern): ConcernedWork => ({ record: linkOf(WELDS, weld), place: placeOfWeld(weld), ...concern });

const repairOf = (repair: Repair, concern: Concern): ConcernedWork => ({ record: linkOf(REPAIRS, repair), place: placeOnPipe(repair), ...concern });

/** Null where the batches have nothing in common. */
export function concernOfBatch(asked: string, named: string): Concern | null {
  if (asked.toUpperCase() === named.toUpperCase()) return PLAIN_CONCERN;
  const likeness = likeNumber(asked, named);
  return likeness.alike ? { isCertain: false, because: `its batch ${named} is easily taken for ${asked}: ${likeness.because}` } : null;
}
