import type { EvidenceAnswer, EvidenceItemAnswer } from './evidence.dto.js';

/** The bytes of each item that was answered: most are answered again as they are. */
const BYTES = new WeakMap<EvidenceItemAnswer, Buffer>();

/** An answer as JSON, as `JSON.stringify` writes it, in UTF-8; of an item that is the same object as before it is not written again. */
export function evidenceJson(answer: EvidenceAnswer): Buffer {
  const fields = Object.entries(answer).map(([name, value]) => [`"${name}":`, ...(name === 'items' ? listed(answer.items.map(bytesOf)) : [JSON.stringify(value)])]);
  const parts = ['{', ...separated(fields), '}'];
  return Buffer.concat(parts.map((part) => (typeof part === 'string' ? Buffer.from(part) : part)));
}

type Part = string | Buffer;

const listed = (items: readonly Part[]): Part[] => ['[', ...separated(items.map((item) => [item])), ']'];

const separated = (groups: readonly (readonly Part[])[]): Part[] => groups.flatMap((group, index) => (index === 0 ? group : [',', ...group]));

function bytesOf(item: EvidenceItemAnswer): Buffer {
  const bytes = BYTES.get(item) ?? Buffer.from(JSON.stringify(item));
  BYTES.set(item, bytes);
  return bytes;
}
