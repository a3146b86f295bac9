/** A point at which an integrand is taken, and how much it counts for. */
export interface QuadratureNode {
  readonly at: number;
  readonly weight: number;
}

/**
 * The Gauss-Legendre rule of `count` nodes between two ends: exact for polynomials up to the degree 2 count − 1. The nodes are
 * the zeros of the Legendre polynomial, by Newton's method from cos(π (i − 1/4)/(count + 1/2)); the weights are
 * 2/((1 − x²) P'(x)²) (Abramowitz and Stegun 25.4.29, from memory).
 */
export function gaussLegendre(count: number, from: number, to: number): readonly QuadratureNode[] {
  const [middle, half] = [(from + to) / 2, (to - from) / 2];
  return Array.from({ length: count }, (_, index) => {
    const { x, slope } = zero(count, Math.cos((Math.PI * (index + 0.75)) / (count + 0.5)));
    return { at: middle - half * x, weight: (2 * half) / ((1 - x * x) * slope * slope) };
  });
}

/** Newton's method doubles the digits with every step, and starts with three. */
const NEWTON_STEPS = 6;

function zero(count: number, start: number): { x: number; slope: number } {
  let x = start;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const { value, slope } = legendre(count, x);
    x -= value / slope;
  }
  return { x, slope: legendre(count, x).slope };
}

/** P(x) and P'(x) of a degree of at least 1, by (k + 1) P(k + 1) = (2k + 1) x P(k) − k P(k − 1). */
function legendre(degree: number, x: number): { value: number; slope: number } {
  let [before, value] = [1, x];
  for (let k = 1; k < degree; k++) [before, value] = [value, ((2 * k + 1) * x * value - k * before) / (k + 1)];
  return { value, slope: (degree * (before - x * value)) / (1 - x * x) };
}
