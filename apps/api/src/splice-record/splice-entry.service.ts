import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { malformed, Refused, type FieldProblem } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { AlreadyDone, claimKey, keepAnswer, keptAnswer } from '../records/once.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf, type WriteRequest } from '../records/write-request.js';
import { SpliceStepInput } from '../splice-steps/splice-step.dto.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { WeldInput } from '../welds/weld.dto.js';
import { WeldsService } from '../welds/welds.service.js';
import { SpliceEntryInput, type SpliceEntryAnswer } from './splice-entry.dto.js';

/** Enters a splice with all that belongs to it in one request: all of it, or nothing. */
@Injectable()
export class SpliceEntry {
  constructor(
    private readonly desk: RecordDesk,
    private readonly splices: SplicesService,
    private readonly welds: WeldsService,
    private readonly steps: SpliceStepsService,
  ) {}

  /** A repeat with the same ids has the effect of one. Refuses as the entry of each part does, its fields named from the whole. */
  async enter(body: unknown, { actor }: WriteRequest): Promise<SpliceEntryAnswer> {
    const input = parsed(SpliceEntryInput, body);
    const spliceId = demandIds(input);
    const key = { text: `splice-entry ${spliceId}`, fingerprint: digestOf(withoutConfirmations(input)) };
    const kept = await keptAnswer(this.desk.dataSource.manager, actor.personId, key);
    if (kept !== null) return kept as SpliceEntryAnswer;
    try {
      return await this.desk.transaction(actor, { about: input.splice.stringId, mode: 'exclusive' }, async (tx) => {
        await claimKey(tx, key);
        const answer = await this.entered(tx, input, spliceId);
        await keepAnswer(tx, key, answer);
        return answer;
      });
    } catch (error) {
      if (error instanceof AlreadyDone) return error.body as SpliceEntryAnswer;
      throw error;
    }
  }

  /** The splice first, then its welds and its steps. */
  private async entered(tx: Transaction, { splice, welds, steps }: SpliceEntryInput, spliceId: string): Promise<SpliceEntryAnswer> {
    const of = { stringId: splice.stringId, spliceId };
    const row = await this.splices.createParsed(tx, splice, spliceId).catch((error: unknown) => { throw named('splice', error); });
    const weldRows = await this.welds.createTogether(
      tx, welds.map((weld) => ({ input: Object.assign(new WeldInput(), weld, of), id: weld.id ?? '' })), (error, index) => named(`welds[${index}]`, error));
    const stepRows = await this.steps.createTogether(
      tx, steps.map((step) => ({ input: Object.assign(new SpliceStepInput(), step, of), id: step.id ?? '' })), (error, index) => named(`steps[${index}]`, error));
    return {
      splice: this.splices.answer(row), welds: weldRows.map((weld) => this.welds.answer(weld)), steps: stepRows.map((step) => this.steps.answer(step)),
    };
  }
}

/** Refuses parts without an id, and one id for two of them. Gives that of the splice. */
function demandIds({ splice, welds, steps }: SpliceEntryInput): string {
  const parts = [{ field: 'splice.id', id: splice.id }, ...welds.map(({ id }, index) => ({ field: `welds[${index}].id`, id })), ...steps.map(({ id }, index) => ({ field: `steps[${index}].id`, id }))];
  const faults = parts.flatMap(({ field, id }, index): FieldProblem[] => {
    const isTaken = parts.findIndex((part) => part.id === id) !== index;
    return id === undefined || isTaken ? [{ field, value: id ?? null, limit: 'an id that no other part has, so that a repeat does no harm' }] : [];
  });
  if (faults.length > 0) throw malformed(faults);
  return splice.id ?? '';
}

/** A retry may lack what the first request confirmed. */
function withoutConfirmations({ splice, welds, steps }: SpliceEntryInput): object {
  const bare = (part: object): object => ({ ...part, confirm: undefined });
  return { splice: bare(splice), welds: welds.map(bare), steps: steps.map(bare) };
}

/** A refusal of a part, its fields as they are named in the whole. Other errors stay what they are. */
function named(part: string, error: unknown): unknown {
  if (!(error instanceof Refused)) return error;
  return new Refused(error.status, error.code, error.message, error.errors.map((one) => ({ ...one, field: `${part}.${one.field}` })), error.members);
}
