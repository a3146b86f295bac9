import type { EntityManager } from 'typeorm';
import { sqlRefusal, type Transaction } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { RecordDesk } from '../records/record-desk.js';
import type { RecordAnswer } from '../records/record.dto.js';
import { RecordsService } from '../records/records.service.js';
import type { WriteRequest } from '../records/write-request.js';
import { inWords, restOnTheSame, type GivenInterval } from './given-place.js';
import type { LineKnowledge, PlacedColumns } from './line-knowledge.js';
import type { PlacedContent, PlacedInput } from './placed.dto.js';
import type { PlacedVersion } from './placed.entity.js';
import type { Move, PlacedKind, Places, Stage } from './places.service.js';

/** Records on the pipe: their place is derived from what was given, when entered and whenever that rests on moves. */
export abstract class PlacedRecordsService<R extends PlacedVersion, I extends PlacedInput, A extends PlacedContent>
  extends RecordsService<R, I, A>
  implements PlacedKind<R>
{
  readonly stage: Stage = 'records';

  constructor(
    desk: RecordDesk,
    protected readonly places: Places,
  ) {
    super(desk);
    places.register(this);
  }

  /** True for kinds whose entry writes nothing but the record and looks at nothing but the line. */
  protected readonly standsAlone: boolean = false;

  /**
   * In one statement, from the line as kept: the statement itself checks, with the string's lock held, that the line has
   * not moved since.
   */
  protected override async createAlone(input: I, id: string, request: WriteRequest): Promise<(RecordAnswer & A) | null> {
    const kept = this.places.kept(input.stringId);
    if (!this.standsAlone || request.key !== null || kept === null || !this.desk.keepsDatabaseTime) return null;
    const { actor } = request;
    const locked = { about: input.stringId, revision: kept.revision };
    const tx: Transaction = { manager: this.desk.dataSource.manager, actor, knownAt: '', locked };
    const lock = { about: input.stringId, mode: 'shared' } as const;
    // A refusal may come from a line that has moved on: the whole transaction decides then.
    const row = await this.firstVersion(tx, input, id).catch(() => null);
    if (row === null) return null;
    const saved = await this.desk.store.appendAlone(actor, lock, kept.revision, this.entity, row);
    return saved === null ? null : this.answer(saved);
  }

  /** The interval on the pipe of a place and its derived columns; kinds with a length of their own override it. */
  protected derived(row: Placeable, line: LineKnowledge): PlacedColumns {
    return line.placed(row.given, row.observedAt);
  }

  moved(row: R, line: LineKnowledge): Move | null {
    const columns = this.derived(row, line);
    const [before, after] = [row.span, columns.span];
    const stays =
      before.fromMm === after.fromMm && before.toMm === after.toMm &&
      row.fromUMm === columns.fromUMm && row.toUMm === columns.toUMm && row.predicted === columns.predicted;
    if (!stays) return { columns, said: `footage [${before.fromMm}, ${before.toMm}) mm became [${after.fromMm}, ${after.toMm}) mm` };
    return restOnTheSame(row.restsOn, columns.restsOn) ? null : { columns, said: `it rests on ${inWords(columns.restsOn)} now` };
  }

  /** What was given of the place, and the columns derived from it. */
  protected async placeOf(tx: Transaction, input: I, row: Omit<Placeable, 'given' | 'observedAt'>): Promise<Placing> {
    const given: GivenInterval = { from: plain(input.from), to: input.to == null ? null : plain(input.to) };
    const line = await this.places.line(tx, input.stringId);
    const placeable = Object.assign({ given, observedAt: input.observedAt }, row);
    return Object.assign({ stringId: input.stringId, given }, this.derived(placeable, line));
  }

  /** A place past an end of its string is named as it was given. */
  protected override explained(error: unknown, input: I | null): unknown {
    const refusal = sqlRefusal(error);
    if (refusal?.sqlState !== 'EM006' || input === null) return super.explained(error, input);
    const [field, place] = input.to == null ? ['from', input.from] : ['to', input.to];
    return refusedField('outside-string', field, place.footageMm ?? place.counterReading ?? null, refusal.message);
  }

  /** The fields of an answer that say where the record is. */
  protected presentPlace(row: R): PlacedContent {
    return {
      stringId: row.stringId,
      from: row.given.from,
      to: row.given.to,
      footageFromMm: row.span.fromMm,
      footageToMm: row.span.toMm,
      footageFromUMm: Number(row.fromUMm),
      footageToUMm: Number(row.toUMm),
      predicted: row.predicted,
      restsOn: row.restsOn,
    };
  }

  /** Rows known at `asKnownAt` whose span touches one of the footage intervals of the string, by footage. */
  async touching(stringId: string, multirange: string, asKnownAt: string | null): Promise<R[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and span && $2::int8multirange",
      [stringId, multirange], asKnownAt, 'order by lower(span), id',
    );
  }

  /** `touching` as an SQL expression over $1 (string), $2 (multirange) and `known`, for `desk.store.unpack`. */
  packedTouching(properties: readonly (keyof R & string)[], known: string | null): string {
    const condition = "string_id = $1 and state = 'active' and span && $2::int8multirange";
    return this.desk.store.packed(this.entity, properties, { condition, order: 'lower(span), id', known });
  }

  /**
   * Rows of a string, void ones too, that stand and became known at an instant or later, but for versions that are known already; and
   * how many versions of all its rows there were when they were looked for.
   */
  async standingSince(stringId: string, instant: string, known: (id: string, version: number) => boolean): Promise<{ readonly versions: number; readonly rows: R[] }> {
    const { versions, standing } = await this.desk.store.standingSince(this.entity, 'string_id = $1', [stringId], instant);
    return { versions, rows: await this.desk.store.someVersions(this.entity, standing.filter(({ id, version }) => !known(id, version))) };
  }

  /** All rows of a string known at `asKnownAt`, by footage; in a transaction through its manager. */
  async ofString(stringId: string, asKnownAt: string | null, manager?: EntityManager): Promise<R[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by lower(span), id', manager,
    );
  }
}

export interface Placeable {
  readonly id: string | null;
  readonly given: GivenInterval;
  readonly observedAt: string;
}

/** The columns that place a record. */
export interface Placing extends PlacedColumns {
  readonly stringId: string;
  readonly given: GivenInterval;
}

/** Own enumerable fields only: what was given is kept as given. */
function plain<T extends object>(place: T): T {
  return { ...place };
}
