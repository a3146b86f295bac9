import type { EvidenceGround } from './evidence-ground.js';

/**
 * What is made of a row on pipe of now, made once for as long as both are the same: of most rows nothing changes from one question to
 * the next. Where several things are made of a row, `of` tells which.
 */
export function oncePerRow<R extends object, T>(make: (row: R, ground: EvidenceGround, of: number) => T): (row: R, ground: EvidenceGround, of: number) => T {
  const known = new WeakMap<object, Map<number, WeakMap<R, T>>>();
  return (row, ground, of) => {
    if (ground.now === null) return make(row, ground, of);
    const onPipe = known.get(ground.now.lasting) ?? new Map<number, WeakMap<R, T>>();
    known.set(ground.now.lasting, onPipe);
    const own = onPipe.get(of) ?? new WeakMap<R, T>();
    onPipe.set(of, own);
    const before = own.get(row);
    if (before !== undefined) return before;
    const made = make(row, ground, of);
    own.set(row, made);
    return made;
  };
}
