import type { EvidenceGround } from '../evidence-ground.js';
import type { RecordTestimony } from '../record-testimony.js';
import type { WorkOnPipe } from './string-work.js';
import { spoken, type WordOnPipe } from './word-on-pipe.js';

interface Kept<J> {
  readonly restsOn: string;
  readonly judge: J;
  readonly said: WeakMap<WorkOnPipe, readonly RecordTestimony[]>;
}

/** A judge with what it says of a piece of work. */
interface Judged<J> {
  readonly judge: J;
  readonly said: (piece: WorkOnPipe) => readonly RecordTestimony[];
}

/** What a judge says of pieces of work, on pipe of now kept with each piece while pipe and judge are the same: of most work nothing changes from one question to the next. */
export class KeptWords<J> {
  private readonly kept = new WeakMap<object, Kept<J>>();

  constructor(private readonly wordsOf: (piece: WorkOnPipe, judge: J) => readonly WordOnPipe[]) {}

  /** @param restsOn all that the judge is made from: of one text there is one judge */
  of({ now, onTimeFrom }: EvidenceGround, restsOn: () => string, make: () => J): Judged<J> {
    if (now === null) {
      const judge = make();
      return { judge, said: (piece) => spoken(this.wordsOf(piece, judge), onTimeFrom) };
    }
    const text = restsOn();
    const before = this.kept.get(now.lasting);
    const kept = before?.restsOn === text ? before : { restsOn: text, judge: make(), said: new WeakMap<WorkOnPipe, readonly RecordTestimony[]>() };
    this.kept.set(now.lasting, kept);
    return {
      judge: kept.judge,
      said: (piece) => {
        const said = kept.said.get(piece);
        if (said !== undefined) return said;
        const made = spoken(this.wordsOf(piece, kept.judge), onTimeFrom);
        kept.said.set(piece, made);
        return made;
      },
    };
  }
}
