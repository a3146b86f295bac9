import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { malformed, Refused, type FieldProblem } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { RecordDesk } from '../records/record-desk.js';
import type { WriteRequest } from '../records/write-request.js';
import { SpliceStepInput } from '../splice-steps/splice-step.dto.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import type { SpliceInput } from '../splices/splice.dto.js';
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
    const parts = partsOf(parsed(SpliceEntryInput, body));
    try {
      return await this.desk.transaction(actor, { about: parts.splice.input.stringId, mode: 'exclusive' }, (tx) => this.entered(tx, parts));
    } catch (error) {
      const again = await this.repeated(parts);
      if (again === null) throw error;
      return again;
    }
  }

  /** The splice first, then its welds and its steps. */
  private async entered(tx: Transaction, { splice, welds, steps }: Parts): Promise<SpliceEntryAnswer> {
    const row = await this.splices.createParsed(tx, splice.input, splice.id).catch((error: unknown) => { throw named('splice', error); });
    const weldRows = await this.welds.createTogether(tx, welds, (error, index) => named(`welds[${index}]`, error));
    const stepRows = await this.steps.createTogether(tx, steps, (error, index) => named(`steps[${index}]`, error));
    return {
      splice: this.splices.answer(row), welds: weldRows.map((weld) => this.welds.answer(weld)), steps: stepRows.map((step) => this.steps.answer(step)),
    };
  }

  /** The first answer to the same entry; null when the splice is not on record, or was entered with other parts. */
  private async repeated({ splice, welds, steps }: Parts): Promise<SpliceEntryAnswer | null> {
    const first = await this.splices.repeated(splice.input, splice.id).catch((error: unknown) => { throw named('splice', error); });
    if (first === null) return null;
    const weldAnswers = await Promise.all(welds.map(({ input, id }) => this.welds.repeated(input, id)));
    const stepAnswers = await Promise.all(steps.map(({ input, id }) => this.steps.repeated(input, id)));
    const [knownWelds, knownSteps] = [weldAnswers.filter((one) => one !== null), stepAnswers.filter((one) => one !== null)];
    if (knownWelds.length < welds.length || knownSteps.length < steps.length) {
      throw new Refused(409, 'id-taken', 'A splice with this id is on record, with other parts.', [{ field: 'splice.id', value: splice.id, limit: 'the parts it was entered with' }]);
    }
    return { splice: first, welds: knownWelds, steps: knownSteps };
  }
}

/** What is entered, each with its id. */
interface Part<I> {
  readonly input: I;
  readonly id: string;
}

interface Parts {
  readonly splice: Part<SpliceInput>;
  readonly welds: readonly Part<WeldInput>[];
  readonly steps: readonly Part<SpliceStepInput>[];
}

function partsOf(input: SpliceEntryInput): Parts {
  const spliceId = demandIds(input);
  const { splice, welds, steps } = input;
  const of = { stringId: splice.stringId, spliceId };
  return {
    splice: { input: splice, id: spliceId },
    welds: welds.map((weld) => ({ input: Object.assign(new WeldInput(), weld, of), id: weld.id ?? '' })),
    steps: steps.map((step) => ({ input: Object.assign(new SpliceStepInput(), step, of), id: step.id ?? '' })),
  };
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

/** A refusal of a part, its fields as they are named in the whole. Other errors stay what they are. */
function named(part: string, error: unknown): unknown {
  if (!(error instanceof Refused)) return error;
  return new Refused(error.status, error.code, error.message, error.errors.map((one) => ({ ...one, field: `${part}.${one.field}` })), error.members);
}
