import { Injectable } from '@nestjs/common';
import { run, type Actor, type NewVersion, type Transaction } from '#libs/persistence';
import type { KnownPerson } from '../access/credentials.js';
import { Signers, SIGNED_BY } from '../access/signers.js';
import { Slots } from '../access/slots.js';
import { CoilsService } from '../coils/coils.service.js';
import { Evaluations, type CoilEvaluation } from '../evaluation/evaluations.service.js';
import { notFound, Refused, refusedField } from '../http/problem.js';
import { parsedWithSecrets } from '../http/secret-fields.js';
import { commonAnswer } from '../records/record-answer.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import type { CoilDecision } from '../standing/coil-decision.entity.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { CoilDecisionInput, type CoilDecisionAnswer } from './coil-decision.dto.js';

/** Each holds a connection to the database while others read for it. */
const AT_ONCE = 3;
const MOST_WAITING = 50;

/** The certificates that speak of a coil. */
const PAPERS_OF = `
select certificate_id as id from coil where id = $1 and known_until is null and certificate_id is not null
union select certificate_id from certificate_link where coil_id = $1 and known_until is null and state = 'active'`;

/** Decisions on coils: signed one after another, each with the evaluation as it stood, none ever changed. */
@Injectable()
export class CoilDecisionsService {
  private readonly slots = new Slots(AT_ONCE, MOST_WAITING, 'Too many decisions are being signed just now.');

  constructor(
    private readonly desk: RecordDesk,
    private readonly signers: Signers,
    private readonly coils: CoilsService,
    private readonly evaluations: Evaluations,
    private readonly standings: CoilStandings,
  ) {}

  /**
   * Signs a decision. Refuses with 403 when the secret is wrong (it counts as a failed sign-in), with 409 when the
   * evaluation or the standing is no longer what the signer saw, with 422 when the decision is not open. A repeat with the
   * same id has the effect of one.
   */
  async decide(actor: Actor, body: unknown, sender: string): Promise<CoilDecisionAnswer> {
    const input = parsedWithSecrets(CoilDecisionInput, body, ['secret']);
    const signer = await this.signers.prove(actor, input.secret, sender);
    const digest = digestOf({ ...input, secret: undefined });
    const first = await this.standings.decision(input.id, null);
    if (first !== null) return again(first, digest);
    try {
      return await this.slots.run(() => this.desk.transaction(actor, { about: input.coilId, mode: 'exclusive' }, async (tx) => {
        await this.holdStill(tx, input);
        const sequence = await this.nextSequence(tx, input);
        // What was known before the locks were had is in it; nothing that bears on the coil comes in before it is signed.
        const found = await this.evaluations.ofCoil(input.coilId, input.specificationId ?? null, null);
        const statement = demandOpen(input, found);
        return answerOf(await this.standings.append(tx, rowOf({ input, found, statement, signer, digest, sequence, tx })));
      }));
    } catch (error) {
      // Sent twice at once: the other one was first.
      const other = await this.standings.decision(input.id, null);
      if (other === null) throw error;
      return again(other, digest);
    }
  }

  /** One decision. Refuses with 404 when there is none. */
  async get(id: string, asKnownAt: string | null): Promise<CoilDecisionAnswer> {
    const row = await this.standings.decision(id, asKnownAt);
    if (row === null) throw notFound('coil decision', id);
    return answerOf(row);
  }

  /** The decisions on a coil, oldest first. Refuses with 404 when there is no such coil. */
  async ofCoil(coilId: string, asKnownAt: string | null): Promise<CoilDecisionAnswer[]> {
    await this.coils.row(coilId, asKnownAt);
    return (await this.standings.decisionsOn([coilId], asKnownAt)).map(answerOf);
  }

  /** Holds still what the coil is evaluated by: its papers, its order, its heat, the revision named. The coil is locked already. */
  private async holdStill(tx: Transaction, { coilId, specificationId }: CoilDecisionInput): Promise<void> {
    const { heatId, orderId } = await this.coils.named(tx, 'coilId', coilId);
    const { rows } = await run<{ id: string }>(tx.manager, PAPERS_OF, [coilId]);
    const ids = [...new Set([...rows.map(({ id }) => id), heatId, orderId ?? heatId, specificationId ?? heatId])].sort();
    for (const id of ids) await run(tx.manager, 'select pg_advisory_xact_lock(hashtextextended($1::text, 0))', [id]);
    // A file being imported holds the papers it adds a keying to, without these locks.
    await run(tx.manager, 'select 1 from certificate where version = 1 and id = any($1::uuid[]) for share', [ids]);
  }

  /** The signer must have seen the last decision on the coil. */
  private async nextSequence(tx: Transaction, { coilId, follows }: CoilDecisionInput): Promise<number> {
    const { rows } = await run<{ count: string }>(tx.manager, 'select count(*) from coil_decision where coil_id = $1', [coilId]);
    const count = Number(rows[0]?.count ?? 0);
    if (count === follows) return count + 1;
    throw new Refused(409, 'decided-meanwhile', 'Another decision was signed on this coil: look at it first.', [
      { field: 'follows', value: follows, limit: String(count) },
    ]);
  }
}

/** The sentence to sign. Refuses what is not open, and a signature on something else than was seen. */
function demandOpen(input: CoilDecisionInput, { evaluation, snapshot, meanings }: CoilEvaluation): string {
  if (input.evaluationSha256 !== snapshot.sha256) {
    throw new Refused(409, 'evaluation-changed', 'The evaluation is no longer the one that was shown: look at it again.', [
      { field: 'evaluationSha256', value: input.evaluationSha256, limit: snapshot.sha256 },
    ]);
  }
  if (evaluation.specification.state === 'void') {
    throw refusedField('unknown-reference', 'specificationId', evaluation.specification.id, 'a specification revision that is not void');
  }
  const meaning = meanings.find(({ decision }) => decision === input.decision);
  if (meaning === undefined) throw new Error(`no meaning of ${input.decision}`);
  if (meaning.notOpenBecause !== null) throw refusedField('not-open', 'decision', input.decision, meaning.notOpenBecause);
  const isConcession = input.decision === 'accept-under-concession';
  if (isConcession !== (input.concessionLimit != null)) {
    const limit = isConcession ? 'the limit of the concession' : 'only for accept-under-concession';
    throw refusedField('contradiction', 'concessionLimit', input.concessionLimit ?? null, limit);
  }
  return meaning.statement;
}

interface Signing {
  readonly input: CoilDecisionInput;
  readonly found: CoilEvaluation;
  readonly statement: string;
  readonly signer: KnownPerson;
  readonly digest: string;
  readonly sequence: number;
  readonly tx: Transaction;
}

function rowOf({ input, found, statement, signer, digest, sequence, tx }: Signing): NewVersion<CoilDecision> {
  return {
    id: input.id, digest, observedAt: tx.knownAt, enteredAt: tx.knownAt, state: 'active', doneBy: signer.id, source: 'keyed', reason: null, marks: [],
    coilId: input.coilId, sequence, decision: input.decision, specificationId: found.evaluation.specification.id,
    verdict: found.evaluation.verdict, statement, grounds: input.grounds, concessionLimit: input.concessionLimit ?? null,
    evaluation: found.snapshot.text, evaluationSha256: found.snapshot.sha256, signerName: signer.name, signerRoles: signer.roles,
    signedBy: SIGNED_BY,
  } as NewVersion<CoilDecision>;
}

function again(first: CoilDecision, digest: string): CoilDecisionAnswer {
  if (first.digest === digest) return answerOf(first);
  throw new Refused(409, 'id-taken', 'This id names another decision.', [{ field: 'id', value: first.id, limit: 'a new id for a new decision' }]);
}

function answerOf(row: CoilDecision): CoilDecisionAnswer {
  const { coilId, sequence, decision, specificationId, verdict, statement, grounds, concessionLimit, evaluationSha256 } = row;
  return Object.assign(commonAnswer(row), {
    coilId, sequence, decision, specificationId, verdict, statement, grounds, concessionLimit, evaluationSha256,
    evaluation: JSON.parse(row.evaluation) as unknown, signerName: row.signerName, signerRoles: [...row.signerRoles],
    signedAt: row.knownFrom, signedBy: row.signedBy,
  });
}
