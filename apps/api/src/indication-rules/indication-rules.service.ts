import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, together } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { IndicationRuleInput, type IndicationRuleContent } from './indication-rule.dto.js';
import { IndicationRuleVersion } from './indication-rule.entity.js';
import { ruleFaults, speechFaults } from './indication-rule.rules.js';

@Injectable()
export class IndicationRulesService extends RecordsService<IndicationRuleVersion, IndicationRuleInput, IndicationRuleContent> {
  readonly kind = 'indication rule';
  readonly entity = IndicationRuleVersion;
  readonly input = IndicationRuleInput;
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    // The channel was withdrawn at the same moment.
    ck_indication_rule_own_channels: { field: 'channels', limit: 'channels of the string that are not void', code: 'unknown-reference' },
    uq_indication_rule_revision: { field: 'revision', limit: 'a revision that this rule does not have yet on the string' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly channels: ChannelsService,
  ) {
    super(desk);
  }

  protected async content(tx: Transaction, input: IndicationRuleInput): Promise<Content<IndicationRuleVersion>> {
    const faults = ruleFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, channels } = input;
    const named = channels.map(({ channelId }, index) => this.channels.namedOnString(tx, `channels[${index}].channelId`, channelId, stringId));
    const [, rows] = await together([this.strings.named(tx, 'stringId', stringId), together(named)]);
    const mute = speechFaults(channels, rows);
    if (mute.length > 0) throw contradictory(mute);
    const { name, revision, minimumLengthMm, combiningMm, bridgedGapMm, excludes, repeats } = input;
    return {
      stringId, name, revision, minimumLengthMm, combiningMm, bridgedGapMm, excludes: [...new Set(excludes)], repeats,
      channels: channels.map(({ channelId, sense, threshold, release, speaksForMm }) => ({ channelId, sense, threshold, release, speaksForMm: speaksForMm ?? null })),
      jointMm: input.jointMm ?? null, spliceMarginMm: input.spliceMarginMm ?? null, requirement: input.requirement ?? null, note: input.note ?? null,
    };
  }

  protected present(row: IndicationRuleVersion): IndicationRuleContent {
    const { stringId, name, revision, channels, minimumLengthMm, combiningMm, bridgedGapMm, jointMm, spliceMarginMm, repeats, requirement, note } = row;
    return {
      stringId, name, revision, channels: channels.map((one) => ({ ...one })), minimumLengthMm, combiningMm, bridgedGapMm, jointMm,
      excludes: row.excludes as IndicationRuleContent['excludes'], spliceMarginMm, repeats, requirement, note,
    };
  }
}
