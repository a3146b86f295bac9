import { Injectable } from '@nestjs/common';
import type { CertificateLink } from '../certificate-links/certificate-link.entity.js';
import { CertificatesService } from '../certificates/certificates.service.js';
import type { Coil } from '../coils/coil.entity.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { CertificateTranscriptionsService, verificationOf } from '../transcriptions/certificate-transcriptions.service.js';
import type { CoilPaper } from './coil-knowledge.js';

/** A certificate with its keyings and their comparison, which is made once however many coils it names. */
export type KeyedCertificate = Omit<CoilPaper, 'role' | 'namedAs'>;

/** Gathers certificates with what was keyed of them. */
@Injectable()
export class KeyedCertificates {
  constructor(
    private readonly certificates: CertificatesService,
    private readonly transcriptions: CertificateTranscriptionsService,
  ) {}

  /** The certificates with these ids as known at `asKnownAt`, or now, by id, in the order of their numbers. */
  async of(certificateIds: readonly (string | null)[], asKnownAt: string | null): Promise<Map<string, KeyedCertificate>> {
    const ids = [...new Set(certificateIds.filter((id) => id !== null))];
    const [certificates, keyings] = await Promise.all([
      this.certificates.rowsByIds(ids, asKnownAt), this.transcriptions.ofCertificates(ids, asKnownAt),
    ]);
    const byCertificate = new Map<string, CertificateTranscription[]>();
    for (const keying of keyings) byCertificate.set(keying.certificateId, [...(byCertificate.get(keying.certificateId) ?? []), keying]);
    return new Map([...certificates.values()].sort(byNumber).map((certificate) => {
      const own = byCertificate.get(certificate.id) ?? [];
      return [certificate.id, { certificate, keyings: own, verification: verificationOf(certificate.id, own) }];
    }));
  }
}

/** The certificates that speak of a coil: the one it came with, then those linked to it. */
export function papersOfCoil(coil: Coil, links: readonly CertificateLink[], certificates: ReadonlyMap<string, KeyedCertificate>): CoilPaper[] {
  const delivered = coil.certificateId === null ? [] : [{ certificateId: coil.certificateId, role: 'delivered' as const, namedAs: coil.number }];
  const linked = links.filter(({ certificateId }) => certificateId !== coil.certificateId);
  return [...delivered, ...linked].flatMap(({ certificateId, role, namedAs }) => {
    const keyed = certificates.get(certificateId);
    return keyed === undefined ? [] : [{ ...keyed, role, namedAs }];
  });
}

/** By number, and by id where two issuers gave the same. */
export const byNumber = (one: { number: string; id: string }, other: { number: string; id: string }): number =>
  compareText(one.number, other.number) || compareText(one.id, other.id);

const compareText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);
