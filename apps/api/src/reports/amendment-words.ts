import { formatInstant, formatInterval, formatMetres, type Amendment } from '#libs/reports';
import type { FieldChange, HistoryEntry } from '../records/record.dto.js';

/** The names of people and coils, by id. */
export type Names = (id: string) => string;

type Plain = Readonly<Record<string, unknown>>;
type Change = Amendment['changes'][number];

/** Fields of a nonconformance as people say them, in the order they are told; any other is said by its own name. */
const FIELD_WORDS: Readonly<Record<string, string>> = {
  title: 'Title', severity: 'Class', origin: 'Source', extents: 'Pipe as given', footage: 'Footage', coilExtents: 'Strip',
  extentBasis: 'Basis of the extent', requirement: 'Requirement', found: 'Found', containment: 'Containment', stage: 'State',
  disposition: 'Disposition', note: 'Note', observedAt: 'Observed', doneBy: 'Done by', source: 'Entered from',
  state: 'Record', marks: 'Remarks', restsOn: 'Records the footage rests on',
  kind: 'kind', document: 'document', revision: 'revision', clause: 'clause', limit: 'limit', value: 'value', text: 'text', unit: 'unit',
  uncertainty: 'standard uncertainty', method: 'method', instrument: 'instrument', at: 'when', by: 'by', action: 'action',
  footageMm: 'footage', approvedBy: 'approved by', approvedAt: 'approved at',
};

const PERSON_FIELDS = new Set(['doneBy', 'by', 'approvedBy']);
const INSTANT_FIELDS = new Set(['observedAt', 'at', 'approvedAt']);

/** The amendments of a record, field by field in words; its first version is none. Pure. */
export function amendmentsOf(history: readonly HistoryEntry[], names: Names): Amendment[] {
  return history.slice(1).map(({ version, recordedAt, keyedBy, reason, action, changes }) => ({
    version,
    amendedAt: recordedAt,
    amendedBy: names(keyedBy),
    reason: action === 'voided' ? `Withdrawn: ${reason ?? ''}` : (reason ?? ''),
    changes: changes.flatMap((change) => changesInWords(change, names)),
  }));
}

/** The ids of the people that a history names. */
export function peopleIn(history: readonly HistoryEntry[]): string[] {
  const named = history.flatMap(({ changes }) => changes.flatMap(({ field, before, after }) => {
    return [before, after].flatMap((value) => (isPlain(value) ? Object.entries(value) : [[field, value] as const]));
  }));
  const ids = named.flatMap(([field, value]) => (PERSON_FIELDS.has(field) && typeof value === 'string' ? [value] : []));
  return [...history.map(({ keyedBy }) => keyedBy), ...ids];
}

/** The ids of the coils that a history names. */
export function coilsIn(history: readonly HistoryEntry[]): string[] {
  const changes = history.flatMap((entry) => entry.changes.filter(({ field }) => field === 'coilExtents'));
  return changes.flatMap(({ before, after }) => [before, after].flatMap(itemsOf).map(({ coilId }) => String(coilId)));
}

/** A field with parts of its own is told part by part. */
function changesInWords({ field, before, after }: FieldChange, names: Names): Change[] {
  if (!isPlain(before) && !isPlain(after)) return changed(fieldInWords(field), field, before, after, names);
  const [old, now] = [before, after].map((value) => (isPlain(value) ? value : {})) as [Plain, Plain];
  return inOrder(new Set([...Object.keys(old), ...Object.keys(now)])).flatMap((part) =>
    changed(`${fieldInWords(field)}: ${fieldInWords(part)}`, part, old[part], now[part], names),
  );
}

/** The database keeps the parts of a field in an order of its own. */
function inOrder(fields: Iterable<string>): string[] {
  const known = Object.keys(FIELD_WORDS);
  return [...fields].sort((a, b) => known.indexOf(a) - known.indexOf(b));
}

function changed(words: string, field: string, before: unknown, after: unknown, names: Names): Change[] {
  const change = { field: words, before: inWords(field, before, names), after: inWords(field, after, names) };
  return change.before === change.after ? [] : [change];
}

const fieldInWords = (field: string): string => FIELD_WORDS[field] ?? field;

function inWords(field: string, value: unknown, names: Names): string | null {
  if (value === null || value === undefined) return null;
  if (Array.isArray(value)) return listInWords(field, itemsOf(value), names);
  if (typeof value === 'number') return field.endsWith('Mm') ? `${formatMetres(value)} m` : String(value);
  if (typeof value !== 'string') return JSON.stringify(value);
  if (PERSON_FIELDS.has(field)) return names(value);
  if (INSTANT_FIELDS.has(field)) return formatInstant(value);
  return field === 'stage' || field === 'kind' || field === 'origin' ? choiceInWords(value) : value;
}

/** A closed list's own name as words: `late-discovery` is late discovery. */
export const choiceInWords = (choice: string): string => choice.replaceAll('-', ' ');

function listInWords(field: string, items: readonly Plain[], names: Names): string | null {
  if (items.length === 0) return null;
  return items.map((item) => itemInWords(field, item, names)).join('\n');
}

function itemInWords(field: string, item: Plain, names: Names): string {
  switch (field) {
    case 'extents':
      return isPlain(item['to']) ? `${placeInWords(item['from'])} to ${placeInWords(item['to'])}` : placeInWords(item['from']);
    case 'footage':
      return formatInterval({ fromMm: Number(item['fromMm']), toMm: Number(item['toMm']) });
    case 'coilExtents':
      return `coil ${names(String(item['coilId']))}, ${stripEnd(item['stripFromMm'], 'head')} to ${stripEnd(item['stripToMm'], 'tail')}`;
    case 'restsOn':
      return `${choiceInWords(String(item['kind']))} ${String(item['id'])}`;
    default:
      return Object.entries(item).map(([key, value]) => `${fieldInWords(key)} ${String(value)}`).join(', ');
  }
}

function placeInWords(place: unknown): string {
  if (!isPlain(place)) return '';
  const { footageMm, counterReading, counter, station, uMm } = place;
  return [
    typeof footageMm === 'number' ? `footage ${formatMetres(footageMm)} m` : `counter reading ${String(counterReading)}`,
    ...(typeof counter === 'string' ? [`of counter ${counter}`] : []),
    ...(typeof station === 'string' ? [`at ${station}`] : []),
    ...(typeof uMm === 'string' ? [`(standard uncertainty ${uMm} mm)`] : []),
  ].join(' ');
}

const stripEnd = (mm: unknown, otherwise: string): string => (typeof mm === 'number' ? `${formatMetres(mm)} m` : otherwise);

function isPlain(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const itemsOf = (value: unknown): Plain[] => (Array.isArray(value) ? value.filter(isPlain) : []);
