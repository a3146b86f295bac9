import { Injectable } from '@nestjs/common';
import { normalNumber } from '#libs/strip';
import { CertificateLinksService } from '../certificate-links/certificate-links.service.js';
import { CertificatesService } from '../certificates/certificates.service.js';
import type { Coil } from '../coils/coil.entity.js';
import { CoilsService } from '../coils/coils.service.js';
import { DocumentsService } from '../files/documents.service.js';
import { HeatsService } from '../heats/heats.service.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { CoilReceiptsService } from '../receipts/coil-receipts.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { CertificateTranscriptionsService } from '../transcriptions/certificate-transcriptions.service.js';
import type { CoilKnowledge, CoilPaper, NamingPaper } from './coil-knowledge.js';
import { KeyedCertificates, papersOfCoil } from './keyed-certificates.service.js';

/** Gathers what is known of a coil at an instant, or now. */
@Injectable()
export class CoilKnowledges {
  constructor(
    private readonly coils: CoilsService,
    private readonly heats: HeatsService,
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
    private readonly certificates: CertificatesService,
    private readonly links: CertificateLinksService,
    private readonly keyed: KeyedCertificates,
    private readonly transcriptions: CertificateTranscriptionsService,
    private readonly documents: DocumentsService,
    private readonly receipts: CoilReceiptsService,
    private readonly checks: IncomingChecksService,
    private readonly segments: CoilSegmentsService,
  ) {}

  /** Refuses with 404 when there was no such coil then. */
  async of(coilId: string, asKnownAt: string | null): Promise<CoilKnowledge> {
    const coil = await this.coils.row(coilId, asKnownAt);
    const [heat, order, papers, receipts, checks, segments] = await Promise.all([
      this.heats.row(coil.heatId, asKnownAt),
      coil.orderId === null ? null : this.orders.row(coil.orderId, asKnownAt),
      this.papersOf(coil, asKnownAt),
      this.receipts.ofCoils([coilId], asKnownAt),
      this.checks.ofCoils([coilId], asKnownAt),
      this.segments.ofCoils([coilId], asKnownAt),
    ]);
    const ordered = order === null ? null : await this.specifications.row(order.specificationId, asKnownAt);
    const certificateIds = papers.map(({ certificate }) => certificate.id);
    const [inForce, namingHeat, namingCoil, delivered, likeCoils, likeHeats, sameFiles] = await Promise.all([
      order === null || ordered === null ? null : this.specifications.inForce(ordered.number, order.orderedOn, asKnownAt),
      this.naming(await this.transcriptions.namingHeat([normalNumber(heat.number)], asKnownAt), asKnownAt),
      this.naming(await this.transcriptions.namingCoil([normalNumber(coil.number)], asKnownAt), asKnownAt),
      this.coils.ofCertificates(certificateIds, asKnownAt),
      this.coils.numbersNear(coil.number, asKnownAt),
      this.heats.numbersNear(heat.number, asKnownAt),
      this.filesElsewhere(certificateIds, asKnownAt),
    ]);
    return {
      coil, heat, order, ordered, inForce, papers, receipts, checks, segments, namingHeat, namingCoil, delivered, likeCoils, likeHeats, sameFiles,
    };
  }

  private async papersOf(coil: Coil, asKnownAt: string | null): Promise<CoilPaper[]> {
    const links = await this.links.ofCoils([coil.id], asKnownAt);
    const certificates = await this.keyed.of([coil, ...links].map(({ certificateId }) => certificateId), asKnownAt);
    return papersOfCoil(coil, links, certificates);
  }

  /** First keyings with their certificates; a second keying says the same or is told elsewhere. */
  private async naming(keyings: readonly CertificateTranscription[], asKnownAt: string | null): Promise<NamingPaper[]> {
    const firsts = keyings.filter((one) => !keyings.some((other) => other.certificateId === one.certificateId && other.keying < one.keying));
    const certificates = await this.certificates.rowsByIds(firsts.map(({ certificateId }) => certificateId), asKnownAt);
    return firsts.flatMap((keying) => {
      const certificate = certificates.get(keying.certificateId);
      return certificate === undefined ? [] : [{ certificate, keying }];
    });
  }

  private async filesElsewhere(certificateIds: readonly string[], asKnownAt: string | null): Promise<CoilKnowledge['sameFiles']> {
    const own = await this.documents.ofCertificates(certificateIds, asKnownAt);
    if (own.length === 0) return [];
    const same = await this.documents.ofFiles(own.map(({ fileSha256 }) => fileSha256), asKnownAt);
    return same.filter(({ about, certificateId }) => about === 'certificate' && !certificateIds.includes(certificateId ?? ''));
  }
}
