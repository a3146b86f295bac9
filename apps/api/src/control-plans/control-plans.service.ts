import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, refusedField, together, type Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import type { ControlPlanItem } from './control-plan-item.js';
import { ControlPlanInput, type ControlPlanContent } from './control-plan.dto.js';
import { ControlPlan } from './control-plan.entity.js';
import { planFaults, plannedItems } from './control-plan.rules.js';

@Injectable()
export class ControlPlansService extends RecordsService<ControlPlan, ControlPlanInput, ControlPlanContent> {
  readonly kind = 'control plan';
  readonly entity = ControlPlan;
  readonly input = ControlPlanInput;
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    // The channel was withdrawn at the same moment.
    ck_control_plan_own_channels: { field: 'items', limit: 'channels of the string that are not void', code: 'unknown-reference' },
    uq_control_plan_from_mm: { field: 'fromMm', limit: 'a footage from which on the string has no other control plan' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly channels: ChannelsService,
  ) {
    super(desk);
  }

  /** The plans of a string known at `asKnownAt`, by the footage from which on they hold. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ControlPlan[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by from_mm');
  }

  /** Refuses with 422 a code that no item of a standing plan of the string has. */
  async namedItem(tx: Transaction, field: string, code: string, stringId: string): Promise<void> {
    await this.refuseUnknownItem(tx, stringId, { code }, refusedField('unknown-reference', field, code, 'the code of an item in a standing control plan of the string'));
  }

  /** As `namedItem`, of an item that is a hold, witness or review point. */
  async namedPoint(tx: Transaction, field: string, code: string, stringId: string): Promise<void> {
    const refusal = refusedField('unknown-reference', field, code, 'the code of a point in a standing control plan of the string');
    await this.refuseUnknownItem(tx, stringId, { code, demands: 'point' }, refusal);
  }

  protected async content(tx: Transaction, input: ControlPlanInput): Promise<Content<ControlPlan>> {
    const faults = planFaults(input.items);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, document, revision, fromMm, note } = input;
    const items = plannedItems(input.items);
    const channels = items.flatMap(({ channelId }, index) => (channelId === null ? [] : [this.channels.namedOnString(tx, `items[${index}].channelId`, channelId, stringId)]));
    await together([this.strings.named(tx, 'stringId', stringId), ...channels]);
    return { stringId, document, revision, fromMm, items, note: note ?? null };
  }

  protected present({ stringId, document, revision, fromMm, items, note }: ControlPlan): ControlPlanContent {
    return { stringId, document, revision, fromMm, items: items.map((item) => ({ ...item, exceptAt: item.exceptAt.map((one) => ({ ...one })) })), note };
  }
  private async refuseUnknownItem(tx: Transaction, stringId: string, item: Partial<ControlPlanItem>, refusal: Refused): Promise<void> {
    const condition = "string_id = $1 and state = 'active' and items @> $2::jsonb";
    const plans = await this.desk.store.select(this.entity, condition, [stringId, JSON.stringify([item])], null, 'limit 1', tx.manager);
    if (plans.length === 0) throw refusal;
  }
}
