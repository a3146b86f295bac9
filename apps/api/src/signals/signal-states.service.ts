import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { run, type RecordVersion } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import type { RecordsReader } from '../records/records-reader.js';

/** Kinds of records with a string, as they are read. */
export type StringReader = Pick<RecordsReader<RecordVersion, object>, 'kind' | 'versionsOnString'>;

/** What the samples of a channel rest on, and what is shown beside them, as one glance tells it: what was read while it said the same is up to date. */
export interface SignalState {
  /** Of the string's lengths, and of all that shows in them. */
  readonly revision: string;
  /** Blocks of the channel; 0 where none was named. */
  readonly blocks: number;
  /** Samples of the string are kept outside. */
  readonly isDetached: boolean;
  /** How many versions of records of some kinds the string has, as text. Throws Error for a kind that is not looked at. */
  versionsOf(...kinds: readonly StringReader[]): string;
}

interface StateRow {
  readonly revision: string;
  readonly blocks: string;
  readonly detached: boolean;
  readonly versions: readonly number[];
}

/** Looks whether anything has changed that views and places of samples rest on. */
@Injectable()
export class SignalStates {
  private readonly kinds: StringReader[];
  private statement: string | null = null;

  constructor(private readonly dataSource: DataSource, channels: ChannelsService, runs: InspectionRunsService) {
    this.kinds = [channels, runs];
  }

  /** Has records of these kinds looked at too. */
  watch(...kinds: readonly StringReader[]): void {
    this.kinds.push(...kinds);
    this.statement = null;
  }

  /** The state of a string, and of one of its channels, as committed now. */
  async of(stringId: string, channelId: string | null): Promise<SignalState> {
    const { rows: [row] } = await run<StateRow>(this.dataSource.manager, (this.statement ??= this.look()), [stringId, channelId]);
    const versions = new Map(this.kinds.map(({ kind }, index) => [kind, row?.versions[index] ?? 0]));
    return {
      revision: row?.revision ?? '', blocks: Number(row?.blocks ?? 0), isDetached: row?.detached ?? false,
      versionsOf: (...kinds) => kinds.map(({ kind }) => {
        const own = versions.get(kind);
        if (own === undefined) throw new Error(`records of the kind ${kind} are not looked at`);
        return own;
      }).join(' '),
    };
  }

  private look(): string {
    return `select revision_of($1) as revision,
                   coalesce((select max(block_no) + 1 from signal_block where string_id = $1 and channel_id = $2 and level = 0), 0) as blocks,
                   exists (select from signal_detachment where string_id = $1 and attached_again is null) as detached,
                   json_build_array(${this.kinds.map((kind) => kind.versionsOnString()).join(', ')}) as versions`;
  }
}
