import type { RecordRef } from '#libs/explanation';
import type { PipeInputs } from '#libs/ratings';

export const recordOf = (kind: string, id: string): RecordRef => ({ kind, id, version: 1 });

/** Pipe of 244.48 × 11.99 mm, 552 MPa, folded by κ 1.16 with λ measured at 0.99; each input from a record of its own. */
export function pipeInputs(changes: Partial<PipeInputs> = {}): PipeInputs {
  return {
    outsideDiameterMm: { value: '244.48', record: recordOf('inspections', 'diameter') },
    wallThicknessMm: { value: '11.99', record: recordOf('inspections', 'wall'), basis: 'nominal' },
    yieldMpa: { value: '552', record: recordOf('certificates', 'yield'), basis: 'certified' },
    kappa: { value: '1.16', record: recordOf('line-setups', 'kappa') },
    lambda: { value: '0.99', record: recordOf('shoe-ties', 'lambda'), basis: 'between ties' },
    ...changes,
  };
}
