// Decodes every broken part of a seed in a process of its own, whose heap is small, and tells what came of each and how far
// its memory grew at most.
import { decodePart, PartError } from '#libs/sample-files';
import { brokenParts, type BrokenPart } from './sample-files.campaign.js';

export interface DecodedInProcess {
  readonly parts: number;
  readonly refused: number;
  /** Names of parts at which something else than a PartError was thrown. */
  readonly thrown: readonly string[];
  /** Most that the process ever held, making the parts included, past what it held before it decoded the first. */
  readonly residentGrowthBytes: number;
}

function isRefused({ bytes, shape }: BrokenPart, thrown: string[], name: string): boolean {
  try {
    decodePart(bytes(), shape);
    return false;
  } catch (error) {
    if (!(error instanceof PartError)) thrown.push(`${name}: ${String(error)}`);
    return true;
  }
}

const parts = await brokenParts(Number(process.argv[2]));
globalThis.gc?.();
const before = process.memoryUsage.rss();
const thrown: string[] = [];
const refused = parts.filter((part) => isRefused(part, thrown, part.name)).length;
const residentGrowthBytes = process.resourceUsage().maxRSS * 1024 - before;
const found: DecodedInProcess = { parts: parts.length, refused, thrown, residentGrowthBytes };
process.stdout.write(JSON.stringify(found));
