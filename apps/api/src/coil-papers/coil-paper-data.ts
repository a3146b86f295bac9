import { microseconds, normalInstant } from '#libs/persistence';
import { formatInstant, type CoilDecision as PrintedDecision, type CoilLine, type CoilSheetData, type CoilTagData, type CoilTagState } from '#libs/reports';
import type { DeviationPermit } from '../permits/deviation-permit.entity.js';
import { lengthText } from '../evaluation/coil-lengths.js';
import type { CoilPaper } from '../evaluation/coil-knowledge.js';
import { specificationText, type CoilEvaluation, type EvaluationUnder } from '../evaluation/evaluations.service.js';
import { digestOf } from '../records/write-request.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { CoilDecision } from '../standing/coil-decision.entity.js';
import type { CoilStanding, CoilState } from '../standing/coil-standing.js';

/** What the papers of a coil are made of. */
export interface PaperKnowledge {
  readonly found: CoilEvaluation;
  readonly decisions: readonly CoilDecision[];
  readonly generatedAt: string;
  readonly dataCutOff: string;
  readonly link: string;
  readonly nameOf: (personId: string) => string;
  readonly stringNameOf: (stringId: string) => string;
}

const NO_BREAK = '\u00a0';

const VERDICT_WORDS = {
  conforms: 'Every value asked for is reported and conforms.',
  'inside-guard-band': 'At least one value lies inside the guard band: its uncertainty leaves conformity open.',
  'not-comparable': 'At least one value cannot be compared with its limit: conformity is not shown.',
  'not-reported': 'At least one value asked for is not reported: conformity is not shown.',
  'does-not-conform': 'At least one value does not conform.',
} as const;

const ROUNDING_WORDS = {
  absolute: 'Values are compared as they are, unrounded (absolute method, ASTM E29).',
  rounding: 'Values are first rounded to the place of the limit, half to even (rounding method, ASTM E29).',
} as const;

const DECISION_WORDS = {
  'simple-acceptance': 'Simple acceptance: a value inside or on its limits conforms; its uncertainty is not counted (JCGM 106).',
  'guarded-acceptance': 'Guarded acceptance: a value conforms only inside its limits less the guard band (JCGM 106).',
  'proof-of-conformity': 'Proof of conformity: within the guard band around a limit neither is proved (ISO 14253-1).',
} as const;

const TAG_STATES: Readonly<Record<CoilState, CoilTagState>> = {
  'not-decided': 'NOT DECIDED', held: 'HOLD', accepted: 'ACCEPTED', 'accepted-under-concession': 'ACCEPTED UNDER CONCESSION',
  rejected: 'REJECTED', returned: 'RETURN',
};

/** The sheet of a coil, with a fingerprint of all of it but the times of its print. Pure. */
export function coilSheetData(knowledge: PaperKnowledge): CoilSheetData {
  const { generatedAt, dataCutOff } = knowledge;
  const content = sheetContent(knowledge);
  return { ...content, generatedAt, dataCutOff, fingerprintSha256: digestOf(content) };
}

function sheetContent({ found, decisions, link, nameOf, stringNameOf }: PaperKnowledge): Omit<CoilSheetData, 'generatedAt' | 'dataCutOff' | 'fingerprintSha256'> {
  const { evaluation, standing, hasChangedSince } = found;
  const { specification } = evaluation;
  return {
    identity: identityOf(found),
    verdict: evaluation.verdict,
    verdictText: VERDICT_WORDS[evaluation.verdict],
    lines: evaluation.lines.map(printedLine),
    checks: found.checks.map(({ severity, check, detail }) => ({ severity, what: check, detail })),
    decisions: decisions.map((decision) => printedDecision(decision, standing.decision?.id === decision.id, hasChangedSince === true)),
    permits: standing.permits.map((permit, index) => ({
      label: `Permit ${index + 1}`, reason: permit.departure, approvedBy: nameOf(permit.doneBy), approvedAt: permit.observedAt,
      limit: permit.limitText, scope: permitScope(permit, standing, stringNameOf),
    })),
    roundingText: ROUNDING_WORDS[specification.rounding],
    decisionText: decisionText(specification),
    link,
  };
}

/** Whether it still holds is a matter of the hour; when it ends, and that a decision ended it, is not. */
function permitScope({ forStringId, validUntil, enteredAt }: DeviationPermit, { decision }: CoilStanding, stringNameOf: PaperKnowledge['stringNameOf']): string {
  const scope = `For ${forStringId === null ? 'any string' : `string ${stringNameOf(forStringId)}`}, until ${formatInstant(normalInstant(validUntil))}.`;
  const isEnded = decision !== null && microseconds(enteredAt) <= microseconds(decision.knownFrom);
  return isEnded ? `${scope} Ended by the decision since.` : scope;
}

function decisionText({ decision, guardFactor }: StripSpecification): string {
  return decision === 'simple-acceptance' ? DECISION_WORDS[decision] : `${DECISION_WORDS[decision]} Guard band w = ${guardFactor}·U.`;
}

function identityOf({ knowledge, evaluation, standing, lengths }: CoilEvaluation): CoilSheetData['identity'] {
  const { coil, heat, order, papers, receipts } = knowledge;
  // Received once; where it is and what it looks like is what was said last, when it came back from the line too.
  const delivery = receipts.find(({ occasion }) => occasion === 'delivery') ?? null;
  const receipt = receipts.at(-1) ?? null;
  return {
    number: coil.number, heat: heat.number, grade: heat.grade, mill: order?.mill ?? heat.steelmaker, order: order?.number ?? null,
    specification: specificationText(evaluation.specification), certificates: papers.map(certificateText), widthMm: coil.widthMm,
    thicknessMm: coil.thicknessMm, massKg: coil.massKg, lengths: lengths.map((one) => ({ basis: one.basis, lengthText: lengthText(one) })),
    receivedAt: delivery?.observedAt ?? null, place: receipt?.place ?? null,
    condition: receipt === null ? null : receipt.damage === null ? receipt.condition : `${receipt.condition}: ${receipt.damage}`,
    version: coil.version, state: standing.state.replaceAll('-', ' '),
  };
}

const KEYING_WORDS = {
  'not-keyed': 'not keyed', 'keyed-once': 'keyed once, not verified', 'keyings-differ': 'its two keyings differ', verified: 'verified by second keying',
} as const;

function certificateText({ certificate, verification, role }: CoilPaper): string {
  const by = role === 'delivered' ? '' : `, ${role}`;
  return `${certificate.number} (${certificate.documentType}${by}), ${KEYING_WORDS[verification.state]}`;
}

function printedLine({ name, limits, printed, source, verdict, margin, unit, rule, reason }: EvaluationUnder['lines'][number]): CoilLine {
  const of = unit === '1' ? '' : `${NO_BREAK}${unit}`;
  return {
    characteristic: name, limits: kept(limits), printed: printed === null ? 'not reported' : kept(printed), verdict,
    margin: margin === null ? null : `${margin}${of}`, rule, source: source?.label ?? 'no source', reason,
  };
}

/** A value and its unit stay on one line. */
const kept = (text: string): string => text.replace(/(\d) (?=\S)/g, `$1${NO_BREAK}`);

function printedDecision(decision: CoilDecision, isStanding: boolean, hasChangedSince: boolean): PrintedDecision {
  const { statement, grounds, concessionLimit, signerName, signerRoles, knownFrom, signedBy, evaluationSha256 } = decision;
  return {
    kind: decision.decision.replaceAll('-', ' '), meaning: statement, statement: grounds, signedBy: signerName, roles: signerRoles, signedAt: knownFrom,
    method: signedBy, evaluationSha256, isStanding, isKnownOtherwise: isStanding && hasChangedSince, reason: concessionLimit === null ? null : `Limit of the concession: ${concessionLimit}`,
  };
}

/** The tag of a coil. Pure. */
export function coilTagData({ found, generatedAt, link }: Pick<PaperKnowledge, 'found' | 'generatedAt' | 'link'>): CoilTagData {
  const { knowledge, evaluation, standing, lengths } = found;
  const { coil, heat, order } = knowledge;
  const [length] = lengths;
  return {
    number: coil.number, heat: heat.number, grade: heat.grade, size: `${coil.widthMm} × ${coil.thicknessMm} mm`, mass: `${coil.massKg} kg`,
    length: length === undefined ? null : lengthText(length), order: order?.number ?? null, specification: specificationText(evaluation.specification),
    state: TAG_STATES[standing.state], stateSince: standing.decision?.knownFrom ?? null,
    isKnownOtherwise: found.hasChangedSince === true, link, printedAt: generatedAt, version: coil.version,
  };
}
