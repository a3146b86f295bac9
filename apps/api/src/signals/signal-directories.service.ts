import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { instantFromDatabase, microseconds, run } from '#libs/persistence';
import { ChannelDirectory, type DirectoryUpload } from './channel-directory.js';
import { KeptDirectories } from './kept-directories.js';

/** Blocks kept known in memory in all: 130 MB, or up to twice as much, since the room of a directory is doubled as it grows. */
const KEPT_BLOCKS = 2_000_000;
const FETCHED_AT_ONCE = 10_000;

interface BlockRow {
  upload_id: string;
  items: number;
  first_position: string;
  last_position: string;
  from_us: string;
  to_us: string;
  unread: number;
  known_from: string;
}

const BLOCKS = `
select upload_id, items, first_position, last_position, from_us, to_us, unread, known_from
  from signal_block where string_id = $1 and channel_id = $2 and level = 0 and block_no >= $3 and block_no < $4 order by block_no`;

/** Where the blocks of each channel lie; what came since the last question is fetched and added. */
@Injectable()
export class SignalDirectories {
  private readonly kept = new KeptDirectories(KEPT_BLOCKS);
  private readonly fetching = new Map<string, Promise<ChannelDirectory>>();

  constructor(private readonly dataSource: DataSource) {}

  /** The directory of a channel as committed now, or as it was seen just now, with `seenBlocks`; it may grow while it is held, at its end. */
  async of(stringId: string, channelId: string, seenBlocks: number): Promise<ChannelDirectory> {
    const key = `${stringId} ${channelId}`;
    const kept = this.kept.get(key);
    if (kept !== undefined && kept.blocks >= seenBlocks) return kept;
    const under = this.fetching.get(key);
    // One that asks while another fetches may have to see what was committed in between: it fetches after it.
    if (under !== undefined) await under.catch(() => undefined);
    const mine = this.fetching.get(key) ?? this.fetch(stringId, channelId, key);
    this.fetching.set(key, mine);
    try {
      return await mine;
    } finally {
      if (this.fetching.get(key) === mine) this.fetching.delete(key);
    }
  }

  /** Forgets what is known of a string whose blocks left the database or came back. */
  forget(stringId: string): void {
    this.kept.forgetAll(`${stringId} `);
  }

  private async fetch(stringId: string, channelId: string, key: string): Promise<ChannelDirectory> {
    const directory = this.kept.get(key) ?? new ChannelDirectory();
    for (;;) {
      const from = directory.blocks;
      const { rows } = await run<BlockRow>(this.dataSource.manager, BLOCKS, [stringId, channelId, from, from + FETCHED_AT_ONCE]);
      await this.knowUploads(directory, rows);
      for (const row of rows) {
        directory.add({
          uploadId: row.upload_id, samples: row.items, firstPosition: Number(row.first_position), lastPosition: Number(row.last_position),
          fromUs: Number(row.from_us), toUs: Number(row.to_us), unread: row.unread, knownUs: microseconds(instantFromDatabase(row.known_from)),
        });
      }
      if (rows.length < FETCHED_AT_ONCE) break;
    }
    this.kept.keep(key, directory);
    return directory;
  }

  private async knowUploads(directory: ChannelDirectory, rows: readonly BlockRow[]): Promise<void> {
    const ids = [...new Set(rows.map(({ upload_id: id }) => id))].filter((id) => !directory.hasUpload(id));
    if (ids.length === 0) return;
    const { rows: found } = await run<{ id: string; run_id: string; position: DirectoryUpload['position']; decimals: number }>(
      this.dataSource.manager, 'select id, run_id, position, decimals from signal_upload where id = any($1::uuid[])', [ids],
    );
    for (const { id, run_id: runId, position, decimals } of found) directory.know({ id, runId, position, decimals });
  }
}
