import { Injectable } from '@nestjs/common';
import { run } from '#libs/persistence';
import { CertificateLinksService } from '../certificate-links/certificate-links.service.js';
import type { CertificateLink } from '../certificate-links/certificate-link.entity.js';
import { CertificatesService } from '../certificates/certificates.service.js';
import type { Coil } from '../coils/coil.entity.js';
import { CoilsService } from '../coils/coils.service.js';
import type { CoilPaper } from '../evaluation/coil-knowledge.js';
import { HeatsService } from '../heats/heats.service.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import type { StripOrder } from '../orders/strip-order.entity.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { CertificateTranscriptionsService, verificationOf } from '../transcriptions/certificate-transcriptions.service.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import type { Keying } from '../transcriptions/keying-comparison.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import { grouped } from './grouped.js';
import type { SuppliedCoil, SuppliedPaper, SupplierKnowledge } from './supplier-knowledge.js';
import type { SupplierQuestion } from './supplier-question.js';

/** So many coils are looked at, and no more: our own choice. */
export const COIL_CAP = 5000;

/** What a keying says, as it is stored. */
type KeyingRow = Pick<CertificateTranscription, 'id' | 'orderNumber' | 'specification' | 'packedLines'>;

/** A certificate with its keyings and their comparison, which is made once however many coils it names. */
type Paper = Omit<CoilPaper, 'role' | 'namedAs'>;

/** Gathers what is known of the coils ordered at a mill. The number of queries does not depend on how many there are. */
@Injectable()
export class SupplierKnowledges {
  constructor(
    private readonly desk: RecordDesk,
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
    private readonly coils: CoilsService,
    private readonly heats: HeatsService,
    private readonly links: CertificateLinksService,
    private readonly certificates: CertificatesService,
    private readonly transcriptions: CertificateTranscriptionsService,
    private readonly checks: IncomingChecksService,
    private readonly standings: CoilStandings,
  ) {}

  /** The knowledge that answers a question, from at most `cap` coils: those entered last. */
  async of(question: SupplierQuestion, cap = COIL_CAP): Promise<SupplierKnowledge> {
    const { asKnownAt } = question;
    const orders = await this.ordersOf(question);
    const specifications = await this.specifications.rowsByIds(orders.map(({ specificationId }) => specificationId), asKnownAt);
    const asked = orders.filter(({ specificationId }) =>
      question.grade === null || specifications.get(specificationId)?.grade === question.grade);
    const rows = await this.coilsOf(asked, asKnownAt, cap + 1);
    const coils = rows.slice(0, cap).sort(byNumber);
    const coilIds = coils.map(({ id }) => id);
    const [heats, links, checks, standings] = await Promise.all([
      this.heats.rowsByIds(coils.map(({ heatId }) => heatId), asKnownAt),
      this.links.ofCoils(coilIds, asKnownAt),
      this.checks.ofCoils(coilIds, asKnownAt),
      this.standings.of(coilIds, asKnownAt),
    ]);
    const papers = await this.papersOf([...coils, ...links].map(({ certificateId }) => certificateId), asKnownAt);
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

  private ordersOf({ mill, thicknessMm, asKnownAt }: SupplierQuestion): Promise<StripOrder[]> {
    return this.desk.store.select(
      this.orders.entity, "mill = $1 and ($2::numeric is null or thickness_mm = $2::numeric) and state = 'active'", [mill, thicknessMm], asKnownAt,
      'order by ordered_on, number, id',
    );
  }

  private async coilsOf(orders: readonly StripOrder[], asKnownAt: string | null, limit: number): Promise<Coil[]> {
    if (orders.length === 0) return [];
    return this.desk.store.select(
      this.coils.entity, "order_id = any($1::uuid[]) and state = 'active'", [orders.map(({ id }) => id), limit], asKnownAt,
      'order by entered_at desc, id desc limit $2',
    );
  }

  /** The certificates that speak of coils, by id, in the order of their numbers. */
  private async papersOf(certificateIds: readonly (string | null)[], asKnownAt: string | null): Promise<Map<string, Paper>> {
    const ids = [...new Set(certificateIds.filter((id) => id !== null))];
    const [certificates, keyings] = await Promise.all([
      this.certificates.rowsByIds(ids, asKnownAt), this.transcriptions.ofCertificates(ids, asKnownAt),
    ]);
    const byCertificate = grouped(keyings, ({ certificateId }) => certificateId);
    return new Map([...certificates.values()].sort(byNumber).map((certificate) => {
      const own = byCertificate.get(certificate.id) ?? [];
      return [certificate.id, { certificate, keyings: own, verification: verificationOf(certificate.id, own) }];
    }));
  }

  private async supplied(papers: ReadonlyMap<string, Paper>, asKnownAt: string | null): Promise<SuppliedPaper[]> {
    const amended = [...papers.values()].flatMap(({ keyings }) => keyings).filter(({ version }) => version > 1);
    const [firsts, withdrawn] = await Promise.all([
      this.firstVersions(amended.map(({ id }) => id)),
      this.desk.store.select(
        this.transcriptions.entity, "certificate_id = any($1::uuid[]) and state = 'void'", [[...papers.keys()]], asKnownAt,
      ),
    ]);
    const withdrawnFrom = new Set(withdrawn.map(({ certificateId }) => certificateId));
    return [...papers.values()].map(({ certificate, keyings, verification }) => ({
      keyings, verification, asFirstKeyed: keyings.map((keying) => keyingOf(firsts.get(keying.id) ?? keying)),
      hasWithdrawnKeying: withdrawnFrom.has(certificate.id),
    }));
  }

  private async firstVersions(ids: readonly string[]): Promise<Map<string, KeyingRow>> {
    const { rows } = await run<KeyingRow>(
      this.desk.dataSource.manager,
      `select id, order_number as "orderNumber", specification, packed_lines as "packedLines"
        from certificate_transcription where version = 1 and id = any($1::uuid[])`,
      [ids],
    );
    return new Map(rows.map((row) => [row.id, row]));
  }
}

const keyingOf = (row: KeyingRow): Keying => ({ orderNumber: row.orderNumber, specification: row.specification, lines: linesOf(row) });

const byNumber = (one: { number: string; id: string }, other: { number: string; id: string }): number =>
  compareText(one.number, other.number) || compareText(one.id, other.id);

const compareText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

/** The certificates that speak of a coil: the one it came with, then those linked to it. */
function papersOfCoil(coil: Coil, links: readonly CertificateLink[], papers: ReadonlyMap<string, Paper>): CoilPaper[] {
  const delivered = coil.certificateId === null ? [] : [{ certificateId: coil.certificateId, role: 'delivered' as const, namedAs: coil.number }];
  const linked = links.filter(({ certificateId }) => certificateId !== coil.certificateId);
  return [...delivered, ...linked].flatMap(({ certificateId, role, namedAs }) => {
    const paper = papers.get(certificateId);
    return paper === undefined ? [] : [{ ...paper, role, namedAs }];
  });
}
