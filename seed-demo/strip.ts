import { entered, later, type Step } from './step.js';

const STEELMAKER = 'Tarnwick Steelworks';
export const RECEIVED = '2026-02-18T09:00:00Z';

/** Heat number, day cast. */
const HEATS = [
  ['H40711', '2026-01-14'], ['H40712', '2026-01-14'], ['H40718', '2026-01-19'], ['H40725', '2026-01-23'],
] as const;

/** Certificate number, day issued, what it covers. */
const CERTIFICATES = [
  ['TS-2026-00417', '2026-01-22', 'Covers coils LM-01 to LM-03'],
  ['TS-2026-00421', '2026-01-22', 'Covers coils LM-04 and LM-05'],
  ['TS-2026-00433', '2026-01-28', 'Covers coil LM-06'],
  ['TS-2026-00440', '2026-02-02', 'Covers coils LM-08 and LM-09'],
] as const;

export interface CoilOnPaper {
  readonly number: string;
  readonly heat: string;
  /** Null: it came without one. */
  readonly certificate: string | null;
  readonly massKg: string;
  readonly lengthMm: number;
}

/** The slit coils as received: 383.0 × 5.00 mm, some 15 kg a metre. */
export const COILS: readonly CoilOnPaper[] = [
  { number: 'LM-01', heat: 'H40711', certificate: 'TS-2026-00417', massKg: '3212', lengthMm: 214_000 },
  { number: 'LM-02', heat: 'H40711', certificate: 'TS-2026-00417', massKg: '1886', lengthMm: 125_250 },
  { number: 'LM-03', heat: 'H40711', certificate: 'TS-2026-00417', massKg: '2305', lengthMm: 153_540 },
  { number: 'LM-04', heat: 'H40712', certificate: 'TS-2026-00421', massKg: '2544', lengthMm: 168_900 },
  { number: 'LM-05', heat: 'H40712', certificate: 'TS-2026-00421', massKg: '1992', lengthMm: 132_620 },
  { number: 'LM-06', heat: 'H40718', certificate: 'TS-2026-00433', massKg: '2356', lengthMm: 156_500 },
  { number: 'LM-07', heat: 'H40718', certificate: null, massKg: '2797', lengthMm: 186_400 },
  { number: 'LM-08', heat: 'H40725', certificate: 'TS-2026-00440', massKg: '2286', lengthMm: 151_900 },
  { number: 'LM-09', heat: 'H40725', certificate: 'TS-2026-00440', massKg: '2149', lengthMm: 143_200 },
];

const heats = HEATS.map(([number, castOn], index) =>
  entered('rasmus', 'heats', number, {
    observedAt: later(RECEIVED, index), number, steelmaker: STEELMAKER, grade: 'S420MC', castOn,
  }),
);

const certificates = CERTIFICATES.map(([number, issuedOn, note], index) =>
  entered('rasmus', 'certificates', number, {
    observedAt: later(RECEIVED, 10 + index), number, issuer: STEELMAKER, documentType: '3.1', issuedOn, note,
  }),
);

const coils = COILS.map(({ number, heat, certificate, massKg, lengthMm }, index) =>
  entered('rasmus', 'coils', number, {
    observedAt: later(RECEIVED, 20 + index), number, heatId: `@${heat}`, widthMm: '383.0', thicknessMm: '5.00', massKg, lengthMm,
    certificateId: certificate === null ? null : `@${certificate}`, orderId: '@PO-2025-118',
    note: certificate === null ? 'Tag and heat stencil agree; the certificate is asked for at the steelmaker.' : null,
  }),
);

/** Heats, certificates and coils as they were received. */
export const STRIP: readonly Step[] = [...heats, ...certificates, ...coils];
