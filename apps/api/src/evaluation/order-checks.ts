import type { CoilKnowledge } from './coil-knowledge.js';
import { sameNumber } from './coil-values.js';
import { note, refTo, warning, type CrossCheck } from './cross-check.js';
import { namesRevision } from './printed-specification.js';

/** Cast before certified, ordered before certified, certified before received? */
export function dateChecks({ heat, order, papers, receipts }: Pick<CoilKnowledge, 'heat' | 'order' | 'papers' | 'receipts'>): CrossCheck[] {
  const delivery = receipts.find(({ occasion }) => occasion === 'delivery');
  return papers.flatMap(({ certificate, role }): CrossCheck[] => {
    const { number, issuedOn } = certificate;
    const record = refTo('certificate', certificate);
    const checks: CrossCheck[] = [];
    if (heat.castOn !== null && issuedOn < heat.castOn) {
      checks.push(warning('dates', `certificate ${number} of ${issuedOn} is older than its heat, cast on ${heat.castOn}`, record, refTo('heat', heat)));
    }
    if (order !== null && issuedOn < order.orderedOn && role !== 'mill') {
      checks.push(warning('dates', `certificate ${number} of ${issuedOn} is older than the order of ${order.orderedOn}`, record, refTo('strip-order', order)));
    }
    const receivedOn = delivery?.observedAt.slice(0, 10);
    if (receivedOn !== undefined && issuedOn > receivedOn && role !== 'retest') {
      checks.push(warning('dates', `certificate ${number} of ${issuedOn} is later than the delivery of ${receivedOn}`, record));
    }
    return checks;
  });
}

/** Was the revision ordered to in force then, and is it the one the papers name? */
export function revisionChecks({ order, ordered, inForce, papers }: Pick<CoilKnowledge, 'order' | 'ordered' | 'inForce' | 'papers'>): CrossCheck[] {
  if (order === null || ordered === null) return [note('revision in force', 'the coil has no order: no revision follows from it')];
  const checks: CrossCheck[] = [];
  if (inForce?.id !== ordered.id) {
    const then = inForce === null ? 'no revision was' : `revision ${inForce.revision} was`;
    checks.push(warning('revision in force', `order ${order.number} names revision ${ordered.revision} of ${ordered.number}; on ${order.orderedOn} ${then} in force`, refTo('strip-order', order)));
  }
  for (const { certificate, keyings } of papers) {
    const [keying] = keyings;
    if (keying === undefined) continue;
    const record = refTo('certificate-transcription', keying);
    if (keying.specification !== null && !namesRevision(keying.specification, ordered)) {
      checks.push(warning('revision in force', `certificate ${certificate.number} was made out to ${keying.specification}, not to revision ${ordered.revision} of ${ordered.number}`, record));
    }
    if (keying.orderNumber !== null && !sameNumber(keying.orderNumber, order.number)) {
      checks.push(warning('revision in force', `certificate ${certificate.number} names order ${keying.orderNumber}; the coil's is ${order.number}`, record));
    }
  }
  return checks;
}
