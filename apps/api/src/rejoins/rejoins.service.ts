import { Injectable } from '@nestjs/common';
import type { IntervalSet } from '#libs/intervals';
import type { Transaction } from '#libs/persistence';
import { CutOutsService } from '../line/cut-outs.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { RejoinInput, type RejoinContent } from './rejoin.dto.js';
import { jointOf } from './joint.js';
import { Rejoin } from './rejoin.entity.js';

@Injectable()
export class RejoinsService extends RecordsService<Rejoin, RejoinInput, RejoinContent> {
  readonly kind = 're-join';
  readonly entity = Rejoin;
  readonly input = RejoinInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { stringId: 'string_id', cutOutId: 'cut_out_id' };
  protected override readonly constraints = {
    uq_rejoin_cut_out_id: { field: 'cutOutId', limit: 'a cut-out that no other re-join stands for' },
  };

  constructor(desk: RecordDesk, private readonly cutOuts: CutOutsService) {
    super(desk);
  }

  /** The re-joins of a string known at `asKnownAt`, in the order they were made. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<Rejoin[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id',
    );
  }

  /** Where a re-join that is not void is, as its transaction sees it; null when its cut-out was withdrawn. Refuses as `named` does. */
  async jointNamed(tx: Transaction, field: string, id: string): Promise<IntervalSet | null> {
    const { cutOutId } = await this.named(tx, field, id);
    const span = await this.cutOuts.spanIn(tx, cutOutId);
    return span === null ? null : jointOf(span);
  }

  protected async content(tx: Transaction, input: RejoinInput): Promise<Content<Rejoin>> {
    await this.cutOuts.namedOnString(tx, 'cutOutId', input.cutOutId, input.stringId);
    return {
      stringId: input.stringId,
      cutOutId: input.cutOutId,
      procedure: input.procedure,
      verdict: input.verdict,
      examination: input.examination ?? null,
      note: input.note ?? null,
    };
  }

  protected present({ stringId, cutOutId, procedure, verdict, examination, note }: Rejoin): RejoinContent {
    return { stringId, cutOutId, procedure, verdict, examination, note };
  }
}
