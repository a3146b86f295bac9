import type { IntervalSet } from '#libs/intervals';
import { itemAnswer } from './evidence-answer.js';
import type { EvidenceItemAnswer } from './evidence.dto.js';
import type { MapLine } from './evidence-map.js';

/** The last answer about each line: the same is asked again and again, and most lines stay as they are while one changes. */
const LAST = new WeakMap<MapLine, { readonly asked: IntervalSet; readonly answer: EvidenceItemAnswer }>();

/** As `itemAnswer`; the same object where the line was asked about the same pipe before. Not to be changed by who gets it. */
export function keptItemAnswer(line: MapLine, asked: IntervalSet): EvidenceItemAnswer {
  const before = LAST.get(line);
  if (before?.asked.equals(asked) === true) return before.answer;
  const answer = itemAnswer(line, asked);
  LAST.set(line, { asked, answer });
  return answer;
}
