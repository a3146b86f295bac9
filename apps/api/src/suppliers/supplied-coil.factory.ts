import type { PrintedValue, Requirement } from '#libs/strip';
import { Certificate } from '../certificates/certificate.entity.js';
import { Coil } from '../coils/coil.entity.js';
import { keying } from '../evaluation/coil-knowledge.factory.js';
import type { CoilPaper } from '../evaluation/coil-knowledge.js';
import { Heat } from '../heats/heat.entity.js';
import { StripOrder } from '../orders/strip-order.entity.js';
import { StripSpecification } from '../specifications/strip-specification.entity.js';
import { verificationOf } from '../transcriptions/certificate-transcriptions.service.js';
import { askedValues, type AskedValues } from './asked-values.js';
import type { SuppliedCoil } from './supplier-knowledge.js';

export { keying, printed, requirement } from '../evaluation/coil-knowledge.factory.js';

interface PlannedCoil {
  readonly number: string;
  readonly heat?: string;
  readonly requirements: readonly Requirement[];
  readonly values: readonly PrintedValue[];
  /** Of the specification and of the order, which share it. */
  readonly revision?: number;
}

/** A coil of strip ordered 5.00 × 383.0 mm, with one certificate that was keyed once. */
export function suppliedCoil({ number, heat = 'H1', requirements, values, revision = 1 }: PlannedCoil): SuppliedCoil {
  const keyings = [keying([{ coilNumber: number, heatNumber: heat, values }])];
  const certificate = Object.assign(new Certificate(), { id: 'certificate', version: 1, number: 'TS-1', documentType: '3.1' });
  const paper: CoilPaper = { certificate, role: 'delivered', namedAs: number, keyings, verification: verificationOf('certificate', keyings) };
  return {
    coil: Object.assign(new Coil(), { id: number, version: 1, number }),
    heat: Object.assign(new Heat(), { id: heat, version: 1, number: heat }),
    order: Object.assign(new StripOrder(), { id: `order ${revision}`, thicknessMm: '5.00', widthMm: '383.0' }),
    specification: Object.assign(new StripSpecification(), {
      number: 'STS-12', revision, requirements, ownTables: [], rounding: 'rounding', decision: 'simple-acceptance', guardFactor: '1',
    }),
    papers: [paper], checks: [], state: 'not-decided',
  };
}

/** The values of some coils, gathered without a pause. */
export function gathered(coils: readonly SuppliedCoil[]): AskedValues {
  const work = askedValues(coils);
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}
