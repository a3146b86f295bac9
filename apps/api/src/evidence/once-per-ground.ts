import type { RecordVersion } from '#libs/persistence';
import type { RecordKind } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import { stampOf } from './evidence-stamps.service.js';

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

/**
 * The same of what is read from some kinds of record alone: grounds of now share it for as long as their pipe is the same and there are
 * no more versions of these kinds, so that its objects stay the same too.
 */
export function oncePerCount<T>(restsOn: readonly RecordKind<RecordVersion>[], read: (ground: EvidenceGround) => Promise<T>): (ground: EvidenceGround) => Promise<T> {
  const kept = new WeakMap<object, { readonly stamp: string; readonly reading: Promise<T> }>();
  return oncePerGround(async (ground) => {
    const { now } = ground;
    if (now === null) return read(ground);
    const stamp = stampOf(now.stamps, restsOn);
    const before = kept.get(now.lasting);
    if (before?.stamp === stamp) return before.reading;
    const reading = read(ground);
    kept.set(now.lasting, { stamp, reading });
    // What failed once is tried again.
    reading.catch(() => { kept.delete(now.lasting); });
    return reading;
  });
}
