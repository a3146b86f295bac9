import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { NOT_ACCEPTED } from '../coils/coil.rules.js';
import { CoilsService } from '../coils/coils.service.js';
import { contradictory } from '../http/problem.js';
import { intervalFaults } from '../line/given-place.js';
import type { LineKnowledge, PlacedColumns } from '../line/line-knowledge.js';
import { PlacedRecordsService, type Placeable } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SpliceInput, type SpliceContent } from './splice.dto.js';
import { SpliceVersion } from './splice.entity.js';
import { spliceFaults, spliceFindings, splicePipeLengthMm, type SegmentOnString } from './splice.rules.js';

/** The columns, and the segments they are judged against; the store writes columns only. */
type JudgedSplice = Content<SpliceVersion> & { readonly segments: readonly SegmentOnString[] };

/** What of a splice its place follows from. */
interface PlaceableSplice extends Placeable {
  readonly pipeLengthMm: number;
}

@Injectable()
export class SplicesService extends PlacedRecordsService<SpliceVersion, SpliceInput, SpliceContent> {
  readonly kind = 'splice';
  readonly entity = SpliceVersion;
  readonly input = SpliceInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = {
    stringId: 'string_id', leavingCoilId: 'leaving_coil_id', enteringCoilId: 'entering_coil_id',
  };
  protected override readonly constraints = {
    uq_splice_number: { field: 'number', limit: 'a number that no other splice of this string has' },
    accepted_leaving_coil_id: { field: 'leavingCoilId', ...NOT_ACCEPTED },
    accepted_entering_coil_id: { field: 'enteringCoilId', ...NOT_ACCEPTED },
  };

  constructor(desk: RecordDesk, places: Places, private readonly coils: CoilsService, private readonly segments: CoilSegmentsService) {
    super(desk, places);
  }

  /** The versions in which some splices were first entered, by id. */
  async firstOf(ids: readonly string[]): Promise<Map<string, SpliceVersion>> {
    if (ids.length === 0) return new Map();
    return new Map((await this.desk.store.firstVersions(this.entity, ids)).map((row) => [row.id, row]));
  }

  /** A splice whose end was not given ends where its angle and the strip's width say. */
  protected override derived(row: PlaceableSplice, line: LineKnowledge): PlacedColumns {
    const placed = super.derived(row, line);
    if (row.given.to !== null) return placed;
    const { fromMm } = placed.span;
    return { ...placed, span: { fromMm, toMm: fromMm + row.pipeLengthMm } };
  }

  protected async content(tx: Transaction, input: SpliceInput, current: SpliceVersion | null): Promise<JudgedSplice> {
    const faults = [...spliceFaults(input), ...intervalFaults(input)];
    if (faults.length > 0) throw contradictory(faults);
    const { leavingCoilId, enteringCoilId } = input;
    const [, entering] = await this.coils.allNamed(tx, { leavingCoilId, enteringCoilId });
    const pipeLengthMm = splicePipeLengthMm(Number(entering?.widthMm), Number(input.angleDeg));
    const self = { id: current?.id ?? null, pipeLengthMm };
    return {
      ...(await this.placeOf(tx, input, self)),
      number: input.number,
      leavingCoilId,
      enteringCoilId,
      angleDeg: input.angleDeg,
      hand: input.hand,
      confirmed: input.confirmed,
      verdict: input.verdict,
      doubt: input.doubt ?? null,
      pipeLengthMm,
      note: input.note ?? null,
      segments: await this.segments.ofString(input.stringId, null, tx.manager),
    };
  }

  protected override findings(_input: SpliceInput, content: JudgedSplice): Finding[] {
    return spliceFindings(content);
  }

  protected present(row: SpliceVersion): SpliceContent {
    const { number, leavingCoilId, enteringCoilId, angleDeg, hand, confirmed, verdict, doubt, pipeLengthMm, note } = row;
    return {
      ...this.presentPlace(row),
      number, leavingCoilId, enteringCoilId, angleDeg, hand, confirmed, verdict, doubt, pipeLengthMm, note,
    };
  }
}
