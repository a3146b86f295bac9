import type { ConformityRules, JudgeOptions, Limits, Verdict } from '#libs/conformity';

/**
 * Conformity worked out the plain way, with whole numbers of 10⁻¹⁵ and none of the library's arithmetic: each value is
 * rounded and compared by itself. Texts have twelve decimals at most, so that there are values between any two of them.
 */
export const DECIMALS = 15;

export interface Requirement {
  readonly limits: Limits;
  readonly rules: ConformityRules;
  readonly options: JudgeOptions;
}

/** The text as a whole number of 10⁻¹⁵. */
export function scaled(text: string): bigint {
  const [whole = '', fraction = ''] = text.replace('-', '').split('.');
  const size = BigInt(whole + fraction.padEnd(DECIMALS, '0'));
  return text.startsWith('-') ? -size : size;
}

/** A whole number of 10⁻ᵈ as text with d decimals. */
export function textOf(units: bigint, decimals = DECIMALS): string {
  const digits = String(units < 0n ? -units : units).padStart(decimals + 1, '0');
  const sign = units < 0n ? '-' : '';
  return decimals === 0 ? sign + digits : `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

export function printedDecimals(text: string): number {
  return text.split('.')[1]?.length ?? 0;
}

/** To the nearest multiple of 10⁻ᵖˡᵃᶜᵉ, a tie to the even one. */
export function roundedTo(value: bigint, place: number): bigint {
  const unit = unitOf(place);
  const above = ((value % unit) + unit) % unit;
  const lower = value - above;
  if (2n * above === unit) return (lower / unit) % 2n === 0n ? lower : lower + unit;
  return 2n * above < unit ? lower : lower + unit;
}

/** w = r·U, which has few decimals here; null where it rests on an uncertainty that nobody states. */
export function guardBand({ rules, options }: Requirement): bigint | null {
  if (rules.decision === 'simple-acceptance') return 0n;
  return options.expandedU === null ? null : (scaled(rules.guardFactor) * scaled(options.expandedU)) / 10n ** BigInt(DECIMALS);
}

/** The verdict on one value that is known outright. */
export function verdictOf(requirement: Requirement, value: bigint): Verdict {
  const { limits } = requirement;
  const sides = [sideOf(requirement, limits.min, value, -1n), sideOf(requirement, limits.max, value, 1n)];
  return (['does-not-conform', 'not-comparable', 'inside-guard-band'] as const).find((one) => sides.includes(one)) ?? 'conforms';
}

/** `outwards` is the sign of the direction in which values leave the limit. */
function sideOf(requirement: Requirement, limit: string | null, value: bigint, outwards: bigint): Verdict {
  if (limit === null) return 'conforms';
  const { rules, options } = requirement;
  const place = options.toDecimals ?? printedDecimals(limit);
  const compared = rules.rounding === 'absolute' ? value : roundedTo(value, place);
  const beyond = outwards * (compared - scaled(limit));
  const w = guardBand(requirement);
  if (w === null) return rules.decision === 'guarded-acceptance' && beyond > 0n ? 'does-not-conform' : 'not-comparable';
  if (beyond <= -w) return 'conforms';
  return beyond > (rules.decision === 'proof-of-conformity' ? w : 0n) ? 'does-not-conform' : 'inside-guard-band';
}

/** Every verdict that some value between the ends can have; an end that is null is far out. */
export function verdictsBetween(requirement: Requirement, low: bigint | null, high: bigint | null, lowOpen: boolean, highOpen: boolean): Set<Verdict> {
  const candidates = [...turningPoints(requirement), ...[low, high].filter((end) => end !== null)].flatMap((at) => [at - 1n, at, at + 1n]);
  const inside = [...candidates, -FAR, FAR].filter(
    (value) => (low === null || value > low || (value === low && !lowOpen)) && (high === null || value < high || (value === high && !highOpen)),
  );
  return new Set(inside.map((value) => verdictOf(requirement, value)));
}

const FAR = 10n ** 21n;

/** Where a verdict can change: at the edges of the guard bands, and where values begin to round past them. */
function turningPoints(requirement: Requirement): bigint[] {
  const { limits, options } = requirement;
  const w = guardBand(requirement) ?? 0n;
  return [limits.min, limits.max].filter((limit) => limit !== null).flatMap((limit) => {
    const half = unitOf(options.toDecimals ?? printedDecimals(limit)) / 2n;
    return [-w, 0n, w].flatMap((shift) => {
      const edge = scaled(limit) + shift;
      const cell = edge - (((edge % half) + half) % half);
      return [edge, ...[-2n, -1n, 0n, 1n, 2n, 3n].map((step) => cell + step * half)];
    });
  });
}

function unitOf(place: number): bigint {
  return 10n ** BigInt(DECIMALS - place);
}
