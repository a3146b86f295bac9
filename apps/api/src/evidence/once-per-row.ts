import type { EvidenceGround } from './evidence-ground.js';

/**
 * What is made of a row on some pipe, made once for as long as both are the same objects: of most rows nothing changes from one
 * question to the next. Where several things are made of a row, `of` tells which.
 */
export function oncePerRow<R extends object, T>(make: (row: R, ground: EvidenceGround, of: number) => T): (row: R, ground: EvidenceGround, of: number) => T {
  const known = new WeakMap<object, Map<number, WeakMap<R, T>>>();
  return (row, ground, of) => {
    const onPipe = known.get(ground.lasting) ?? new Map<number, WeakMap<R, T>>();
    known.set(ground.lasting, onPipe);
    const own = onPipe.get(of) ?? new WeakMap<R, T>();
    onPipe.set(of, own);
    const made = own.get(row) ?? make(row, ground, of);
    own.set(row, made);
    return made;
  };
}
