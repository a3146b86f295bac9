import { setTimeout as pause } from 'node:timers/promises';
import type { Random } from '../fixtures/signals.js';
import type { PartAnswer, PartSender } from './part-sender.js';
import type { SentPart } from './sent-parts.js';

export interface SenderCounts {
  answered: number;
  /** Requests without a whole answer. */
  cut: number;
  /** Of those, parts that were found to be there by asking. */
  foundThere: number;
  /** Parts sent again although they had been answered. */
  duplicated: number;
  /** Parts sent after one with a higher number. */
  outOfOrder: number;
  /** 503 and the like: sent again after a while. */
  put: number;
}

export const noCounts = (): SenderCounts => ({ answered: 0, cut: 0, foundThere: 0, duplicated: 0, outOfOrder: 0, put: 0 });

/** Parts with an answer of 2xx, or found there by asking, by `uploadId/partNo`. */
export type Acknowledged = Set<string>;
export const keyOf = ({ uploadId, partNo }: { readonly uploadId: string; readonly partNo: number }): string => `${uploadId}/${partNo}`;

const SHORTEST_PAUSE_MS = 20;
const LONGEST_PAUSE_MS = 200;
const AGAIN = 0.2;

/** A line computer that sends parts over a bad line, several at once, each until it knows that it is there. */
export class FlakySender {
  readonly counts = noCounts();
  private readonly highest = new Map<string, number>();
  private isStopped = false;

  constructor(
    private readonly sender: PartSender,
    private readonly acknowledged: Acknowledged,
    private readonly random: Random,
  ) {}

  /** Sends all of them in the order given, `atOnce` at a time. Throws at an answer that no part of these may get. */
  async sendAll(parts: readonly SentPart[], atOnce: number): Promise<void> {
    const queue = [...parts];
    await Promise.all(Array.from({ length: atOnce }, async () => {
      for (let part = queue.shift(); part !== undefined; part = queue.shift()) {
        this.noteOrder(part);
        await this.untilThere(part);
        if (this.random() < AGAIN) {
          this.counts.duplicated += 1;
          await this.untilThere(part);
        }
      }
    }));
  }

  /** Has it send nothing more, though it is not done. */
  stop(): void {
    this.isStopped = true;
  }

  private noteOrder({ uploadId, partNo }: SentPart): void {
    const highest = this.highest.get(uploadId) ?? 0;
    if (partNo < highest) this.counts.outOfOrder += 1;
    this.highest.set(uploadId, Math.max(highest, partNo));
  }

  private async untilThere(part: SentPart): Promise<void> {
    while (!this.isStopped) {
      const answer = await this.sender.put(part).catch(() => null);
      if (answer === null) {
        this.counts.cut += 1;
        if (this.random() < 0.5 && (await this.isThere(part))) {
          this.counts.foundThere += 1;
          return;
        }
      } else if (answer.status === 200) {
        this.demandPart(part, answer);
        this.counts.answered += 1;
        this.acknowledged.add(keyOf(part));
        return;
      } else {
        // Only what says when to come again may be answered to a part that is well.
        if (answer.status !== 503 || answer.retryAfterSeconds === null) throw new Error(`part ${part.partNo} was answered ${JSON.stringify(answer)}`);
        this.counts.put += 1;
      }
      await pause(SHORTEST_PAUSE_MS + this.random() * (LONGEST_PAUSE_MS - SHORTEST_PAUSE_MS));
    }
  }

  private demandPart({ sha256, positions, partNo }: SentPart, { body }: PartAnswer): void {
    if (body['sha256'] !== sha256 || body['samples'] !== positions.length || body['partNo'] !== partNo) throw new Error(`part ${partNo} was answered ${JSON.stringify(body)}`);
  }

  /** Whoever lost an answer may ask what is there. */
  private async isThere(part: SentPart): Promise<boolean> {
    const answer = await this.sender.json('GET', `/api/signal-uploads/${part.uploadId}`).catch(() => null);
    if (answer?.status !== 200) return false;
    const isThere = (answer.body['parts'] as { from: number; to: number }[]).some(({ from, to }) => from <= part.partNo && part.partNo <= to);
    if (isThere) this.acknowledged.add(keyOf(part));
    return isThere;
  }
}
