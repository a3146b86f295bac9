import { Injectable } from '@nestjs/common';
import { CertificateLinksService } from '../certificate-links/certificate-links.service.js';
import { CoilsService } from '../coils/coils.service.js';
import { byNumber, KeyedCertificates, papersOfCoil, type KeyedCertificate } from '../evaluation/keyed-certificates.service.js';
import { HeatsService } from '../heats/heats.service.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { CertificateTranscriptionsService } from '../transcriptions/certificate-transcriptions.service.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import type { Keying } from '../transcriptions/keying-comparison.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import { grouped } from './grouped.js';
import type { SuppliedCoil, SuppliedPaper, SupplierKnowledge } from './supplier-knowledge.js';
import type { SupplierQuestion } from './supplier-question.js';

/** So many coils are looked at, and no more: our own choice. */
export const COIL_CAP = 5000;

/** Gathers what is known of the coils ordered at a mill. The number of queries does not depend on how many there are. */
@Injectable()
export class SupplierKnowledges {
  constructor(
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
    private readonly coils: CoilsService,
    private readonly heats: HeatsService,
    private readonly links: CertificateLinksService,
    private readonly keyed: KeyedCertificates,
    private readonly transcriptions: CertificateTranscriptionsService,
    private readonly checks: IncomingChecksService,
    private readonly standings: CoilStandings,
  ) {}

  /** The knowledge that answers a question, from at most `cap` coils: those entered last. */
  async of(question: SupplierQuestion, cap = COIL_CAP): Promise<SupplierKnowledge> {
    const { asKnownAt } = question;
    const orders = await this.orders.ofMill(question.mill, question.thicknessMm, asKnownAt);
    const specifications = await this.specifications.rowsByIds(orders.map(({ specificationId }) => specificationId), asKnownAt);
    const asked = orders.filter(({ specificationId }) =>
      question.grade === null || specifications.get(specificationId)?.grade === question.grade);
    const rows = await this.coils.ofOrders(asked.map(({ id }) => id), asKnownAt, cap + 1);
    const coils = rows.slice(0, cap).sort(byNumber);
    const coilIds = coils.map(({ id }) => id);
    const [heats, links, checks, standings] = await Promise.all([
      this.heats.rowsByIds(coils.map(({ heatId }) => heatId), asKnownAt),
      this.links.ofCoils(coilIds, asKnownAt),
      this.checks.ofCoils(coilIds, asKnownAt),
      this.standings.of(coilIds, asKnownAt),
    ]);
    const papers = await this.keyed.of([...coils, ...links].map(({ certificateId }) => certificateId), asKnownAt);
    const ordersById = new Map(asked.map((order) => [order.id, order]));
    const linksByCoil = grouped(links, ({ coilId }) => coilId);
    const checksByCoil = grouped(checks, ({ coilId }) => coilId);
    return {
      isCapped: rows.length > cap,
      papers: await this.supplied(papers, asKnownAt),
      coils: coils.flatMap((coil): SuppliedCoil[] => {
        const order = ordersById.get(coil.orderId ?? '');
        const [heat, specification] = [heats.get(coil.heatId), specifications.get(order?.specificationId ?? '')];
        if (order === undefined || heat === undefined || specification === undefined) return [];
        return [{
          coil, heat, order, specification, state: standings.get(coil.id)?.state ?? 'not-decided',
          papers: papersOfCoil(coil, linksByCoil.get(coil.id) ?? [], papers), checks: checksByCoil.get(coil.id) ?? [],
        }];
      }),
    };
  }

  private async supplied(papers: ReadonlyMap<string, KeyedCertificate>, asKnownAt: string | null): Promise<SuppliedPaper[]> {
    const amended = [...papers.values()].flatMap(({ keyings }) => keyings).filter(({ version }) => version > 1);
    const [firsts, withdrawn] = await Promise.all([
      this.transcriptions.firstVersions(amended.map(({ id }) => id)),
      this.transcriptions.withdrawnFrom([...papers.keys()], asKnownAt),
    ]);
    const withdrawnFrom = new Set(withdrawn.map(({ certificateId }) => certificateId));
    return [...papers.values()].map(({ certificate, keyings, verification }) => ({
      keyings, verification, asFirstKeyed: keyings.map((keying) => keyingOf(firsts.get(keying.id) ?? keying)),
      hasWithdrawnKeying: withdrawnFrom.has(certificate.id),
    }));
  }
}

const keyingOf = (row: CertificateTranscription): Keying => ({ orderNumber: row.orderNumber, specification: row.specification, lines: linesOf(row) });
