import { lineHeightPt } from './canvas.js';
import { COIL_CAUTIONS } from './cautions.js';
import { COIL_VERDICTS, type CoilDecision, type CoilIdentity, type CoilLine, type CoilSheetData } from './coil-data.js';
import { drawCoilSummary } from './coil-summary.js';
import { formatInstant } from './instants-and-lengths.js';
import { BODY, BODY_BOLD, type PageFrame } from './page-frame.js';
import { drawCautions, drawThisPrint, NONE_RECORDED, orNone } from './shared-sections.js';
import { type Cell, drawFields, drawTable, type Fields, fieldsHeightPt } from './table.js';
import { VERDICT_WORDS, verdictCell } from './verdict-mark.js';

const NONE = 'none';

function withUnit(value: string | null, unit: string): string {
  return value === null || value.trim() === '' ? NONE_RECORDED : `${value} ${unit}`;
}

function identityFields(identity: CoilIdentity): Fields {
  const lengths = identity.lengths.map(({ lengthText, basis }) => `${lengthText}: ${basis}`);
  return [
    ['Coil number', identity.number],
    ['Heat', identity.heat],
    ['Grade', orNone(identity.grade)],
    ['Mill', orNone(identity.mill)],
    ['Order', orNone(identity.order)],
    ['Specification', orNone(identity.specification)],
    ['Certificates', orNone(identity.certificates.join('\n'))],
    ['Width', withUnit(identity.widthMm, 'mm')],
    ['Thickness', withUnit(identity.thicknessMm, 'mm')],
    ['Mass', withUnit(identity.massKg, 'kg')],
    ['Length', orNone(lengths.join('\n'))],
    ['Received', identity.receivedAt === null ? NONE_RECORDED : formatInstant(identity.receivedAt)],
    ['Place', orNone(identity.place)],
    ['Condition', orNone(identity.condition)],
    ['State', orNone(identity.state)],
    ['Version', String(identity.version)],
  ];
}

function drawIdentity(frame: PageFrame, data: CoilSheetData): void {
  frame.heading(`Coil sheet ${data.identity.number}`);
  drawCoilSummary(frame, data);
  drawFields(frame, identityFields(data.identity));
}

/** How many lines came to each verdict, so that a reader can tell whether one is missing. */
function tally(lines: readonly CoilLine[]): string {
  if (lines.length === 0) return NONE;
  const counts = COIL_VERDICTS.flatMap((verdict) => {
    const count = lines.filter((line) => line.verdict === verdict).length;
    return count === 0 ? [] : [`${VERDICT_WORDS[verdict]}:\u00a0${count}`];
  });
  return `${lines.length}: ${counts.join(', ')}`;
}

/** Lines keep the number they have in the table of all values. */
function exceptionRows(lines: readonly CoilLine[]): Cell[][] {
  return lines.flatMap((line, i) => {
    if (line.verdict === 'conforms') return [];
    return [[String(i + 1), line.characteristic, orNone(line.printed), orNone(line.limits), verdictCell(line.verdict), orNone(line.reason)]];
  });
}

function drawVerdict(frame: PageFrame, data: CoilSheetData): void {
  const fields: Fields = [
    ['Verdict', verdictCell(data.verdict)],
    ['In words', orNone(data.verdictText)],
    ['Lines judged', tally(data.lines)],
  ];
  frame.heading('Verdict', fieldsHeightPt(frame, fields));
  drawFields(frame, fields);
  frame.heading('Exceptions: lines that do not conform or are in doubt');
  const rows = exceptionRows(data.lines);
  if (rows.length === 0) frame.paragraph(data.lines.length === 0 ? `${NONE}: no value was judged` : NONE);
  drawTable(frame, [
    { title: 'Line', share: 0.06 },
    { title: 'Characteristic', share: 0.17 },
    { title: 'Value', share: 0.14 },
    { title: 'Limits', share: 0.15 },
    { title: 'Verdict', share: 0.18 },
    { title: 'Reason', share: 0.3 },
  ], rows);
}

function drawValues(frame: PageFrame, { lines, roundingText, decisionText }: CoilSheetData): void {
  const rules: Fields = [
    ['Rounding', orNone(roundingText)],
    ['Decision rule', orNone(decisionText)],
  ];
  frame.heading('Values against limits', fieldsHeightPt(frame, rules) + 5 * lineHeightPt(BODY));
  drawFields(frame, rules);
  if (lines.length === 0) frame.paragraph(NONE);
  const told = distinctRules(lines);
  const rows = lines.map((line, i) => [
    String(i + 1),
    orNone(line.characteristic),
    orNone(line.limits),
    orNone(line.printed),
    verdictCell(line.verdict, ...(line.reason === null ? [] : [line.reason])),
    line.margin ?? NONE,
    `${orNone(line.source)}\nrule ${told.indexOf(orNone(line.rule)) + 1}`,
  ]);
  drawTable(frame, [
    { title: 'Line', share: 0.06 },
    { title: 'Characteristic', share: 0.15 },
    { title: 'Limits', share: 0.13 },
    { title: 'Value', share: 0.12 },
    { title: 'Verdict', share: 0.2 },
    { title: 'Margin', share: 0.1 },
    { title: 'Source; rule', share: 0.24 },
  ], rows);
  if (told.length === 0) return;
  frame.heading('Rules that decided');
  drawTable(frame, [{ title: 'Rule', share: 0.06 }, { title: 'In words', share: 0.94 }], told.map((rule, i) => [String(i + 1), rule]));
}

/** Many lines are decided by one rule: it is told once, in the order of first use. */
function distinctRules(lines: readonly CoilLine[]): string[] {
  return [...new Set(lines.map(({ rule }) => orNone(rule)))];
}

function drawChecks(frame: PageFrame, { checks }: CoilSheetData): void {
  frame.heading('Cross-checks');
  if (checks.length === 0) frame.paragraph(NONE);
  drawTable(frame, [
    { title: 'Severity', share: 0.12, isBold: true },
    { title: 'What', share: 0.33 },
    { title: 'Detail', share: 0.55 },
  ], checks.map(({ severity, what, detail }) => [severity.toUpperCase(), orNone(what), orNone(detail)]));
}

function standingText({ isStanding, isKnownOtherwise }: CoilDecision): string {
  if (!isStanding) return 'this decision no longer stands';
  return isKnownOtherwise ? 'this decision stands, but what is known of the coil is no longer what was signed: see above' : 'this decision stands';
}

function decisionFields(decision: CoilDecision): Fields {
  return [
    ['Standing', standingText(decision)],
    ['Statement', orNone(decision.statement)],
    ['Reason', orNone(decision.reason)],
    ['Signed by', decision.signedBy],
    ['Roles', orNone(decision.roles.join(', '))],
    ['Signed at', formatInstant(decision.signedAt)],
    ['Meaning of signature', orNone(decision.meaning)],
    ['Method', `electronic signature, not a qualified one: ${orNone(decision.method)}`],
    ['Evaluation signed', `SHA-256 ${decision.evaluationSha256}`],
  ];
}

const SIGNATURES = 'Each signature here is an electronic signature, not a qualified one: a person, a time and a meaning, bound to the evaluation whose SHA-256 stands with it.';

function drawDecisions(frame: PageFrame, { decisions }: CoilSheetData): void {
  const first = decisions[0] === undefined ? 0 : fieldsHeightPt(frame, decisionFields(decisions[0]));
  frame.heading('Decision and signatures', first + 5 * lineHeightPt(BODY));
  frame.paragraph(SIGNATURES);
  if (decisions.length === 0) frame.paragraph(NONE, BODY_BOLD);
  decisions.forEach((decision, i) => {
    const fields = decisionFields(decision);
    frame.gap();
    frame.ensure(Math.min(fieldsHeightPt(frame, fields) + lineHeightPt(BODY_BOLD), frame.fullRoomPt / 2));
    frame.paragraph(`${i + 1} of ${decisions.length}: ${orNone(decision.kind)}`, BODY_BOLD);
    drawFields(frame, fields);
  });
}

function drawPermits(frame: PageFrame, { permits }: CoilSheetData): void {
  frame.heading('Permits and concessions');
  if (permits.length === 0) frame.paragraph(NONE);
  drawTable(frame, [
    { title: 'Permit', share: 0.15 },
    { title: 'Reason', share: 0.3 },
    { title: 'Limit', share: 0.28 },
    { title: 'Approved by, at', share: 0.27 },
  ], permits.map((permit) => [
    orNone(permit.label), orNone(permit.reason), `${orNone(permit.limit)}\n${orNone(permit.scope)}`, `${orNone(permit.approvedBy)}\n${formatInstant(permit.approvedAt)}`,
  ]));
}

/** All sections in order. A section without content says so; none is left out. */
export function drawCoilSections(frame: PageFrame, data: CoilSheetData): void {
  drawIdentity(frame, data);
  drawVerdict(frame, data);
  drawValues(frame, data);
  drawChecks(frame, data);
  drawDecisions(frame, data);
  drawPermits(frame, data);
  drawCautions(frame, COIL_CAUTIONS);
  drawThisPrint(frame, data, 'End of coil sheet');
}
