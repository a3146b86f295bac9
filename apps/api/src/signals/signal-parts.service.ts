import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { PartError } from '#libs/sample-files';
import { instantFromDatabase, instantOf, microseconds, run, sqlStateOf, type Transaction } from '#libs/persistence';
import { Slots } from '../access/slots.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { Refused, type FieldProblem } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import type { WriteRequest } from '../records/write-request.js';
import { freeNow } from '../threads/free-now.js';
import { ByteBudget } from './byte-budget.js';
import type { PackedPart } from './packed-part.js';
import { demandedBytes, MOST_PART_BYTES, partBody } from './part-body.js';
import { PartPacker } from './part-packer.js';
import type { PartQuestion } from './part-question.js';
import { SignalBlocks } from './signal-blocks.js';
import { SignalDetachments } from './signal-detachments.service.js';
import type { PartNotices, SignalPartTaken } from './signal-upload.dto.js';
import { keptBy, lockedOut, type UploadShape } from './signal-uploads.service.js';

/** A part as the request brings it. */
export interface PartOrder extends PartQuestion {
  readonly shape: UploadShape;
  readonly partNo: number;
  /** As the request declares it; absent where it comes in chunks. */
  readonly contentLength: string | undefined;
}

interface PartRow {
  sha256: string;
  samples: number;
  narrowed: number;
  direction: 'forward' | 'backward';
  from_us: string;
  to_us: string;
  known_from: string;
}

/** Bytes of parts that are in memory at once, as they are sent: being read, or waiting to be worked on. Others wait in the network. */
const READ_AT_ONCE_BYTES = 2 * MOST_PART_BYTES;
/** What a small part counts as, so that there are only so many. */
const LEAST_SHARE_BYTES = MOST_PART_BYTES / 32;
/** Parts unpacked at once: one is packed while the other is stored. */
const WORKED_AT_ONCE = 2;
const MOST_WAITING = 60;
/** Shorter than the time that a connection may stand still. */
const PATIENCE_MS = 20_000;
const BUSY = 'Too many parts are being taken just now.';
const ENDED = 'EM014';

/** Takes parts of uploads: each is read whole, packed, and stored in one transaction; sent again it is there once. */
@Injectable()
export class SignalParts {
  private readonly reading = new ByteBudget(READ_AT_ONCE_BYTES, MOST_WAITING, PATIENCE_MS, BUSY);
  private readonly working = new Slots(WORKED_AT_ONCE, READ_AT_ONCE_BYTES / LEAST_SHARE_BYTES, BUSY);
  /** One after another, since parts of one channel would wait for each other while they hold a connection. */
  private readonly storing = new Slots(1, WORKED_AT_ONCE, BUSY);

  constructor(
    private readonly desk: RecordDesk,
    private readonly runs: InspectionRunsService,
    private readonly packer: PartPacker,
    private readonly blocks: SignalBlocks,
    private readonly detachments: SignalDetachments,
  ) {}

  /**
   * Takes a part. The same bytes under the same number and with the same times are the same part. Refuses with 409 other content under a number, a part of an upload that has ended, or a
   * new part while the string's samples are kept outside.
   */
  async take(body: Readable, order: PartOrder, request: WriteRequest): Promise<SignalPartTaken> {
    const mostBytes = demandedBytes(order.contentLength);
    return this.reading.run(Math.max(mostBytes, LEAST_SHARE_BYTES), async () => {
      const bytes = await partBody(body, order.sha256, mostBytes);
      const here = await this.find(order);
      if (here !== null) return this.again(here, order, false);
      return this.working.run(() => this.enter(bytes, order, request));
    });
  }

  private async enter(bytes: Uint8Array<ArrayBuffer>, order: PartOrder, request: WriteRequest): Promise<SignalPartTaken> {
    const sizeBytes = bytes.length;
    const packed = await this.packed(bytes, order);
    const time = timeOf(packed, order);
    const isNew = await this.storing.run(() => this.store(packed, { ...order, time, sizeBytes }, request));
    freeNow([packed.bodies, packed.cells]);
    const row = await this.find(order);
    if (row === null) throw new Error(`part ${order.partNo} was stored and is not there`);
    return this.again(row, order, isNew);
  }

  private async packed(bytes: Uint8Array<ArrayBuffer>, { shape, format, encoding, direction }: PartOrder): Promise<PackedPart> {
    const { position, columns } = shape;
    // Time goes on also where the pipe goes back.
    const order = position.kind === 'time' ? 'forward' as const : direction;
    try {
      return await this.packer.pack({ bytes, shape: { format, encoding, position, columns, direction: order } });
    } catch (error) {
      throw faultOfPart(error) ?? error;
    }
  }

  private async store(packed: PackedPart, order: TimedOrder, request: WriteRequest): Promise<boolean> {
    const { upload } = order.shape;
    const channelIds = upload.columns.map(({ channelId }) => channelId);
    const locks = [
      { about: upload.stringId, mode: 'shared' as const }, { about: upload.id, mode: 'shared' as const },
      ...channelIds.map((about) => ({ about, mode: 'exclusive' as const })),
    ];
    const { fromUs, toUs } = order.time;
    try {
      const committed = await this.desk.transaction(request.actor, locks, async (tx) => {
        if (!(await insertPart(tx, packed, order))) return null;
        // Under the string's lock, which samples that leave or come back take alone.
        await this.detachments.refuse(upload.stringId, tx.manager);
        return this.blocks.append(tx, {
          stringId: upload.stringId, runId: upload.runId, uploadId: upload.id, partNo: order.partNo, channelIds, fromUs, toUs, isTimed: upload.position === 'time',
        }, packed);
      });
      committed?.();
      return committed !== null;
    } catch (error) {
      if (sqlStateOf(error) !== ENDED) throw lockedOut(error) ?? error;
      // The same part may have come in, and the upload have ended, while this one was on its way.
      if ((await this.find(order)) !== null) return false;
      throw new Refused(409, 'ended', 'The upload has ended: no part comes after that.', [{ field: 'partNo', value: order.partNo, limit: 'a part of a new upload' }]);
    }
  }

  private async find({ shape, partNo }: PartOrder): Promise<PartRow | null> {
    const { rows } = await run<PartRow>(
      this.desk.dataSource.manager,
      'select sha256, samples, narrowed, direction, from_us, to_us, known_from from signal_part where upload_id = $1 and part_no = $2', [shape.upload.id, partNo],
    );
    return rows[0] ?? null;
  }

  /** A part that is here, as what the request brings; refuses (409) when that is something else. */
  private async again(row: PartRow, order: PartOrder, isNew: boolean): Promise<SignalPartTaken> {
    const { upload } = order.shape;
    const [fromUs, toUs] = [Number(row.from_us), Number(row.to_us)];
    const differing: FieldProblem[] = [
      ...(row.sha256 === order.sha256 ? [] : [{ field: 'Content-Digest', value: order.sha256, limit: row.sha256 }]),
      ...(row.direction === order.direction ? [] : [{ field: 'direction', value: order.direction, limit: row.direction }]),
      ...(order.time === null || order.time.fromUs === fromUs ? [] : [{ field: 'firstAt', value: instantOf(order.time.fromUs), limit: instantOf(fromUs) }]),
      ...(order.time === null || order.time.toUs === toUs ? [] : [{ field: 'lastAt', value: instantOf(order.time.toUs), limit: instantOf(toUs) }]),
    ];
    if (differing.length > 0) throw new Refused(409, 'other-content', `Part ${order.partNo} is here with another content, or another time.`, differing);
    const { sha256, samples, narrowed, direction } = row;
    const recordedAt = instantFromDatabase(row.known_from);
    return {
      isNew, uploadId: upload.id, partNo: order.partNo, sha256, samples, narrowed, direction, firstAt: instantOf(fromUs), lastAt: instantOf(toUs), recordedAt,
      notices: await this.notices(upload.runId, fromUs, toUs, microseconds(recordedAt)),
    };
  }

  private async notices(runId: string, fromUs: number, toUs: number, recordedUs: number): Promise<PartNotices> {
    const { observedAt, endedAt } = await this.runs.row(runId, null);
    return { outsideRun: fromUs < microseconds(observedAt) || (endedAt !== null && toUs > microseconds(endedAt)), inFuture: toUs > recordedUs };
  }
}

interface TimedOrder extends PartOrder {
  readonly time: { readonly fromUs: number; readonly toUs: number };
  readonly sizeBytes: number;
}

/** When a part was read: as it is said, or as its samples say themselves. */
function timeOf({ firstPosition, lastPosition }: PackedPart, { time }: PartOrder): TimedOrder['time'] {
  return time ?? { fromUs: Math.min(firstPosition, lastPosition), toUs: Math.max(firstPosition, lastPosition) };
}

/** Enters the part; false when one with its number is there. */
async function insertPart(tx: Transaction, { samples, narrowed }: PackedPart, { shape, partNo, sha256, direction, time, sizeBytes }: TimedOrder): Promise<boolean> {
  const { count } = await run(
    tx.manager,
    `insert into signal_part (upload_id, part_no, sha256, size_bytes, samples, narrowed, direction, from_us, to_us, known_from, keyed_by, device_id, request_id)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13) on conflict do nothing`,
    [shape.upload.id, partNo, sha256, sizeBytes, samples, narrowed, direction, time.fromUs, time.toUs, ...keptBy(tx)],
  );
  return count > 0;
}

/** What is wrong with a part as a refusal; null for other errors. It comes from another thread, where it was a PartError. */
function faultOfPart(error: unknown): Refused | null {
  if (!(error instanceof Error) || error.name !== PartError.name || error instanceof Refused) return null;
  const { code, field, row, line, value, limit } = error as PartError;
  const where = line === null ? row === null ? '' : `, sample ${row}` : `, line ${line}`;
  const status = code === 'too-large' || code === 'too-many-rows' ? 413 : code === 'encoding-unavailable' || code === 'unsupported' ? 415 : 422;
  return new Refused(status, `part-${code}`, error.message, [{ field: `${field === null || field === '' ? 'body' : field}${where}`, value, limit: limit ?? error.message }]);
}
