import { checkInstant, checkInstantOrNull, checkPresent, checkSha256, checkVersion, ReportDataError } from './check-fields.js';
import { COIL_TAG_STATES, COIL_VERDICTS, type CoilSheetData, type CoilTagData } from './coil-data.js';
import { checkLink } from './qr-code.js';

function checkListed(path: string, word: string, words: readonly string[]): void {
  if (!words.includes(word)) throw new ReportDataError(path, `is none of: ${words.join(', ')}`);
}

/** The sheet's verdict is the worst of its lines, so some contradictions show without judging anything again. */
function checkVerdict({ verdict, lines }: CoilSheetData): void {
  checkListed('verdict', verdict, COIL_VERDICTS);
  lines.forEach((line, i) => {
    checkListed(`lines[${i}].verdict`, line.verdict, COIL_VERDICTS);
  });
  const failing = lines.findIndex((line) => line.verdict === 'does-not-conform');
  if (failing >= 0 && verdict !== 'does-not-conform') {
    throw new ReportDataError('verdict', `is ${verdict}, but lines[${failing}] does not conform`);
  }
  if (verdict !== 'conforms') return;
  const doubtful = lines.findIndex((line) => line.verdict !== 'conforms');
  if (doubtful >= 0) throw new ReportDataError('verdict', `is conforms, but lines[${doubtful}] is ${lines[doubtful]?.verdict ?? ''}`);
  if (lines.length === 0) throw new ReportDataError('verdict', 'is conforms, but no value was judged');
}

/**
 * Refuses a coil sheet that could not be drawn truthfully.
 * @throws ReportDataError for a blank number or heat, an instant that is not UTC, a version below 1, a SHA-256 that is
 * not 64 hexadecimal digits, a link that is no web address or too long, or a verdict that its lines contradict.
 */
export function checkCoilSheetData(data: CoilSheetData): void {
  checkPresent('identity.number', data.identity.number);
  checkPresent('identity.heat', data.identity.heat);
  checkInstantOrNull('identity.receivedAt', data.identity.receivedAt);
  checkVersion('identity.version', data.identity.version);
  checkVerdict(data);
  data.decisions.forEach((decision, i) => {
    checkInstant(`decisions[${i}].signedAt`, decision.signedAt);
    checkSha256(`decisions[${i}].evaluationSha256`, decision.evaluationSha256);
    checkPresent(`decisions[${i}].signedBy`, decision.signedBy);
  });
  data.permits.forEach((permit, i) => {
    checkInstant(`permits[${i}].approvedAt`, permit.approvedAt);
  });
  checkSha256('fingerprintSha256', data.fingerprintSha256);
  checkInstant('dataCutOff', data.dataCutOff);
  checkInstant('generatedAt', data.generatedAt);
  checkLink('link', data.link);
}

/**
 * Refuses a coil tag that could not be drawn truthfully.
 * @throws ReportDataError for a blank number or heat, an unknown state, an instant that is not UTC, a version below 1,
 * or a link that is no web address or too long.
 */
export function checkCoilTagData(data: CoilTagData): void {
  checkPresent('number', data.number);
  checkPresent('heat', data.heat);
  checkListed('state', data.state, COIL_TAG_STATES);
  checkInstantOrNull('stateSince', data.stateSince);
  checkInstant('printedAt', data.printedAt);
  checkVersion('version', data.version);
  checkLink('link', data.link);
}
