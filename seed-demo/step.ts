import type { Role } from '../apps/api/src/access/permissions.js';

/** The people of the demo, by the name they sign in with. */
export type Who = 'tomke' | 'ilka' | 'piet' | 'rasmus' | 'merle';

/** Fields of a request. A text `@key` stands for the id of the record entered under that key. */
export type Fields = Readonly<Record<string, unknown>>;

interface AtItsTime {
  /** When it was entered: the story's clock then. */
  readonly recordedAt: string;
  readonly by: Who;
  /** The route of the kind, such as `coils`. */
  readonly kind: string;
}

/** A new record. */
export interface Entry extends AtItsTime {
  readonly step: 'entry';
  readonly key: string;
  readonly fields: Fields;
  /** The fields whose implausible value is confirmed to be true; the program must ask about just these. */
  readonly confirmed: readonly string[];
}

/** Counter readings entered at once. */
export interface Readings extends AtItsTime {
  readonly step: 'readings';
  readonly key: string;
  readonly readings: readonly Fields[];
}

/** A record amended. */
export interface Amendment extends AtItsTime {
  readonly step: 'amendment';
  readonly of: string;
  readonly reason: string;
  readonly changes: Fields;
}

/** A record withdrawn. */
export interface Withdrawal extends AtItsTime {
  readonly step: 'withdrawal';
  readonly of: string;
  readonly reason: string;
}

/** A part of samples: when it was read, where the samples do not say it themselves. */
export interface SamplePart {
  readonly firstAt?: string;
  readonly lastAt?: string;
  /** Made when it is sent: the story is read more often than played. */
  readonly csv: () => string;
}

/** Samples of an inspection run, sent in parts as CSV whose first column places each sample. */
export interface Samples {
  readonly step: 'samples';
  readonly recordedAt: string;
  readonly by: Who;
  readonly key: string;
  /** The key of the inspection run. */
  readonly run: string;
  readonly position: 'counter' | 'time';
  /** The channel of each further column. */
  readonly columns: Readonly<Record<string, string>>;
  readonly parts: readonly SamplePart[];
}

/** A decision signed on a coil, on the evaluation as it stands then. */
export interface Decision {
  readonly step: 'decision';
  readonly recordedAt: string;
  readonly by: Who;
  readonly key: string;
  readonly coil: string;
  readonly decision: string;
  readonly grounds: string;
  readonly concessionLimit: string | null;
}

/** A release signed on the evidence as it stands then. */
export interface Release {
  readonly step: 'release';
  readonly recordedAt: string;
  readonly by: Who;
  readonly key: string;
  /** The key of the string. */
  readonly string: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly grounds: string;
  /** Why the pipe is released without each item that is not shown, by its code; just these must be. */
  readonly reasons: Readonly<Record<string, string>>;
  readonly ownWorkBecause: string | null;
}

/** Limits of a control chart, signed as they are shown then. */
export interface Limits {
  readonly step: 'limits';
  readonly recordedAt: string;
  readonly by: Who;
  readonly key: string;
  /** The key of the chart. */
  readonly chart: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly appliesFromMm: number;
  readonly removed: readonly { readonly fromMm: number; readonly toMm: number; readonly because: string }[];
  /** Only and always where something speaks against them. */
  readonly warningsAcceptedBecause: string | null;
  readonly grounds: string;
}

export type Step = Entry | Readings | Amendment | Withdrawal | Decision | Release | Limits | Samples;

/** Somebody of the demo. */
export interface Person {
  readonly name: string;
  readonly signInName: Who;
  readonly roles: readonly Role[];
}

/** Somebody of the crew who is named in records and never signs in. */
export interface CrewMember {
  /** The key of the person in the story. */
  readonly key: string;
  readonly name: string;
  readonly enteredAt: string;
}

/** The instant some minutes later, to the second. */
export function later(instant: string, minutes: number): string {
  return new Date(Date.parse(instant) + minutes * 60_000).toISOString();
}

/** A record entered after the event and not before something else was: at `notBefore`, or a few minutes after the event. */
export function enteredLater(by: Who, kind: string, key: string, notBefore: string, fields: Fields & { observedAt: string }): Entry {
  const entry = entered(by, kind, key, fields);
  return Date.parse(entry.recordedAt) < Date.parse(notBefore) ? { ...entry, recordedAt: notBefore } : entry;
}

/** A record entered a few minutes after it happened. */
export function entered(by: Who, kind: string, key: string, fields: Fields & { observedAt: string }): Entry {
  return { step: 'entry', by, kind, key, fields, recordedAt: later(fields.observedAt, 4), confirmed: [] };
}
