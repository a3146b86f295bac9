import type { Client } from 'pg';

/** A row of `signal_block`. */
export interface StoredBlock {
  readonly channelId: string;
  readonly level: number;
  readonly blockNo: number;
  readonly uploadId: string;
  readonly partNo: number;
  readonly items: number;
  readonly body: Buffer;
}

export interface StoredPart {
  readonly uploadId: string;
  readonly partNo: number;
  readonly sha256: string;
  readonly samples: number;
}

/** All that the database holds of the signals of a string, in the order of its blocks. */
export interface StoredSignals {
  readonly parts: readonly StoredPart[];
  readonly blocks: readonly StoredBlock[];
}

const PARTS = `
select p.upload_id as "uploadId", p.part_no as "partNo", p.sha256, p.samples from signal_part p join signal_upload u on u.id = p.upload_id
 where u.string_id = $1 order by 1, 2`;

/** Reads it in one snapshot. */
export async function readSignals(client: Client, stringId: string): Promise<StoredSignals> {
  await client.query('begin isolation level repeatable read');
  const parts = await client.query<StoredPart>(PARTS, [stringId]);
  const blocks = await client.query<StoredBlock>(
    `select channel_id as "channelId", level, block_no::float8 as "blockNo", upload_id as "uploadId", part_no as "partNo", items, body from signal_block
      where string_id = $1 order by channel_id, level, block_no`, [stringId],
  );
  await client.query('commit');
  return { parts: parts.rows, blocks: blocks.rows };
}

/** The parts that are there, and of each whether every channel has all of its samples; blocks of no part are told as a part with none. */
export async function readParts(client: Client, stringId: string, channels: number): Promise<readonly (StoredPart & { readonly isWhole: boolean })[]> {
  const { rows } = await client.query<StoredPart & { isWhole: boolean }>(
    `with stored as (select upload_id, part_no, channel_id, sum(items) as samples from signal_block where string_id = $1 and level = 0 group by 1, 2, 3),
          by_part as (select upload_id, part_no, count(*) as channels, min(samples) as least, max(samples) as most from stored group by 1, 2),
          parts as (${PARTS})
     select coalesce(p."uploadId", b.upload_id) as "uploadId", coalesce(p."partNo", b.part_no) as "partNo", coalesce(p.sha256, '') as sha256, coalesce(p.samples, 0) as samples,
            coalesce(b.channels = $2 and b.least = p.samples and b.most = p.samples, false) as "isWhole"
       from parts p full join by_part b on b.upload_id = p."uploadId" and b.part_no = p."partNo"`, [stringId, channels],
  );
  return rows;
}
