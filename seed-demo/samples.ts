import { STATIONS } from './line.js';
import { endOf, readingOf, TRUE_MM_PER_COUNT, type Run } from './runs.js';

/** What a line computer sends for a reading that its instrument did not get. */
export const NOTHING_READ = '-999';
/** Counts of the main counter between samples; about as many mm. */
export const EVERY_COUNTS = 10;
export const POWER_EVERY_S = 2;

/** Wall by true footage, mm, as it was also measured by hand; between these it changes evenly. */
const WALL: readonly (readonly [number, number])[] = [
  [121_000, 5.01], [213_900, 4.94], [219_200, 4.96], [265_000, 5.0], [340_000, 4.97], [452_000, 5.02], [530_000, 4.99], [618_000, 4.96],
];
/** Thin for some tenths of a metre: what the chart was first misread for. */
const THIN = { mm: 215_600, widthMm: 120, mmLess: 0.337 };
/** Cooling water stood before the wall gauge. */
const WALL_UNREAD = [241_000, 242_200] as const;

/** Where the ultrasonic head answered: true footage, half its width, % of screen above the noise. */
const ECHOES: readonly (readonly [number, number, number])[] = [
  [216_560, 90, 66], [268_400, 45, 150], [301_900, 25, 40], [455_200, 30, 69], [505_050, 20, 34], [536_770, 90, 71],
];
/** The couplant hose had come off. */
const ECHO_UNREAD = [330_000, 333_000] as const;
const FULL_SCREEN = 100;

/** Samples of the wall gauge and the ultrasonic head in one run of the line, by what the main counter showed, as CSV. */
export function lengthSamples({ fromMm, toMm }: Run): string {
  const lines = ['counter,wall,seam'];
  const last = Number(readingOf(toMm));
  for (let count = Number(readingOf(fromMm)); count <= last; count += EVERY_COUNTS) {
    const weldMm = count * TRUE_MM_PER_COUNT;
    lines.push(`${count},${wallAt(weldMm - STATIONS['wall gauge'])},${echoAt(weldMm - STATIONS['ultrasonic head'])}`);
  }
  return `${lines.join('\n')}\n`;
}

/** Power of the seam weld in one run of the line, by time, as CSV: it comes up within seconds and sways a little. */
export function powerSamples(run: Run): string {
  const [from, to] = [Date.parse(run.startedAt), Date.parse(endOf(run))];
  const lines = ['time,power'];
  for (let at = from; at <= to; at += POWER_EVERY_S * 1000) {
    const seconds = (at - from) / 1000;
    const power = 5.3 * (1 - Math.exp(-(seconds + 1) / 3)) + 0.05 * Math.sin(seconds / 170) + 0.06 * (noise(at / 1000, 3) - 0.5);
    lines.push(`${new Date(at).toISOString()},${power.toFixed(2)}`);
  }
  return `${lines.join('\n')}\n`;
}

function wallAt(mm: number): string {
  if (mm >= WALL_UNREAD[0] && mm < WALL_UNREAD[1]) return NOTHING_READ;
  const next = WALL.findIndex(([at]) => at > mm);
  const [[fromMm, from], [toMm, to]] = [WALL[next - 1] ?? [0, 5], WALL[next] ?? [1e7, 5]];
  const even = from + ((to - from) * (mm - fromMm)) / (toMm - fromMm);
  return (even - THIN.mmLess * bell(mm - THIN.mm, THIN.widthMm) + 0.03 * (noise(mm, 1) - 0.5)).toFixed(2);
}

function echoAt(mm: number): string {
  if (mm >= ECHO_UNREAD[0] && mm < ECHO_UNREAD[1]) return NOTHING_READ;
  const echo = ECHOES.reduce((most, [at, widthMm, height]) => Math.max(most, height * bell(mm - at, widthMm)), 0);
  const shown = echo + 3 + 4 * noise(mm, 2);
  return shown >= FULL_SCREEN ? `>= ${FULL_SCREEN}` : shown.toFixed(1);
}

const bell = (distanceMm: number, widthMm: number): number => Math.exp(-((distanceMm / widthMm) ** 2));

/** From 0 up to 1, the same for the same place: the 32-bit finaliser of MurmurHash3 (public domain). */
function noise(place: number, salt: number): number {
  let hash = Math.imul(Math.round(place) + salt * 0x9e3779b9, 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}
