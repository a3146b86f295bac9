import { expect } from '@jest/globals';
import { TEST_PASSWORD, type Answer, type SignedIn } from '../setup/api.js';
import { entered } from '../setup/string-builder.js';

export const MILL = 'Ferrant Strip Mill';
export const GRADE = 'S420MC';

const AT = { observedAt: '2026-02-02T08:00:00Z' };

/** One coil as its paper prints it, and as it was read here. */
export interface PlannedCoil {
  readonly number: string;
  readonly heat: 'F-101' | 'F-102';
  readonly certificate: 1 | 2 | 3;
  /** Decimal text; ReH of the last coil in ksi. */
  readonly thicknessMm: string;
  readonly yield: string;
  readonly yieldUnit: 'MPa' | 'ksi';
  readonly readingsMm: readonly string[];
}

const HUNDREDTHS = [2, -3, 1, 0, 4, -2, 3, -1, 2, 5, -4, 0, 1, -2, 3, 2, -1, 0, 6, -3, 1, 2, -2, 0];

/** Three certificates of eight coils; the first two are of one heat. Coil 5 fails its yield strength. */
export const COILS: readonly PlannedCoil[] = HUNDREDTHS.map((hundredths, index) => {
  const isLast = index === HUNDREDTHS.length - 1;
  const plain = String(447 + ((index * 7) % 23));
  return {
    number: `FS-${String(index + 1).padStart(2, '0')}`,
    heat: index < 16 ? 'F-101' : 'F-102',
    certificate: index < 8 ? 1 : index < 16 ? 2 : 3,
    thicknessMm: (5 + hundredths / 100).toFixed(2),
    yield: index === 4 ? '411' : isLast ? '66.1' : plain,
    yieldUnit: isLast ? 'ksi' : 'MPa',
    readingsMm: index % 6 === 0 ? [(4.99 + hundredths / 100).toFixed(2), (4.97 + hundredths / 100).toFixed(2)] : [],
  };
});

/** The coil whose yield strength the two keyings of the third certificate do not agree on. */
export const DOUBTFUL = 'FS-20';
/** What certificates print as carbon: the two of one heat differ. */
export const CARBON: Readonly<Record<PlannedCoil['certificate'], string>> = { 1: '0.085', 2: '0.091', 3: '0.070' };

interface PrintedPart {
  readonly characteristic: string;
  readonly printed: string;
  readonly unit: string;
  readonly analysis?: string;
  readonly temperatureC?: string;
}

interface Line {
  readonly coilNumber: string;
  readonly heatNumber: string;
  readonly values: readonly PrintedPart[];
}

function lineOf({ number, heat, certificate, thicknessMm, yield: reh, yieldUnit }: PlannedCoil): Line {
  return {
    coilNumber: number, heatNumber: heat,
    values: [
      { characteristic: 'thickness', printed: thicknessMm, unit: 'mm' },
      { characteristic: 'C', analysis: 'heat', printed: CARBON[certificate], unit: '%' },
      { characteristic: 'B', analysis: 'heat', printed: '<0.0005', unit: '%' },
      { characteristic: 'ReH', printed: reh, unit: yieldUnit },
      { characteristic: 'Rm', printed: '530', unit: 'MPa' },
      { characteristic: 'A', printed: '24', unit: '%' },
      { characteristic: 'KV2', printed: '60', unit: 'J', temperatureC: certificate === 3 ? '0' : '-20' },
      { characteristic: 'ReL', printed: '400', unit: 'MPa' },
    ],
  };
}

const linesOf = (certificate: PlannedCoil['certificate']): Line[] => COILS.filter((one) => one.certificate === certificate).map(lineOf);

/** The lines with another value of one coil, as a slip of the keyer's. */
function slipped(lines: readonly Line[], coilNumber: string, characteristic: string, printed: string): Line[] {
  return lines.map((line) => (line.coilNumber !== coilNumber ? line : {
    ...line, values: line.values.map((value) => (value.characteristic === characteristic ? { ...value, printed } : value)),
  }));
}

const requirements = (yieldMin: string): object[] => [
  { characteristic: 'thickness', min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation', clause: '3.2' },
  { characteristic: 'C', analysis: 'heat', max: '0.12', unit: '%', clause: '4.1' },
  { characteristic: 'B', analysis: 'heat', max: '0.0005', unit: '%', clause: '4.2' },
  { characteristic: 'ReH', min: yieldMin, unit: 'MPa', clause: '5.1' },
  { characteristic: 'Rm', unit: 'MPa', clause: '5.2' },
  { characteristic: 'A', min: '19', unit: '%', clause: '5.3' },
  { characteristic: 'KV2', min: '27', unit: 'J', temperatureC: '-20', clause: '5.4' },
  { characteristic: 'P', analysis: 'heat', max: '0.025', unit: '%', clause: '4.3' },
];

/** Specification, order, heats, certificates and coils of the mill, without keyings. */
export interface EnteredMill {
  readonly heatIds: ReadonlyMap<string, string>;
  readonly certificateIds: ReadonlyMap<PlannedCoil['certificate'], string>;
  readonly coilIds: ReadonlyMap<string, string>;
}

async function specificationId(by: SignedIn, revision: number, yieldMin: string, grade = GRADE): Promise<string> {
  return entered(by, 'strip-specifications', {
    ...AT, number: grade === GRADE ? 'FSS-4' : `FSS ${grade}`, revision, title: 'Slit hot-rolled strip', effectiveFrom: '2025-11-01', grade,
    documentType: '3.1', requirements: requirements(yieldMin), rounding: 'rounding', decisionRule: 'simple-acceptance',
  });
}

async function orderId(by: SignedIn, number: string, of: { mill?: string; thicknessMm?: string; specificationId: string }): Promise<string> {
  return entered(by, 'strip-orders', { ...AT, number, mill: MILL, orderedOn: '2025-12-04', thicknessMm: '5.00', widthMm: '383.0', ...of });
}

const coilBody = (number: string, heatId: string, order: string | null, certificateId: string | null): object =>
  ({ ...AT, number, heatId, orderId: order, certificateId, widthMm: '383.0', thicknessMm: '5.00', massKg: '9850' });

/** Enters the mill's 24 coils, and around them coils that a filter must leave out. */
export async function enterMill(by: SignedIn): Promise<EnteredMill> {
  const heatIds = new Map<string, string>();
  for (const number of ['F-101', 'F-102', 'F-103']) heatIds.set(number, await entered(by, 'heats', { ...AT, number, grade: GRADE }));
  const certificateIds = new Map<PlannedCoil['certificate'], string>();
  for (const number of [1, 2, 3] as const) {
    const issued = { number: `FC-${number}`, issuer: MILL, documentType: '3.1', issuedOn: '2026-01-22' };
    certificateIds.set(number, await entered(by, 'certificates', { ...AT, ...issued }));
  }
  const first = await specificationId(by, 1, '420');
  const order = await orderId(by, 'FO-1', { specificationId: first });
  const coilIds = new Map<string, string>();
  for (const { number, heat, certificate, readingsMm } of COILS) {
    const id = await entered(by, 'coils', coilBody(number, heatIds.get(heat)!, order, certificateIds.get(certificate)!));
    coilIds.set(number, id);
    if (readingsMm.length > 0) {
      const readings = readingsMm.map((printed) => ({ printed, along: 'head', across: 'centre' }));
      await entered(by, 'incoming-checks', { ...AT, coilId: id, characteristic: 'thickness', unit: 'mm', readings, instrument: 'MI-07', expandedU: '0.01' });
    }
  }
  const mistake = await entered(by, 'coils', coilBody('entered by mistake', heatIds.get('F-101')!, order, certificateIds.get(1)!));
  const gone = await by.send('POST', `/api/coils/${mistake}/void`, { headers: { 'if-match': '"1"' }, body: { reason: 'No such coil.' } });
  expect(gone.status).toBe(200);
  const [secondRevision, otherGrade] = [await specificationId(by, 2, '430'), await specificationId(by, 1, '500', 'S500MC')];
  const others = {
    'another mill': await orderId(by, 'FO-2', { specificationId: first, mill: 'Other Strip Mill' }),
    thinner: await orderId(by, 'FO-3', { specificationId: secondRevision, thicknessMm: '4.00' }),
    'another grade': await orderId(by, 'FO-4', { specificationId: otherGrade }),
    'no order': null,
  };
  for (const [number, other] of Object.entries(others)) await entered(by, 'coils', coilBody(number, heatIds.get('F-103')!, other, null));
  return { heatIds, certificateIds, coilIds };
}

export interface Keyed {
  /** When the second keying of the first certificate became known, before it was corrected. */
  readonly beforeCorrection: string;
}

/**
 * Keys the papers. The first twice, differing until the second keying is amended; the second twice, but its second keying
 * withdrawn; the third twice, differing for ever.
 */
export async function keyPapers(one: SignedIn, other: SignedIn, { certificateIds }: EnteredMill): Promise<Keyed> {
  const key = (by: SignedIn, certificate: PlannedCoil['certificate'], keying: number, lines: object[]): Promise<string> =>
    entered(by, 'certificate-transcriptions', { ...AT, certificateId: certificateIds.get(certificate), keying, lines });
  await key(one, 1, 1, linesOf(1));
  const slip = await key(other, 1, 2, slipped(linesOf(1), 'FS-03', 'ReH', '416'));
  await key(one, 2, 1, linesOf(2));
  const withdrawn = await key(other, 2, 2, slipped(linesOf(2), 'FS-10', 'thickness', '5.50'));
  await key(one, 3, 1, linesOf(3));
  await key(other, 3, 2, slipped(linesOf(3), DOUBTFUL, 'ReH', '474'));
  const before = await other.send('GET', `/api/certificate-transcriptions/${slip}`);
  const headers = { 'if-match': '"1"' };
  const amended = await other.send('PATCH', `/api/certificate-transcriptions/${slip}`, { headers, body: { reason: 'Read 416 for 461.', lines: linesOf(1) } });
  expect(amended).toMatchObject({ status: 200, body: { version: 2 } });
  const gone = await other.send('POST', `/api/certificate-transcriptions/${withdrawn}/void`, { headers, body: { reason: 'Keyed from another paper.' } });
  expect(gone).toMatchObject({ status: 200, body: { state: 'void' } });
  return { beforeCorrection: String(before.body['recordedAt']) };
}

/** Signs a decision on a coil by its evaluation. */
export async function decide(by: SignedIn, id: string, coilId: string, decision: string): Promise<Answer> {
  const evaluation = await by.send('GET', `/api/coils/${coilId}/evaluation`);
  const answer = await by.send('POST', '/api/coil-decisions', {
    body: { id, coilId, decision, evaluationSha256: evaluation.body['sha256'], grounds: 'As discussed with the mill.', follows: 0, secret: TEST_PASSWORD },
  });
  expect(answer).toMatchObject({ status: 201, body: { decision } });
  return answer;
}
