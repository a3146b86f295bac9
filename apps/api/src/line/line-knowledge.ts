import { microseconds, type Instant, type TimeSpan } from '#libs/persistence';
import {
  chainPeriods, footageAtReading, materialAtStation, NetLengths, roundMm, rootSumOfSquares,
  type CounterPeriod, type CutOut, type PathDistance, type RecordedCounterPeriod,
} from '#libs/length';
import type { Interval } from '#libs/intervals';
import { contradictory, refusedField } from '../http/problem.js';
import { placeFaults, type GivenInterval, type GivenPlace, type RestsOn } from './given-place.js';
import { ProbePlace } from './probe-place.js';

/** A counter period as recorded, with the time it holds. */
export interface TimedPeriod extends RecordedCounterPeriod {
  readonly counter: string;
  readonly during: TimeSpan;
}

export interface LineStation {
  readonly name: string;
  readonly role: 'hang-off' | null;
  readonly path: PathDistance;
}

/** Stations valid from a time until the next set-up. */
export interface TimedSetup {
  readonly id: string;
  readonly validFrom: Instant;
  readonly stations: readonly LineStation[];
}

export interface LineFacts {
  readonly masterCounter: string;
  readonly periods: readonly TimedPeriod[];
  readonly setups: readonly TimedSetup[];
  readonly cutOuts: readonly CutOut[];
}

/** A derived footage, unrounded, with its standard uncertainty and what it rests on. */
export interface Derived {
  readonly mm: number;
  readonly uMm: number;
  readonly predicted: boolean;
  readonly restsOn: readonly RestsOn[];
}

/** The columns of a placed record that are derived from what was given. */
export interface PlacedColumns {
  readonly span: Interval;
  readonly fromUMm: string;
  readonly toUMm: string;
  readonly predicted: boolean;
  readonly restsOn: readonly RestsOn[];
}

/** What turns a place as given into a footage: the counters, set-ups and cut-outs of one string. Pure. */
export class LineKnowledge {
  private netLengths: NetLengths | null = null;
  private readonly periods: readonly { readonly timed: TimedPeriod; readonly period: CounterPeriod }[];

  /** @throws LengthError for periods that contradict one another */
  constructor(private readonly facts: LineFacts) {
    this.periods = chained(facts.periods);
  }

  get masterCounter(): string {
    return this.facts.masterCounter;
  }

  /** The same with only the cut-outs made before `at`: the place of one to be made at that time is seen with these. */
  beforeCutOut(at: Instant): LineKnowledge {
    const cutOuts = this.facts.cutOuts.filter(({ atUs }) => atUs < microseconds(at));
    return new LineKnowledge({ ...this.facts, cutOuts });
  }

  /** The same with this cut-out, in place of what was known of it. */
  withCutOut(cutOut: CutOut): LineKnowledge {
    const others = this.facts.cutOuts.filter(({ record }) => record.id !== cutOut.record.id);
    return new LineKnowledge({ ...this.facts, cutOuts: [...others, cutOut] });
  }

  /** The same with this period, in place of what was known of it. @throws LengthError when it continues none */
  withPeriod(period: TimedPeriod): LineKnowledge {
    const others = this.facts.periods.filter(({ record }) => record.id !== period.record.id);
    return new LineKnowledge({ ...this.facts, periods: [...others, period] });
  }

  /** The net length below a footage, with the cut-outs made by `atUs`. */
  netMm(footageMm: number, atUs: number): number {
    return this.nets.at(atUs).at(footageMm);
  }

  /** The material at the hang-off station with this footage at the weld point, or null when no set-up says where it is. */
  materialAtHangOff(weldFootageMm: number, atUs: number): number | null {
    const path = this.hangOffPathAt(atUs);
    return path === null ? null : materialAtStation(weldFootageMm, path, this.nets.at(atUs)).bestMm;
  }

  /** The path distance from the weld point to the hang-off in the set-up that holds at `atUs`, or null. */
  hangOffPathAt(atUs: number): PathDistance | null {
    return this.setupAt(atUs)?.stations.find(({ role }) => role === 'hang-off')?.path ?? null;
  }

  /** The period of a counter that holds at `atUs`, or null. */
  periodAt(counter: string, atUs: number): CounterPeriod | null {
    const found = this.periods.find(({ timed }) => timed.counter === counter && holds(timed.during, atUs));
    return found?.period ?? null;
  }

  /** The period with this id as derived, or null. */
  periodById(id: string): CounterPeriod | null {
    return this.periods.find(({ period }) => period.record.id === id)?.period ?? null;
  }

  /** The last period of `counter` that began before `atUs`, or null. */
  periodBefore(counter: string, atUs: number): TimedPeriod | null {
    return this.periods.findLast(({ timed }) => timed.counter === counter && microseconds(timed.during.from) < atUs)?.timed ?? null;
  }

  /** The set-up that holds at `atUs`, or null. */
  setupAt(atUs: number): TimedSetup | null {
    const valid = this.facts.setups.filter(({ validFrom }) => microseconds(validFrom) <= atUs);
    return valid.sort((a, b) => microseconds(a.validFrom) - microseconds(b.validFrom)).at(-1) ?? null;
  }

  /** Instants, in order, from each of which on a reading of `counter` can mean other material than before, at whatever station. */
  changesUs(counter: string): readonly number[] {
    const ofPeriods = this.periods.filter(({ timed }) => timed.counter === counter).flatMap(({ timed: { during } }) => [during.from, ...(during.until === null ? [] : [during.until])]);
    const instants = [...ofPeriods, ...this.facts.setups.map(({ validFrom }) => validFrom)].map(microseconds);
    return [...new Set([...instants, ...this.facts.cutOuts.map(({ atUs }) => atUs)])].sort((a, b) => a - b);
  }

  /** How the weld point and a station (null: the weld point itself) lie to each other at `atUs`; null where no set-up says. */
  probeAt(station: string | null, atUs: number): ProbePlace | null {
    const net = this.nets.at(atUs);
    if (station === null) return new ProbePlace(net, 0, null);
    const setup = this.setupAt(atUs);
    const path = setup?.stations.find(({ name }) => name === station)?.path;
    return setup === null || path === undefined ? null : new ProbePlace(net, (path.minMm + path.maxMm) / 2, setup.id);
  }

  /** The footage at the weld point that a place gives: of its reading, or the footage itself. */
  weldFootage(field: string, place: GivenPlace, at: Instant): Derived {
    const faults = placeFaults(field, { ...place, station: null });
    if (faults.length > 0) throw contradictory(faults);
    const own = Number(place.uMm ?? 0);
    if (place.footageMm != null) {
      return { mm: place.footageMm, uMm: own, predicted: false, restsOn: [] };
    }
    const counter = place.counter ?? this.masterCounter;
    const period = this.periodAt(counter, microseconds(at));
    if (period === null) {
      throw refusedField('no-counter-period', `${field}.counterReading`, place.counterReading,
        `a period of counter ${counter} that holds at ${at}; none is recorded`);
    }
    return {
      mm: footageAtReading(period, Number(place.counterReading)),
      uMm: own,
      predicted: false,
      restsOn: [{ kind: 'counter-period', id: period.record.id }],
    };
  }

  /** The material at a place: p = n⁻¹(n(F) − x) with the cut-outs known to have happened by then. */
  footage(field: string, place: GivenPlace, at: Instant): Derived {
    const weld = this.weldFootage(field, place, at);
    if (place.station == null) return weld;
    const faults = placeFaults(field, place);
    if (faults.length > 0) throw contradictory(faults);
    const { path, setupId } = this.station(`${field}.station`, place.station, at);
    const material = materialAtStation(weld.mm, path, this.nets.at(microseconds(at)));
    const rangeU = (material.toMm - material.fromMm) / Math.sqrt(12);
    return {
      mm: material.bestMm,
      uMm: rootSumOfSquares(weld.uMm, material.uMm, rangeU),
      predicted: material.predicted,
      restsOn: [...weld.restsOn, { kind: 'line-setup', id: setupId }],
    };
  }

  /** The derived columns of an interval or a single place. Refuses a reversed, empty or negative interval. */
  placed(given: GivenInterval, at: Instant): PlacedColumns {
    const from = this.footage('from', given.from, at);
    const to = given.to === null ? null : this.footage('to', given.to, at);
    const fromMm = roundMm(from.mm);
    const toMm = to === null ? fromMm + 1 : roundMm(to.mm);
    if (fromMm < 0) throw refusedField('outside-string', 'from', fromMm, 'a footage of 0 mm or more');
    if (toMm <= fromMm) {
      throw refusedField('empty-interval', 'to', toMm, `a footage above ${fromMm} mm: the interval is half-open`);
    }
    return {
      span: { fromMm, toMm },
      fromUMm: decimalMm(from.uMm),
      toUMm: decimalMm((to ?? from).uMm),
      predicted: from.predicted || (to?.predicted ?? false),
      restsOn: distinct([...from.restsOn, ...(to?.restsOn ?? [])]),
    };
  }

  /** @throws LengthError for cut-outs that contradict one another; made late, since a correction moves them one by one */
  private get nets(): NetLengths {
    this.netLengths ??= new NetLengths(this.facts.cutOuts);
    return this.netLengths;
  }

  private station(field: string, name: string, at: Instant): { path: PathDistance; setupId: string } {
    const setup = this.setupAt(microseconds(at));
    const station = setup?.stations.find((candidate) => candidate.name === name);
    if (setup === null || station === undefined) {
      const known = setup?.stations.map((candidate) => candidate.name).join(', ') ?? 'none: no set-up holds then';
      throw refusedField('no-station', field, name, `a station of the line set-up at ${at}: ${known}`);
    }
    return { path: station.path, setupId: setup.id };
  }
}

/** A computed length as decimal text, to a micrometre. */
export const decimalMm = (mm: number): string => String(Math.round(mm * 1000) / 1000);

function chained(periods: readonly TimedPeriod[]): { timed: TimedPeriod; period: CounterPeriod }[] {
  const counters = new Set(periods.map(({ counter }) => counter));
  return [...counters].flatMap((counter) => {
    const own = periods
      .filter((period) => period.counter === counter)
      .sort((a, b) => microseconds(a.during.from) - microseconds(b.during.from));
    const derived = chainPeriods(own);
    return own.flatMap((timed, index) => {
      const period = derived[index];
      return period === undefined ? [] : [{ timed, period }];
    });
  });
}

function holds({ from, until }: TimeSpan, atUs: number): boolean {
  return microseconds(from) <= atUs && (until === null || atUs < microseconds(until));
}

function distinct(references: readonly RestsOn[]): RestsOn[] {
  return [...new Map(references.map((reference) => [reference.id, reference])).values()];
}
