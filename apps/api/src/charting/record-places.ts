import type { RecordLink } from '../trace/trace.dto.js';

/** Records that many points share, told once: each has its place in the list. */
export class RecordPlaces {
  readonly records: RecordLink[] = [];
  private readonly places = new Map<string, number>();
  private readonly known = new Map<readonly RecordLink[], readonly number[]>();

  /** The places of some records, each once. Lists that are the same object are looked up once. */
  of(records: readonly RecordLink[]): readonly number[] {
    const known = this.known.get(records) ?? [...new Set(records.map((record) => this.placeOf(record)))];
    this.known.set(records, known);
    return known;
  }

  /** The places of several such lists, each once. */
  ofAll(lists: readonly (readonly RecordLink[])[]): readonly number[] {
    const [first] = lists;
    if (first !== undefined && lists.every((one) => one === first)) return this.of(first);
    return [...new Set(lists.flatMap((one) => this.of(one)))];
  }

  private placeOf(record: RecordLink): number {
    const key = `${record.kind} ${record.id} ${record.version}`;
    const known = this.places.get(key);
    if (known !== undefined) return known;
    this.places.set(key, this.records.length);
    return this.records.push(record) - 1;
  }
}
