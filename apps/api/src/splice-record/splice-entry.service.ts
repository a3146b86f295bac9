import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { malformed, Refused, together, type FieldProblem } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { AlreadyDone, claimKey, keepAnswer } from '../records/once.js';
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
  async enter(body: unknown, { actor, key }: WriteRequest): Promise<SpliceEntryAnswer> {
    const parts = partsOf(parsed(SpliceEntryInput, body));
    try {
      return await this.desk.transaction(actor, { about: parts.splice.input.stringId, mode: 'exclusive' }, async (tx) => {
        if (key !== null) await claimKey(tx, key);
        const answer = await this.entered(tx, parts);
        if (key !== null) await keepAnswer(tx, key, answer);
        return answer;
      });
    } catch (error) {
      if (error instanceof AlreadyDone) return error.body as SpliceEntryAnswer;
      const again = await this.repeated(parts);
      if (again !== null) return again;
      await this.refuseTaken(parts);
      throw error;
    }
  }

  /** The splice first, then its welds and its steps. */
  private async entered(tx: Transaction, { splice, welds, steps }: Parts): Promise<SpliceEntryAnswer> {
    const row = await named('splice', () => this.splices.createParsed(tx, splice.input, splice.id));
    const [weldRows, stepRows] = await together([
      this.welds.createTogether(tx, welds, (error, index) => ofPart(`welds[${index}]`, error)),
      this.steps.createTogether(tx, steps, (error, index) => ofPart(`steps[${index}]`, error)),
    ]);
    return {
      splice: this.splices.answer(row), welds: weldRows.map((weld) => this.welds.answer(weld)), steps: stepRows.map((step) => this.steps.answer(step)),
    };
  }

  /** The first answer to the same entry; null when the splice is not on record. Refuses with 409 what says something else of it, part by part. */
  private async repeated({ splice, welds, steps }: Parts): Promise<SpliceEntryAnswer | null> {
    const first = await named('splice', () => this.splices.repeated(splice.input, splice.id));
    if (first === null) return null;
    const weldAnswers = await Promise.all(welds.map(({ input, id }, index) => named(`welds[${index}]`, () => this.welds.repeated(input, id))));
    const stepAnswers = await Promise.all(steps.map(({ input, id }, index) => named(`steps[${index}]`, () => this.steps.repeated(input, id))));
    await this.demandSameParts({ splice, welds, steps });
    return { splice: first, welds: weldAnswers.filter((one) => one !== null), steps: stepAnswers.filter((one) => one !== null) };
  }

  /** Refuses with 409 parts that were not entered with the splice, and an entry that leaves some of them out. */
  private async demandSameParts({ splice, welds, steps }: Parts): Promise<void> {
    const entered: { id: string }[] = await this.desk.dataSource.query(
      `with first as (select request_id from splice where id = $1 and version = 1)
       select weld.id from weld, first where splice_id = $1 and version = 1 and weld.request_id = first.request_id
       union all select splice_step.id from splice_step, first where splice_id = $1 and version = 1 and splice_step.request_id = first.request_id`,
      [splice.id],
    );
    const known = new Set(entered.map(({ id }) => id));
    const sent = namedParts({ welds, steps });
    const more = sent.filter(({ id }) => !known.has(id)).map(({ field, id }) => ({ field, value: id, limit: 'a part that the splice was entered with' }));
    const fewer = [...known].filter((id) => sent.every((part) => part.id !== id)).map((id) => ({ field: 'splice.id', value: splice.id, limit: `sent again with all its parts, with ${id} too` }));
    if (more.length + fewer.length > 0) throw new Refused(409, 'id-taken', 'A splice with this id is on record, with other parts.', [...more, ...fewer]);
  }

  /** Refuses with 409 parts whose ids name something else. */
  private async refuseTaken(parts: Parts): Promise<void> {
    const [welds, steps] = await Promise.all([
      this.welds.rowsByIds(parts.welds.map(({ id }) => id), null), this.steps.rowsByIds(parts.steps.map(({ id }) => id), null),
    ]);
    const taken = namedParts(parts).filter(({ id }) => welds.has(id) || steps.has(id)).map(({ field, id }) => ({ field, value: id, limit: 'an id that names nothing else' }));
    if (taken.length > 0) throw new Refused(409, 'id-taken', 'An id of a part names something else.', taken);
  }
}

const namedParts = ({ welds, steps }: Pick<Parts, 'welds' | 'steps'>): { field: string; id: string }[] => [
  ...welds.map(({ id }, index) => ({ field: `welds[${index}].id`, id })), ...steps.map(({ id }, index) => ({ field: `steps[${index}].id`, id })),
];

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

/** What a part gives, its refusals named from the whole. */
async function named<T>(part: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw ofPart(part, error);
  }
}

/** A refusal of a part, its fields as they are named in the whole. Other errors stay what they are. */
function ofPart(part: string, error: unknown): unknown {
  if (!(error instanceof Refused)) return error;
  return new Refused(error.status, error.code, error.message, error.errors.map((one) => ({ ...one, field: `${part}.${one.field}` })), error.members);
}
