import type { EvidenceGround } from './evidence-ground.js';

/**
 * What is read of a ground, read once however many ask for it: at the first question, and for as long as the ground is in use.
 * Where something is read of one thing of several, `of` tells which.
 */
export function oncePerGround<T>(read: (ground: EvidenceGround, of: string) => Promise<T>): (ground: EvidenceGround, of?: string) => Promise<T> {
  const known = new WeakMap<EvidenceGround, Map<string, Promise<T>>>();
  return (ground, of = '') => {
    const own = known.get(ground) ?? new Map<string, Promise<T>>();
    known.set(ground, own);
    const reading = own.get(of) ?? read(ground, of);
    own.set(of, reading);
    return reading;
  };
}
