import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';

/** The standard normal value that the share `confidence` lies nearer to 0 than. Throws RangeError unless it is between 0 and 1. */
export function twoSidedQuantile(confidence: number): number {
  demandConfidence(confidence);
  return -normalQuantile((1 - confidence) / 2, 0, 1);
}

export function demandConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`the confidence is not between 0 and 1: ${confidence}`);
}
