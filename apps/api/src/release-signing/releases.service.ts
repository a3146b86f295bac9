import { Injectable } from '@nestjs/common';
import { microseconds, type Actor, type NewVersion, type Transaction } from '#libs/persistence';
import type { KnownPerson } from '../access/credentials.js';
import { Signers, SIGNED_BY } from '../access/signers.js';
import { Slots } from '../access/slots.js';
import { contradictory, Refused, refusedField, type FieldProblem } from '../http/problem.js';
import { parsedWithSecrets } from '../http/secret-fields.js';
import { RELEASES } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { ReleaseRows } from '../releases/release-rows.service.js';
import type { Release, ReleaseException } from '../releases/release.entity.js';
import { SignedRecords } from '../signed-records/signed-records.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { OwnWork } from './own-work.service.js';
import { releaseStatement, type OpenForRelease } from './release-ground.js';
import { notOpen, ReleaseProposals, type Proposed } from './release-proposals.service.js';
import { ReleaseInput, type ReleaseAnswer, type ReleaseContent } from './release.dto.js';

const AT_ONCE = 2;
const MOST_WAITING = 30;

/** Releases of pipe: signed on the evidence as it stands, which is frozen with the signature. */
@Injectable()
export class ReleasesService extends SignedRecords<Release, ReleaseContent> {
  readonly kind = 'release';
  readonly entity = RELEASES.entity;
  protected readonly slots = new Slots(AT_ONCE, MOST_WAITING, 'Too many releases are being signed just now.');

  constructor(
    desk: RecordDesk,
    signers: Signers,
    private readonly strings: CasingStringsService,
    protected readonly rows: ReleaseRows,
    private readonly proposals: ReleaseProposals,
    private readonly ownWork: OwnWork,
  ) {
    super(desk, signers);
  }

  /**
   * Signs a release. Refuses with 403 when the secret is wrong, with 409 when the evidence is no longer what the signer saw, with
   * 422 when the pipe cannot be released, an item that is not shown has no reason, or own work has none. A repeat with the same id
   * has the effect of one.
   */
  async release(actor: Actor, body: unknown, sender: string): Promise<ReleaseAnswer> {
    const input = parsedWithSecrets(ReleaseInput, body, ['secret']);
    if (input.toMm <= input.fromMm) throw contradictory([{ field: 'toMm', value: input.toMm, limit: `a footage above ${input.fromMm} mm: the interval is half-open` }]);
    const signer = await this.signers.prove(actor, input.secret, sender);
    const digest = digestOf({ ...input, secret: undefined });
    return this.signedOnce({ actor, id: input.id, digest, stringId: () => Promise.resolve(input.stringId) }, async (tx) => {
      await this.strings.named(tx, 'stringId', input.stringId);
      const proposed = await this.proposals.propose(input.stringId, input);
      demandOpen(input, proposed);
      const own = await this.ownWork.of(signer.id, proposed.evidence);
      demandReason(input, own.length);
      return this.rows.append(tx, rowOf(input, { proposed, signer, digest, tx }));
    });
  }

  /** The releases of a string, withdrawn ones among them, in the order in which they became known. Refuses with 404 when there is no such string. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ReleaseAnswer[]> {
    await this.strings.row(stringId, asKnownAt);
    return (await this.rows.allOfString(stringId, asKnownAt)).map((row) => this.answer(row));
  }

  protected present(row: Release): ReleaseContent {
    const { stringId, fromMm, toMm, worst, exceptions, ownWork, ownWorkBecause, hangOffMm, grounds, statement, evidence, evidenceSha256, signerName, signerRoles, signedBy } = row;
    return {
      stringId, fromMm, toMm, worst, exceptions: exceptions.map((one) => ({ ...one })), ownWork, ownWorkBecause, hangOffMm, grounds, statement,
      evidence: JSON.parse(evidence) as unknown, evidenceSha256, signerName, signerRoles: [...signerRoles], signedAt: row.enteredAt, signedBy,
    };
  }
}

/** Refuses what is not open, a signature on something else than was seen, and items without a reason. */
function demandOpen(input: ReleaseInput, { sha256, ground }: Proposed): void {
  const because = notOpen(ground);
  if (because !== null) throw refusedField('not-open', 'toMm', input.toMm, because);
  if (input.evidenceSha256 !== sha256) {
    throw new Refused(409, 'evidence-changed', 'The evidence is no longer what was shown: look at it again.', [{ field: 'evidenceSha256', value: input.evidenceSha256, limit: sha256 }]);
  }
  const named = input.exceptions.map(({ code }) => code);
  const faults = [
    ...ground.toExcept.filter(({ code }) => !named.includes(code)).map(({ code, state, on }): FieldProblem => ({ field: 'exceptions', value: named, limit: `a reason for ${code}: ${state} on ${on.totalLengthMm} mm` })),
    ...input.exceptions.flatMap(({ code }, index): FieldProblem[] => {
      const limit = !ground.toExcept.some((open) => open.code === code) ? 'an item that is missing, suspect or provisional on this pipe' : named.indexOf(code) < index ? 'each item once' : null;
      return limit === null ? [] : [{ field: `exceptions[${index}].code`, value: code, limit }];
    }),
  ];
  if (faults.length > 0) throw contradictory(faults);
}

function demandReason({ ownWorkBecause }: ReleaseInput, own: number): void {
  if ((own > 0) === (ownWorkBecause != null)) return;
  const limit = own > 0 ? `why own work is released: ${own} records of the evidence are the signer's` : 'nothing: the evidence rests on no work of the signer';
  throw contradictory([{ field: 'ownWorkBecause', value: ownWorkBecause ?? null, limit }]);
}

interface Signing {
  readonly proposed: Proposed;
  readonly signer: KnownPerson;
  readonly digest: string;
  readonly tx: Transaction;
}

function rowOf(input: ReleaseInput, { proposed, signer, digest, tx }: Signing): NewVersion<Release> {
  const { map: { ground: { model, onTimeFrom } }, evidence, text, sha256, ground } = proposed;
  const hasHangOff = model.line.hangOffPathAt(microseconds(tx.knownAt)) !== null;
  return {
    id: input.id, digest, observedAt: tx.knownAt, enteredAt: tx.knownAt, state: 'active', doneBy: signer.id, source: 'keyed', reason: null, marks: [],
    stringId: input.stringId, fromMm: input.fromMm, toMm: input.toMm, worst: evidence.worst, exceptions: input.exceptions.map((one) => exceptionOf(one, ground.toExcept)),
    ownWork: input.ownWorkBecause != null, ownWorkBecause: input.ownWorkBecause ?? null, hangOffMm: hasHangOff ? onTimeFrom(tx.knownAt) : null, grounds: input.grounds,
    statement: releaseStatement(model.string.name, input, ground.toExcept.length), evidence: text, evidenceSha256: sha256, signerName: signer.name, signerRoles: signer.roles, signedBy: SIGNED_BY,
  } as NewVersion<Release>;
}

function exceptionOf({ code, because }: ReleaseInput['exceptions'][number], open: readonly OpenForRelease[]): ReleaseException {
  const found = open.find((one) => one.code === code);
  if (found === undefined) throw new Error(`no open item ${code}`);
  return { code, state: found.state, lengthMm: found.on.totalLengthMm, because };
}
