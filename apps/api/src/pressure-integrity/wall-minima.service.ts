import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import type { Standing, WhyNotKnown } from '#libs/ratings';
import type { Summary } from '#libs/signals';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { Refused } from '../http/problem.js';
import { validGoes } from '../inspection-coverage/channel-coverage.js';
import { CHANNELS, linkOf } from '../recall/record-kinds.js';
import type { Repair } from '../repairs/repair.entity.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { EnvelopeViews } from '../signals/envelope-views.service.js';
import { SignalStretches, type PlacedSignal } from '../signals/signal-stretches.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import type { Stretch } from '../signals/stretch.js';
import { notRepairedSince, type WallReading } from './inspected-sizes.js';
import { LeastPlaces } from './least-places.service.js';
import { refOf, type Origins } from './origins.js';
import { inUnit, sampleText } from './printed-value.js';

/** Least walls of windows, and pipe of which a channel says only that its wall is below what it can show. */
export interface ChannelMinima {
  readonly walls: readonly WallReading[];
  readonly below: IntervalSet;
  readonly reasons: readonly Standing<WhyNotKnown>[];
  readonly notes: readonly string[];
}

/** Where the least of each piece is looked for. */
export interface MinimaQuestion {
  /** By rising footage; a least value is told for each of them. */
  readonly atoms: readonly Interval[];
  /** Ends over which no value of a neighbour is taken: of what is asked, of coils, splices, repairs. */
  readonly hardMm: ReadonlySet<number>;
  readonly repairs: readonly Repair[];
  readonly asKnownAt: string | null;
}


/** The least of some pipe, with the footage at which it was read, or in which it was; null where no reading is a number. */
interface PlacedLeast {
  readonly value: number | null;
  /** A reading says "at most". */
  readonly isBelow: boolean;
  readonly at: Interval | null;
}

const ATTEMPTS = 4;

/** Finds the least wall that channels read, window by window, from the summaries of their samples. */
@Injectable()
export class WallMinima {
  constructor(
    private readonly channels: ChannelsService,
    private readonly marks: SignalMarksService,
    private readonly stretches: SignalStretches,
    private readonly tracks: SignalTracks,
    private readonly envelopes: EnvelopeViews,
    private readonly places: LeastPlaces,
  ) {}

  /** Of validly inspected pipe alone. Throws as `SignalStretches.of`. */
  async of(stringId: string, question: MinimaQuestion, origins: Origins): Promise<ChannelMinima> {
    const { asKnownAt } = question;
    const [all, marks] = await Promise.all([this.channels.onString(stringId, asKnownAt), this.marks.onString(stringId, asKnownAt)]);
    const found: ChannelMinima[] = [];
    for (const channel of all.filter(({ measures }) => measures === 'wall-thickness')) found.push(await this.ofChannel(channel, marks, question, origins));
    return {
      walls: found.flatMap(({ walls }) => walls), below: IntervalSet.from(found.flatMap(({ below }) => below.intervals)),
      reasons: found.flatMap(({ reasons }) => reasons), notes: found.flatMap(({ notes }) => notes),
    };
  }

  private async ofChannel(channel: Channel, marks: readonly SignalMark[], question: MinimaQuestion, origins: Origins): Promise<ChannelMinima> {
    if (inUnit('1', channel.unit, 'mm') === null) {
      return { walls: [], below: IntervalSet.empty, reasons: [], notes: [`Channel ${channel.name} measures the wall in "${channel.unit}", which is no unit of length known here: it counts for nothing.`] };
    }
    const { placed, goes } = await this.goes(channel, marks, question.asKnownAt);
    const [walls, below]: [WallReading[], Interval[]] = [[], []];
    for (const [index, stretch] of placed.stretches.entries()) {
      const go = goes[index];
      if (go === undefined) continue;
      for (const { span, least: { value, isBelow, at } } of await this.ofStretch(placed, stretch, piecesOf(go, question))) {
        const text = value === null ? null : inUnit(sampleText(value), channel.unit, 'mm');
        if (isBelow) below.push(span);
        else if (text !== null) walls.push({ interval: span, of: givenOf(channel, text, at, origins) });
      }
    }
    const set = IntervalSet.from(below);
    const why = { wallThicknessMm: `channel ${channel.name} read a wall below the least that it can show` };
    const unplaced = placed.unplaced.reduce((sum, { samples }) => sum + samples, 0);
    return {
      walls, below: set, reasons: set.intervals.map((one) => ({ interval: one, of: why })),
      notes: unplaced === 0 ? [] : [`${unplaced} samples of channel ${channel.name} have no footage, and count for nothing.`],
    };
  }

  /** The stretches of a channel with what each of them inspected validly, from one state of knowledge. */
  private async goes({ id, stringId, name }: Channel, marks: readonly SignalMark[], asKnownAt: string | null): Promise<{ readonly placed: PlacedSignal; readonly goes: ReturnType<typeof validGoes> }> {
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      const placed = await this.stretches.of(stringId, id, asKnownAt);
      const tracks = await this.tracks.of(stringId, id, asKnownAt);
      if (tracks.length === placed.stretches.length && tracks.every(({ runId }, index) => placed.stretches[index]?.runId === runId)) return { placed, goes: validGoes(id, tracks, marks) };
    }
    throw new Refused(409, 'line-in-motion', `Samples of channel ${name} came in, or its counter was corrected, while its least readings were looked for: ask again.`);
  }

  /** The least of each piece, as the channel gives it. Of all pieces together summaries are read; of one over whose end one reaches, the samples at its ends. */
  private async ofStretch(placed: PlacedSignal, stretch: Stretch, pieces: readonly Piece[]): Promise<FoundLeast[]> {
    if (pieces.length === 0) return [];
    const edges = Float64Array.from(new Set(pieces.flatMap(({ span }) => [span.fromMm, span.toMm]).sort((a, b) => a - b)));
    const columns = await this.envelopes.ofStretch(placed, stretch, edges);
    const columnAt = new Map(Array.from(edges, (mm, index) => [mm, columns[index] ?? null]));
    const drawn: { readonly span: Interval; readonly summary: Summary }[] = [];
    for (const { span, hasHardEnd } of pieces) {
      const column = columnAt.get(span.fromMm) ?? null;
      if (column?.summary == null) continue;
      const isSharp = column.sharpness === 'exact' || (column.sharpness === 'shared' && !hasHardEnd);
      // A view of one column has samples at both of its ends.
      const [alone = null] = isSharp ? [column] : await this.envelopes.ofStretch(placed, stretch, Float64Array.of(span.fromMm, span.toMm));
      if (alone?.summary != null) drawn.push({ span, summary: alone.summary });
    }
    const places = await this.places.of(placed, stretch, drawn.flatMap(({ summary: { least } }) => (least === null ? [] : [least.address])));
    return drawn.map(({ span, summary: { n, least, counts } }) => ({
      span, least: { value: n === 0 ? null : least?.value ?? null, isBelow: counts.saturatedLow > 0, at: places.get(least?.address ?? -1) ?? null },
    }));
  }
}

/** Validly inspected pipe of one atom. */
interface Piece {
  readonly span: Interval;
  /** Beyond one of its ends lies pipe whose samples may not be taken for it. */
  readonly hasHardEnd: boolean;
}

interface FoundLeast {
  readonly span: Interval;
  readonly least: PlacedLeast;
}

/** What a go inspected validly, cut into atoms. */
function piecesOf({ fromUs, valid }: ReturnType<typeof validGoes>[number], { atoms, repairs, hardMm }: MinimaQuestion): Piece[] {
  const isHard = (mm: number): boolean => hardMm.has(mm) || !valid.contains(mm) || !valid.contains(mm - 1);
  return atoms.flatMap((atom) => valid.intersect(atom).intervals.flatMap((part) => notRepairedSince(fromUs, part, repairs).intervals))
    .map((span) => ({ span, hasHardEnd: isHard(span.fromMm) || isHard(span.toMm) }));
}

function givenOf(channel: Channel, value: string, at: Interval | null, origins: Origins): WallReading['of'] {
  const record = linkOf(CHANNELS, channel);
  return origins.with({ value, record: refOf(record), basis: 'measured minimum' as const }, { what: 'least wall read', record, at, u: null });
}
