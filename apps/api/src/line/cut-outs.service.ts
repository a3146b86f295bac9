import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { microseconds, type Transaction } from '#libs/persistence';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { CounterReadingsService } from './counter-readings.service.js';
import { CutOutInput, type CutOutContent } from './cut-out.dto.js';
import { CutOutVersion } from './cut-out.entity.js';
import { cutOutFindings, mostMadeMm, type OnTheLine } from './cut-out.rules.js';
import { HangOffVersion } from './hang-off.entity.js';
import type { LineKnowledge, PlacedColumns } from './line-knowledge.js';
import { cutOutOf } from './line-loader.js';
import { PlacedRecordsService, type Placeable } from './placed-records.service.js';
import { Places, type Stage } from './places.service.js';

@Injectable()
export class CutOutsService extends PlacedRecordsService<CutOutVersion, CutOutInput, CutOutContent> {
  readonly kind = 'cut-out';
  readonly entity = CutOutVersion;
  readonly input = CutOutInput;
  override readonly stage: Stage = 'cut-outs';
  protected override readonly effect = 'moves';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    xc_cut_out_span: { field: 'from', limit: 'pipe that no other cut-out removed' },
    ck_cut_out_span: { field: 'to', limit: 'an end above the beginning' },
  };

  constructor(desk: RecordDesk, places: Places, private readonly readings: CounterReadingsService) {
    super(desk, places);
  }

  /** Its own place, and that of what is joined at the same moment, was seen while the pipe was still whole. */
  protected override derived(row: Placeable, line: LineKnowledge): PlacedColumns {
    return line.beforeCutOut(row.observedAt).placed(row.given, row.observedAt);
  }

  /** What one removed, as a transaction sees it; null when it was withdrawn. */
  async spanIn(tx: Transaction, id: string): Promise<Interval | null> {
    const row = await this.desk.store.find(this.entity, id, null, tx.manager);
    return row?.state === 'active' ? row.span : null;
  }

  followedBy(row: CutOutVersion, line: LineKnowledge): LineKnowledge {
    return line.withCutOut(cutOutOf(row));
  }

  protected async content(tx: Transaction, input: CutOutInput, current: CutOutVersion | null): Promise<Content<CutOutVersion>> {
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return { ...place, cause: input.cause, piece: input.piece ?? null, note: input.note ?? null };
  }

  protected override async findings(
    { stringId, observedAt }: CutOutInput,
    { span }: Content<CutOutVersion>,
    tx: Transaction,
  ): Promise<readonly Finding[]> {
    return cutOutFindings(span, await this.onTheLine(tx, stringId, observedAt));
  }

  protected present(row: CutOutVersion): CutOutContent {
    const { from, to, ...place } = this.presentPlace(row);
    return { from, to: to ?? from, ...place, cause: row.cause, piece: row.piece, note: row.note };
  }

  /** What the readings around that time, and the hang-off if the string hung by then, say was on the line. */
  private async onTheLine(tx: Transaction, stringId: string, at: string): Promise<OnTheLine> {
    const line = (await this.places.line(tx, stringId)).beforeCutOut(at);
    const atUs = microseconds(at);
    const sought = { stringId, counter: line.masterCounter, at, exceptId: null };
    const last = await this.readings.lastBefore(tx, line, sought);
    const next = await this.readings.firstFrom(tx, line, sought);
    const [hangOff] = await this.desk.store.select(
      HangOffVersion, "string_id = $1 and state = 'active' and observed_at <= $2", [stringId, at], null, '', tx.manager,
    );
    const isHung = hangOff !== undefined && last !== null;
    return {
      hangOffMm: isHung ? line.materialAtHangOff(last.footageMm, atUs) : null,
      weldMm: next?.footageMm ?? (last === null ? null : mostMadeMm(last, atUs)),
    };
  }
}
