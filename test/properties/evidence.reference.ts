/**
 * Evidence along the pipe, walked cell by cell as one would do it with a list and a pencil. It shares nothing with the library:
 * places are pairs of numbers in cells, and whether a word came late is told by the clock, never by a footage that somebody worked out.
 */
export interface PlainPlace {
  readonly from: number;
  readonly to: number;
}

export interface PlainWord extends PlainPlace {
  readonly id: string;
  readonly says: 'failed' | 'suspect' | 'provisional' | 'confirmed' | 'waived' | 'awaited';
  readonly enteredAt: number;
}

export interface PlainItem {
  readonly key: string;
  readonly where: 'pipe' | 'joints' | 'ends';
  readonly words: readonly PlainWord[];
}

export interface PlainHistory {
  /** Pieces of pipe; between them it was cut out. */
  readonly pipe: readonly PlainPlace[];
  readonly joints: readonly PlainPlace[];
  /** Cells at each end of the string that the ends are. */
  readonly endCells: number;
  /** How many cells were past the hang-off at each tick of the clock; the pipe may go back up. */
  readonly hungOff: readonly number[];
  readonly items: readonly PlainItem[];
}

/** What one item comes to on one cell; `by` are the ids of the words that decide. */
export interface PlainJudged {
  readonly state: string;
  readonly late: boolean;
  readonly otherwise: string | null;
  readonly by: readonly string[];
}

export interface PlainVerdict {
  readonly state: string;
  readonly late: boolean;
  readonly by: readonly string[];
}

/** Written out once more: the library must not be asked for its own order. */
const BADNESS: Readonly<Record<string, number>> = { failed: 7, missing: 6, suspect: 5, provisional: 4, conceded: 3, confirmed: 2, 'not-required': 1 };

export const badness = (state: string): number => BADNESS[state] ?? Number.NaN;

const holds = ({ from, to }: PlainPlace, cell: number): boolean => from <= cell && cell < to;

export const isPipe = (history: PlainHistory, cell: number): boolean => history.pipe.some((piece) => holds(piece, cell));

export function isDemanded(item: PlainItem, history: PlainHistory, cell: number): boolean {
  if (item.where === 'pipe') return isPipe(history, cell);
  if (item.where === 'joints') return history.joints.some((joint) => holds(joint, cell));
  const first = Math.min(...history.pipe.map(({ from }) => from));
  const last = Math.max(...history.pipe.map(({ to }) => to));
  return isPipe(history, cell) && (cell < first + history.endCells || cell >= last - history.endCells);
}

/** The cell had been past the hang-off at the tick of the entry or at any before. */
export function cameLate(word: PlainWord, { hungOff }: PlainHistory, cell: number): boolean {
  for (let tick = 0; tick <= word.enteredAt; tick += 1) {
    if ((hungOff[tick] ?? 0) > cell) return true;
  }
  return false;
}

/** What the words come to on a cell of which the item demands something. */
export function judgedOn(words: readonly PlainWord[], history: PlainHistory, cell: number): PlainJudged {
  const here = words.filter((word) => holds(word, cell));
  const saying = (says: PlainWord['says']): PlainWord[] => here.filter((word) => word.says === says);
  let [state, deciding] = ['missing', saying('awaited')];
  if (saying('provisional').length > 0) [state, deciding] = ['provisional', saying('provisional')];
  if (saying('confirmed').length > 0) [state, deciding] = ['confirmed', saying('confirmed')];
  if (saying('suspect').length > 0) [state, deciding] = ['suspect', saying('suspect')];
  if (saying('failed').length > 0) [state, deciding] = ['failed', saying('failed')];
  let otherwise: string | null = null;
  if (saying('waived').length > 0 && badness(state) > badness('conceded')) {
    otherwise = state;
    [state, deciding] = ['conceded', saying('waived')];
  }
  const late = state !== 'missing' && deciding.every((word) => cameLate(word, history, cell));
  return { state, late, otherwise, by: deciding.map(({ id }) => id) };
}

/** The same of any cell of the pipe; null beyond it. */
export function lineOn(item: PlainItem, history: PlainHistory, cell: number): PlainJudged | null {
  if (!isPipe(history, cell)) return null;
  if (!isDemanded(item, history, cell)) return { state: 'not-required', late: false, otherwise: null, by: [] };
  return judgedOn(item.words, history, cell);
}

/** The worst of what the items come to on a cell, each with its key; null for one that says nothing of it. */
export function verdictOn(said: readonly { readonly key: string; readonly judged: PlainJudged | null }[]): PlainVerdict {
  let worst = 0;
  let late = false;
  for (const { judged } of said) {
    if (judged === null) continue;
    worst = Math.max(worst, badness(judged.state));
    if (judged.late) late = true;
  }
  if (worst === 0) return { state: 'missing', late: false, by: [] };
  const deciding = said.filter(({ judged }) => judged !== null && badness(judged.state) === worst);
  return { state: deciding[0]?.judged?.state ?? '', late, by: deciding.map(({ key }) => key) };
}

/** Whether two answers about one cell are different ones, and whether the later is the worse; null where nothing was asked. */
export function changeOn(before: PlainVerdict | null, after: PlainVerdict | null): 'same' | 'worse' | 'other' {
  if (before?.state === after?.state && before?.late === after?.late) return 'same';
  if (after === null) return 'other';
  const isMet = after.state === 'conceded' || after.state === 'confirmed' || after.state === 'not-required';
  if (before === null || before.state === 'not-required') return isMet ? 'other' : 'worse';
  return badness(after.state) > badness(before.state) ? 'worse' : 'other';
}
