import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

export const ARRIVAL_STATES = ['to-come', 'due', 'past', 'not-known'] as const;
export const STATION_STATES = [...ARRIVAL_STATES, 'cut-out'] as const;

/** Footage that is expected, with its gate (expanded uncertainty, k = 2). */
export class ArrivalGateAnswer {
  @Computed({ description: 'The best figure, mm.', example: 212_000 })
  bestMm!: number;

  @Part({ description: 'The gate, half-open.', of: () => IntervalAnswer })
  gate!: IntervalAnswer;

  @Texts({ description: 'What it rests on.', example: ['coil LM-02 begins at 92400 mm, by splice S-1, confirmed'], max: 10, each: 500 })
  restsOn!: string[];
}

/** The place as it was seen on the pipe. */
export class ConfirmedPlaceAnswer {
  @Part({ description: 'Footage of the weld.', of: () => IntervalAnswer })
  span!: IntervalAnswer;

  @Computed({ description: 'Expanded uncertainty (k = 2) of its beginning, mm.', example: 10 })
  plusMinusMm!: number;

  @YesNo({ description: 'It begins in the gate by strip length; absent without one.', example: true, optional: true })
  isInGate!: boolean | null;

  @Computed({ description: 'How far outside that gate, mm: negative before it; 0 in it.', example: 0, optional: true })
  outsideMm!: number | null;
}

/** A sighting on record, against where the splice should have been. */
export class SpliceSightingAnswer {
  @Part({ description: 'The step.', of: () => RecordLink })
  step!: RecordLink;

  @When({ description: 'When it was seen.', example: '2026-03-02T08:40:00.000000Z' })
  at!: string;

  @Computed({ description: 'Footage at the weld point then, by the readings of the master counter, mm.', example: 218_200, optional: true })
  weldFootageMm!: number | null;

  @Computed({ description: 'Material at the station by its stated distance less the place of the splice, mm.', example: 0, optional: true })
  differenceMm!: number | null;

  @Computed({ description: 'Expanded uncertainty (k = 2) of the difference, mm.', example: 9, optional: true })
  plusMinusMm!: number | null;

  @YesNo({ description: 'The uncertainty explains the difference.', example: true, optional: true })
  agrees!: boolean | null;

  @Text({ description: 'In words, or why nothing can be said.', example: 'seen where the stated distance says, 0 mm off within ± 9 mm', max: 500 })
  words!: string;
}

/** A splice at one station. */
export class SpliceAtStation {
  @Text({ description: 'The station.', example: 'wall gauge', max: 60 })
  name!: string;

  @YesNo({ description: 'It is upstream of the weld point: what passes there is strip.', example: false })
  isUpstream!: boolean;

  @Part({ description: 'Footage at the weld point when the splice is expected there.', of: () => ArrivalGateAnswer })
  expected!: ArrivalGateAnswer;

  @Choice({ description: 'By the greatest footage that the readings reached: before, in or past the gate; cut-out: taken out before it came there.', example: 'past', of: STATION_STATES })
  state!: (typeof STATION_STATES)[number];

  @Parts({ description: 'Its sightings there.', of: () => SpliceSightingAnswer, max: 500 })
  sightings!: SpliceSightingAnswer[];

  @YesNo({ description: 'It is past the station, downstream of the weld point, and no sighting is on record.', example: false })
  isMissing!: boolean;
}

/** What a station upstream says of the future footage. */
export class UpstreamPrediction {
  @Text({ description: 'The station.', example: 'strip splice', max: 60 })
  station!: string;

  @When({ description: 'When it was seen there.', example: '2026-03-02T08:10:00.000000Z' })
  at!: string;

  @Choice({ description: 'Where that is on record: the place first given of the splice, or a sighting.', example: 'place', of: ['place', 'sighting'] })
  from!: 'place' | 'sighting';

  @Part({ description: 'The footage that it is to have.', of: () => ArrivalGateAnswer })
  expected!: ArrivalGateAnswer;
}

/** One splice, or the next one to come. */
export class SpliceArrivalAnswer {
  @Part({ description: 'The splice; absent for the next one to come.', of: () => RecordLink, optional: true })
  splice!: RecordLink | null;

  @Part({ description: 'The coil that ends there.', of: () => RecordLink, optional: true })
  leavingCoil!: RecordLink | null;

  @Part({ description: 'The coil that begins there; absent for the next one to come.', of: () => RecordLink, optional: true })
  enteringCoil!: RecordLink | null;

  @Part({ description: 'Where the weld is to begin, by the length of the strip.', of: () => ArrivalGateAnswer, optional: true })
  byStripLength!: ArrivalGateAnswer | null;

  @Text({ description: 'Why the strip says nothing.', example: null, max: 1000, optional: true })
  byStripLengthBecause!: string | null;

  @Parts({ description: 'Where it is to be, by stations upstream of the weld point.', of: () => UpstreamPrediction, max: 500 })
  byStationsUpstream!: UpstreamPrediction[];

  @Text({ description: 'Why no station upstream says anything.', example: null, max: 1000, optional: true })
  byStationsUpstreamBecause!: string | null;

  @Part({ description: 'Where it was seen.', of: () => ConfirmedPlaceAnswer, optional: true })
  confirmed!: ConfirmedPlaceAnswer | null;

  @Text({ description: 'Why its place is not confirmed.', example: null, max: 1000, optional: true })
  confirmedBecause!: string | null;

  @Choice({ description: 'The weld point against where the splice is expected or was seen: before it, in its gate, or past it.', example: 'past', of: ARRIVAL_STATES })
  atWeldPoint!: (typeof ARRIVAL_STATES)[number];

  @Parts({ description: 'The stations of the line set-up in force when it passed the weld point, or of the last one.', of: () => SpliceAtStation, max: 100 })
  stations!: SpliceAtStation[];

  @Text({ description: 'What the stations rest on, or why there are none.', example: 'by its confirmed place', max: 1000 })
  stationsBecause!: string;
}

/** Splices against coils, on the whole string. */
export class StringSpliceCount {
  @Computed({ description: 'Lengths of coil on the string, each run counted.', example: 7 })
  coilRuns!: number;

  @Computed({ description: 'Splices on the string.', example: 6 })
  splices!: number;

  @YesNo({ description: 'There is one splice fewer than there are runs of coil.', example: true })
  agrees!: boolean;
}

/** The count at one station. */
export class StationSpliceCount {
  @Text({ description: 'The station.', example: 'wall gauge', max: 60 })
  name!: string;

  @Computed({ description: 'Splices that are past it.', example: 6 })
  past!: number;

  @Computed({ description: 'Splices in their gate there: past it or not.', example: 0 })
  due!: number;

  @Computed({ description: 'Splices with a sighting there.', example: 5 })
  seen!: number;

  @Computed({ description: 'Sightings there.', example: 5 })
  sightings!: number;

  @YesNo({ description: 'Every splice past it was seen there, and none that cannot have come there yet.', example: false })
  agrees!: boolean;
}

/** Footage at the weld point by the last reading. */
export class LastWeldFootage {
  @Computed({ description: 'The greatest footage reached, mm.', example: 1_231_847 })
  footageMm!: number;

  @When({ description: 'When the counter was read last.', example: '2026-03-04T15:20:00.000000Z' })
  at!: string;
}

export class SpliceArrivalsAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'The knowledge it was answered from; absent for now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'Pipe made so far; absent without a reading of the master counter.', of: () => LastWeldFootage, optional: true })
  weldPoint!: LastWeldFootage | null;

  @Parts({ description: 'The splices, in string order.', of: () => SpliceArrivalAnswer, max: 100_000 })
  splices!: SpliceArrivalAnswer[];

  @Part({ description: 'The end of the coil that was fed last; absent on a string without coils.', of: () => SpliceArrivalAnswer, optional: true })
  next!: SpliceArrivalAnswer | null;

  @Parts({ description: 'The count at every station downstream.', of: () => StationSpliceCount, max: 1000 })
  stations!: StationSpliceCount[];

  @Part({ description: 'Splices against coils.', of: () => StringSpliceCount })
  count!: StringSpliceCount;

  @Texts({ description: 'What does not fit: splices missed, false, doubled or not seen, and stations that do not stand where they are said to.', example: [], max: 100_000, each: 100_000 })
  findings!: string[];

  @Texts({ description: 'What to bear in mind.', example: ['A gate says where to look.'], max: 10, each: 500 })
  cautions!: string[];
}
