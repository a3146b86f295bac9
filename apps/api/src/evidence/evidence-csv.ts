import { csvLines, type CsvCell } from '../http/csv.js';
import type { EvidenceAnswer, EvidenceItemAnswer, EvidenceStretchAnswer } from './evidence.dto.js';

const HEAD = [
  'what', 'wall', 'md_from_m', 'md_from_plus_minus_m', 'md_to_m', 'md_to_plus_minus_m', 'footage_from_m', 'footage_to_m', 'item', 'clause', 'state', 'late', 'otherwise', 'because', 'records', 'as_known_at', 'cautions',
];

/**
 * The evidence as CSV (RFC 4180): first the verdict by footage, then on both walls by depth, then item by item with what decides it.
 * `what` says which of the three a line is. What does not apply is empty. `knownAt` is the instant of the knowledge.
 */
export function evidenceCsv(answer: EvidenceAnswer, knownAt: string): Generator<string> {
  return csvLines(rowsOf(answer, knownAt));
}

function* rowsOf(answer: EvidenceAnswer, knownAt: string): Generator<CsvCell[]> {
  const said = [knownAt, answer.cautions.join(' ')];
  yield HEAD;
  for (const { fromMm, toMm, state, late, items } of answer.verdict) {
    yield ['verdict', '', ...NO_DEPTH, metres(fromMm), metres(toMm), items.join(' '), '', state, yesNo(late), '', '', '', ...said];
  }
  for (const { wall, stretches } of answer.walls) {
    for (const { mdFromMm, mdToMm, fromPlusMinusMm, toPlusMinusMm, pipe: { fromMm, toMm, state, late, items } } of stretches) {
      yield ['wall', wall, metres(mdFromMm), metres(fromPlusMinusMm), metres(mdToMm), metres(toPlusMinusMm), metres(fromMm), metres(toMm), items.join(' '), '', state, yesNo(late), '', '', '', ...said];
    }
  }
  for (const item of answer.items) {
    for (const stretch of item.stretches) yield [...itemRow(item, stretch), ...said];
  }
}

const NO_DEPTH = ['', '', '', ''];

function itemRow({ code, clause, testimonies }: EvidenceItemAnswer, { fromMm, toMm, state, late, otherwise, by }: EvidenceStretchAnswer): CsvCell[] {
  const deciding = by.flatMap((nth) => testimonies.slice(nth, nth + 1));
  const records = new Set(deciding.flatMap((one) => one.records.map(({ kind, id, version, label }) => `${kind} ${label}, ${id} version ${version}`)));
  return [
    'item', '', ...NO_DEPTH, metres(fromMm), metres(toMm), code, clause, state, yesNo(late), otherwise, [...new Set(deciding.map(({ because }) => because))].join('; '), [...records].join('; '),
  ];
}

const metres = (mm: number): string => (mm / 1000).toFixed(3);
const yesNo = (value: boolean): string => (value ? 'yes' : 'no');
