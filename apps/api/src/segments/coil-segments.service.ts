import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import type { Coil } from '../coils/coil.entity.js';
import { NOT_ACCEPTED } from '../coils/coil.rules.js';
import { CoilsService } from '../coils/coils.service.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { CoilSegmentInput, type CoilSegmentContent } from './coil-segment.dto.js';
import { CoilSegmentVersion } from './coil-segment.entity.js';
import { segmentFindings, stripSpanOf } from './coil-segment.rules.js';

/** The columns, and the coil they are judged against; the store writes columns only. */
type JudgedSegment = Content<CoilSegmentVersion> & { readonly coil: Coil };

@Injectable()
export class CoilSegmentsService extends PlacedRecordsService<CoilSegmentVersion, CoilSegmentInput, CoilSegmentContent> {
  readonly kind = 'coil segment';
  readonly entity = CoilSegmentVersion;
  readonly input = CoilSegmentInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { stringId: 'string_id', coilId: 'coil_id' };
  protected override readonly constraints = {
    xc_coil_segment_span: { field: 'from', limit: 'overlaps another segment of this string' },
    xc_coil_segment_strip: { field: 'stripFromMm', limit: 'this strip of the coil stands elsewhere already' },
    accepted_coil_id: { field: 'coilId', ...NOT_ACCEPTED },
  };

  constructor(desk: RecordDesk, places: Places, private readonly coils: CoilsService) {
    super(desk, places);
  }

  /** The segments of some coils known at `asKnownAt`, on all strings, by string and footage. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<CoilSegmentVersion[]> {
    return this.desk.store.select(
      this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt,
      'order by string_id, lower(span), id',
    );
  }

  protected async content(
    tx: Transaction,
    input: CoilSegmentInput,
    current: CoilSegmentVersion | null,
  ): Promise<JudgedSegment> {
    const stripSpan = stripSpanOf(input);
    const coil = await this.coils.named(tx, 'coilId', input.coilId);
    return {
      ...(await this.placeOf(tx, input, { id: current?.id ?? null })),
      coilId: input.coilId,
      stripSpan,
      runs: input.runs,
      note: input.note ?? null,
      coil,
    };
  }

  protected override findings(_input: CoilSegmentInput, content: JudgedSegment): Finding[] {
    return segmentFindings(content);
  }

  protected present(row: CoilSegmentVersion): CoilSegmentContent {
    const { coilId, stripSpan, runs, note } = row;
    return { ...this.presentPlace(row), coilId, stripFromMm: stripSpan.fromMm, stripToMm: stripSpan.toMm, runs, note };
  }
}
