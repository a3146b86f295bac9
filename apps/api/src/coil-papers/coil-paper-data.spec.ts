import { describe, expect, test } from '@jest/globals';
import { VERDICTS, type Verdict } from '#libs/conformity';
import { COIL_TAG_STATES, COIL_VERDICTS, coilSheet, coilTag, type CoilSheetData, type CoilTagData } from '#libs/reports';
import { coilKnowledge, coilPaper, coilRow, certificateRow, heatRow, keying, paperLine, printed, receiptRow, specificationRow } from '../evaluation/coil-knowledge.factory.js';
import type { CoilKnowledge } from '../evaluation/coil-knowledge.js';
import { coilLengths } from '../evaluation/coil-lengths.js';
import { warning } from '../evaluation/cross-check.js';
import { documentLine } from '../evaluation/document-line.js';
import { snapshotOf } from '../evaluation/evaluation-snapshot.js';
import type { CoilEvaluation } from '../evaluation/evaluations.service.js';
import { DeviationPermit } from '../permits/deviation-permit.entity.js';
import { CoilDecision } from '../standing/coil-decision.entity.js';
import { COIL_STATES, type CoilStanding, type CoilState } from '../standing/coil-standing.js';
import { coilSheetData, coilTagData, type PaperKnowledge } from './coil-paper-data.js';

const NOTHING: CoilStanding = { state: 'not-decided', decision: null, permits: [], validPermits: [], isUsable: false };

interface Changes {
  readonly knowledge?: Partial<CoilKnowledge>;
  readonly evaluation?: Partial<CoilEvaluation['evaluation']>;
  readonly standing?: Partial<CoilStanding>;
  readonly hasChangedSince?: boolean;
  readonly paper?: Partial<Omit<PaperKnowledge, 'found'>>;
}

function paper(changes: Changes = {}): PaperKnowledge {
  const knowledge = coilKnowledge(changes.knowledge);
  const specification = specificationRow();
  const evaluation = { specification, verdict: 'conforms' as const, lines: [documentLine(specification, knowledge.papers, knowledge.heat.number)], ...changes.evaluation };
  const checks = [warning('mass', 'weighed here: 3300 kg; on record are 3200 kg')];
  const found: CoilEvaluation = {
    knowledge, evaluation, checks, values: [], underOther: null, lengths: coilLengths(knowledge), standing: { ...NOTHING, ...changes.standing },
    snapshot: snapshotOf(knowledge, specification, evaluation, checks), meanings: [], hasChangedSince: changes.hasChangedSince ?? null,
  };
  return {
    found, decisions: [], generatedAt: '2026-03-01T08:00:00Z', dataCutOff: '2026-02-18T09:00:00.000000Z', link: 'https://records.example/api/coils/coil', nameOf: (id) => `name of ${id}`, stringNameOf: (id) => `S-${id}`, ...changes.paper,
  };
}

const sheet = (changes: Changes = {}): CoilSheetData => coilSheetData(paper(changes));
const tag = (changes: Changes = {}): CoilTagData => coilTagData(paper(changes));

const line = (changes: Partial<CoilEvaluation['evaluation']['lines'][number]>): CoilEvaluation['evaluation']['lines'][number] => ({ ...documentLine({ documentType: '3.1' }, [coilPaper()], 'H40711'), ...changes });
const printedLine = (changes: Parameters<typeof line>[0]): CoilSheetData['lines'][number] | undefined => sheet({ evaluation: { lines: [line(changes)] } }).lines[0];

function decision(sequence: number, changes: Partial<CoilDecision> = {}): CoilDecision {
  return Object.assign(new CoilDecision(), {
    id: `decision ${sequence}`, sequence, decision: 'accept-under-concession', statement: 'I have examined it.', grounds: 'Width short at the tail.', concessionLimit: 'Above 400 m', signerName: 'M. Engineer',
    signerRoles: ['materials-engineer'], knownFrom: '2026-02-20T10:00:00.000000Z', signedBy: 'secret entered again', evaluationSha256: 'f'.repeat(64), ...changes,
  });
}

describe('a value and its unit', () => {
  test('stay on one line, in limits, value and margin', () => {
    expect(printedLine({ limits: '480 to 620 MPa', printed: '531 MPa', margin: '51', unit: 'MPa' })).toMatchObject({ limits: '480\u00a0to 620\u00a0MPa', printed: '531\u00a0MPa', margin: '51\u00a0MPa' });
    expect(printedLine({ limits: 'at most 0.12 %', printed: '4 %, printed ×1000 (U 0.5)' })).toMatchObject({ limits: 'at most 0.12\u00a0%', printed: '4\u00a0%, printed ×1000\u00a0(U 0.5)' });
  });

  test('a plain ratio has none, and what was not reported says so', () => {
    expect(printedLine({ unit: '1', margin: '0.05', printed: '0.84' })).toMatchObject({ margin: '0.05', printed: '0.84' });
    expect(printedLine({ printed: null, source: null, margin: null })).toMatchObject({ printed: 'not reported', source: 'no source', margin: null });
  });
});

describe('words', () => {
  test.each(VERDICTS)('of the verdict %s', (verdict: Verdict) => {
    const { verdict: said, verdictText } = sheet({ evaluation: { verdict } });
    expect(said).toBe(verdict);
    expect(verdictText).toMatch(verdict === 'conforms' ? /^Every value asked for is reported and conforms\.$/ : /^At least one value .*\.$/);
  });

  test('differ from verdict to verdict, and the sheet knows each of them', () => {
    expect(new Set(VERDICTS.map((verdict) => sheet({ evaluation: { verdict } }).verdictText)).size).toBe(VERDICTS.length);
    expect([...COIL_VERDICTS]).toEqual([...VERDICTS]);
  });

  test.each<[CoilState, string, string]>([
    ['not-decided', 'not decided', 'NOT DECIDED'], ['held', 'held', 'HOLD'], ['accepted', 'accepted', 'ACCEPTED'], ['accepted-under-concession', 'accepted under concession', 'ACCEPTED UNDER CONCESSION'],
    ['rejected', 'rejected', 'REJECTED'], ['returned', 'returned', 'RETURN'],
  ])('of the state %s', (state, onSheet, onTag) => {
    expect(sheet({ standing: { state } }).identity.state).toBe(onSheet);
    expect(tag({ standing: { state } }).state).toBe(onTag);
  });

  test('are on the tag for every state, each its own', () => {
    expect(new Set(COIL_STATES.map((state) => tag({ standing: { state } }).state))).toEqual(new Set(COIL_TAG_STATES));
  });

  test.each([
    ['absolute', /as they are, unrounded/], ['rounding', /first rounded to the place of the limit/],
  ] as const)('of the rounding %s', (rounding, words) => {
    expect(sheet({ evaluation: { specification: specificationRow({ rounding }) } }).roundingText).toMatch(words);
  });

  test.each([
    ['simple-acceptance', /^Simple acceptance: .*JCGM 106\)\.$/], ['guarded-acceptance', /^Guarded acceptance: .* Guard band w = 0\.8·U\.$/], ['proof-of-conformity', /^Proof of conformity: .*ISO 14253-1\)\. Guard band w = 0\.8·U\.$/],
  ] as const)('of the decision rule %s', (rule, words) => {
    expect(sheet({ evaluation: { specification: specificationRow({ decision: rule, guardFactor: '0.8' }) } }).decisionText).toMatch(words);
  });

  test('of every certificate, with its type, whose it is and how it was keyed', () => {
    const other = (number: string, keyings: ReturnType<typeof keying>[], role: 'mill' | 'slitter' | 'retest'): ReturnType<typeof coilPaper> => coilPaper([], { certificate: certificateRow({ number, documentType: '3.2' }), keyings, role });
    const differing = [keying([paperLine()]), keying([paperLine({ values: [printed({ printed: '0.058' })] })], { keying: 2 })];
    expect(sheet({ knowledge: { papers: [coilPaper(), other('M-1', [], 'mill'), other('S-1', [keying([paperLine()])], 'slitter'), other('R-1', differing, 'retest')] } }).identity.certificates).toEqual([
      'TS-1 (3.1), verified by second keying', 'M-1 (3.2, mill), not keyed', 'S-1 (3.2, slitter), keyed once, not verified', 'R-1 (3.2, retest), its two keyings differ',
    ]);
  });
});

describe('the sheet', () => {
  test('says whose coil it is, with its lengths', () => {
    expect(sheet().identity).toEqual({
      number: 'LM-02', heat: 'H40711', grade: 'S420MC', mill: 'Tarnwick Steelworks', order: 'PO-1187', specification: 'STS-12 revision 4', certificates: ['TS-1 (3.1), verified by second keying'], widthMm: '383.0',
      thicknessMm: '5.01', massKg: '3200', lengths: [{ basis: 'mass, width and thickness', lengthText: '212.4 m ± 4.4 m' }], receivedAt: '2026-02-18T09:00:00.000000Z', place: 'Bay 2', condition: 'sound', version: 1, state: 'not decided',
    });
  });

  test('of a coil without order takes the mill from its heat, and has nothing where nothing is known', () => {
    expect(sheet({ knowledge: { order: null, heat: heatRow({ steelmaker: 'Brannock Melt Shop' }), receipts: [] } }).identity)
      .toMatchObject({ mill: 'Brannock Melt Shop', order: null, receivedAt: null, place: null, condition: null });
    expect(sheet({ knowledge: { order: null } }).identity.mill).toBeNull();
  });

  test('of a coil back from the line says where it is now, and when it was delivered', () => {
    const back = receiptRow({ occasion: 'back-from-line', observedAt: '2026-03-02T18:00:00.000000Z', place: 'Bay 3', condition: 'unbanded', damage: 'Bands cut.' });
    expect(sheet({ knowledge: { receipts: [receiptRow(), back] } }).identity).toMatchObject({ receivedAt: '2026-02-18T09:00:00.000000Z', place: 'Bay 3', condition: 'unbanded: Bands cut.' });
    expect(sheet({ knowledge: { receipts: [back] } }).identity).toMatchObject({ receivedAt: null, place: 'Bay 3' });
  });

  test('lists decisions with their limit and the one that stands, and checks', () => {
    const [first, last] = [decision(1), decision(2, { decision: 'hold', concessionLimit: null })];
    const { decisions, checks } = sheet({ standing: { state: 'held', decision: last }, paper: { decisions: [first, last] } });
    expect(decisions.map(({ kind, isStanding, reason, statement, meaning }) => [kind, isStanding, reason, statement, meaning])).toEqual([
      ['accept under concession', false, 'Limit of the concession: Above 400 m', 'Width short at the tail.', 'I have examined it.'], ['hold', true, null, 'Width short at the tail.', 'I have examined it.'],
    ]);
    expect(checks).toEqual([{ severity: 'warning', what: 'mass', detail: 'weighed here: 3300 kg; on record are 3200 kg' }]);
  });

  test.each([[true, [false, true]], [false, [false, false]]])('says of the decision that stands alone that more is known since: %s', (hasChangedSince, isKnownOtherwise) => {
    const [first, last] = [decision(1), decision(2)];
    const standing = { state: 'accepted-under-concession', decision: last } as const;
    expect(sheet({ standing, hasChangedSince, paper: { decisions: [first, last] } }).decisions.map((one) => one.isKnownOtherwise)).toEqual(isKnownOtherwise);
    expect(tag({ standing, hasChangedSince }).isKnownOtherwise).toBe(hasChangedSince);
  });

  test('lists permits with who gave them, for what, until when, and whether a decision ended them', () => {
    const permit = (changes: Partial<DeviationPermit>): DeviationPermit => Object.assign(new DeviationPermit(), {
      departure: 'Thin head.', limitText: 'Above 100 m', doneBy: 'person', observedAt: '2026-02-19T08:00:00.000000Z', validUntil: '2026-03-03T00:00:00Z', forStringId: null, enteredAt: '2026-02-19T08:00:00.000000Z', ...changes,
    });
    const { permits } = sheet({ standing: { decision: decision(1), permits: [permit({}), permit({ forStringId: '1', enteredAt: '2026-02-20T10:00:00.000001Z' })] } });
    expect(permits).toMatchObject([
      { label: 'Permit 1', reason: 'Thin head.', approvedBy: 'name of person', approvedAt: '2026-02-19T08:00:00.000000Z', limit: 'Above 100 m', scope: expect.stringMatching(/^For any string, until 2026-03-03.* Ended by the decision since\.$/) },
      { label: 'Permit 2', scope: expect.stringMatching(/^For string S-1, until 2026-03-03[^.]*\.$/) },
    ]);
  });

  test('has a fingerprint of all of it but the times of its print', () => {
    const { fingerprintSha256 } = sheet();
    expect(fingerprintSha256).toMatch(/^[0-9a-f]{64}$/);
    const later = { generatedAt: '2027-01-01T00:00:00Z', dataCutOff: '2026-12-31T00:00:00.000000Z' };
    expect(sheet({ paper: later })).toMatchObject({ fingerprintSha256, ...later });
    const others: Changes[] = [
      { knowledge: { coil: coilRow({ massKg: '3201' }) } }, { evaluation: { verdict: 'not-reported' } }, { standing: { state: 'held' } }, { paper: { decisions: [decision(1)] } },
      { paper: { link: 'https://records.example/api/coils/other' } },
    ];
    expect(new Set([fingerprintSha256, ...others.map((other) => sheet(other).fingerprintSha256)]).size).toBe(others.length + 1);
  });
});

describe('the tag', () => {
  test('says what a person at the coil needs', () => {
    const last = decision(1);
    expect(tag({ standing: { state: 'accepted-under-concession', decision: last } })).toEqual({
      number: 'LM-02', heat: 'H40711', grade: 'S420MC', size: '383.0 × 5.01 mm', mass: '3200 kg', length: '212.4 m ± 4.4 m', order: 'PO-1187', specification: 'STS-12 revision 4',
      state: 'ACCEPTED UNDER CONCESSION', stateSince: '2026-02-20T10:00:00.000000Z', isKnownOtherwise: false, link: 'https://records.example/api/coils/coil', printedAt: '2026-03-01T08:00:00Z', version: 1,
    });
  });

  test('before a decision has no time of it', () => {
    expect(tag({ knowledge: { order: null } })).toMatchObject({ state: 'NOT DECIDED', stateSince: null, order: null });
  });
});

test('both can be drawn', () => {
  expect(() => coilSheet(sheet({ paper: { decisions: [decision(1)] } }), { paper: 'A4' })).not.toThrow();
  expect(() => coilTag(tag())).not.toThrow();
});
