import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { HeldPipe } from '../evidence/held-pipe.service.js';
import { HandoverAcceptancesService } from '../handover-acceptances/handover-acceptances.service.js';
import type { HandoverItem } from '../handovers/handover.entity.js';
import { HandoversService } from '../handovers/handovers.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { labelOf } from '../nonconformances/nonconformance-label.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import { HOLDS } from '../recall/record-kinds.js';
import { Reinspections } from '../reinspections/reinspections.service.js';
import { RepairHistories } from '../reinspections/repair-histories.service.js';
import { jointOf } from '../rejoins/joint.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { stopsWithEnds } from '../seam-stops/stop-ends.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { AboutRecords, keyOf } from '../string-records/about-records.service.js';
import { intervalsOf } from '../reinspections/reinspection-answer.js';
import { linkTo } from '../trace/record-link.js';
import type { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import { LONGEST_WORDS, type Found } from './found.js';
import type { OpenItemAnswer, OpenItemsAnswer } from './open-items.dto.js';
import { byAge, isCutOut, isHandedOn, openOfHandover, openOfInspection, openOfRejoin, openOfSplice } from './open-items.rules.js';
import { OpenWork } from './open-work.service.js';
import { WaitingSignals } from './waiting-signals.service.js';

const CAUTIONS = [
  'What nobody entered is not in this list: an empty list does not say that all is well.',
  'A record is open until it is amended, withdrawn or its pipe cut out. That a later look passed, or that a nonconformance on the same footage was closed, settles nothing by itself, with six exceptions.',
  'A repair is settled by later looks (its re-inspection says by which), an examination where the same method accepted the place later, a step of a splice by a later one of its stage and station, a weld outside its procedure by a later weld there, a hold by its lifting, an indication by its last evaluation (open-indications tells what is left to the hang-off).',
  'An item that was taken over is listed until what it is about is open no more, or until the shift that took it over hands over in turn: what it does not name then is listed no longer.',
  'Not looked at here: doubt over instruments, qualifications, evidence that is missing (stages, examinations, samples that nobody entered). Ask the records of the splices and re-joins, the checks of the work, the instruments and the coverage of the tests. Signals of control charts are counted chart by chart; chart-signals tells each of them.',
  'Footage of an item of a handover is as given, and does not follow a corrected counter. Records are no interlock: a hold here does not stop the line.',
];

/** Kinds of record of which it is known here whether they are settled. */
const FOLLOWED: ReadonlySet<string> = new Set([
  'seam-event', 'splice', 'splice-step', 'weld', 'rejoin', 'repair', 'examination', 'indication', 'inspection', 'destructive-test', 'nonconformance', 'hold', 'control-chart',
]);

/** What is open though the pipe at its place was cut out: a line that stands, a paper that runs its own course. */
const WHEREVER: ReadonlySet<Found['what']> = new Set(['stop', 'nonconformance', 'handover-item']);

/** What is not settled on a string. */
@Injectable()
export class OpenItems {
  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly seamEvents: SeamEventsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
    private readonly inspections: InspectionsService,
    private readonly cutOuts: CutOutsService,
    private readonly nonconformances: NonconformancesService,
    private readonly handovers: HandoversService,
    private readonly acceptances: HandoverAcceptancesService,
    private readonly records: AboutRecords,
    private readonly work: OpenWork,
    private readonly segments: CoilSegmentsService,
    private readonly held: HeldPipe,
    private readonly signals: WaitingSignals,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string, with 409 when it was void. */
  async of(stringId: string, asKnownAt: string | null): Promise<OpenItemsAnswer> {
    const string = await this.strings.open(stringId, asKnownAt);
    const nonconformances = await this.nonconformances.ofString(stringId, asKnownAt);
    const [cutOuts, ...parts] = await Promise.all([
      this.cutOuts.ofString(stringId, asKnownAt), this.stops(stringId, asKnownAt), this.openSplices(stringId, asKnownAt), this.openInspections(stringId, asKnownAt),
      this.openRejoins(stringId, asKnownAt), this.openRepairs(stringId, asKnownAt), this.openHolds(stringId, asKnownAt), this.work.of(stringId, asKnownAt),
      this.signals.of(stringId, asKnownAt),
    ]);
    const removed = IntervalSet.from(cutOuts.map(({ span }) => span));
    const found = [...parts.flat(), ...nonconformances.filter(({ stage }) => stage !== 'closed').map(openNonconformance)];
    const open = found.filter((one) => WHEREVER.has(one.what) || !isCutOut(one.footage, removed));
    const handedOver = await this.handedOver(stringId, open, asKnownAt);
    return {
      string: linkTo('casing-string', string, string.name), asKnownAt, items: await this.answers([...open, ...handedOver], nonconformances, asKnownAt),
      cutOut: found.length - open.length, cautions: CAUTIONS,
    };
  }

  private async stops(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const stops = stopsWithEnds(await this.seamEvents.inOrder(stringId, asKnownAt)).filter(({ end }) => end === null);
    return stops.map(({ stop: row }) => ({
      what: 'stop', record: linkTo('seam-event', row, `${row.event} at ${row.span.fromMm} mm`), words: `the line stands: ${row.cause ?? ''}`, row, footage: [row.span], about: null,
    }));
  }

  private async openSplices(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const splices = await this.splices.ofString(stringId, asKnownAt);
    return splices.flatMap((row): Found[] => {
      const words = openOfSplice(row);
      return words === null ? [] : [{ what: 'splice', record: linkTo('splice', row, row.number), words, row, footage: [row.span], about: null }];
    });
  }

  /** The footage of a re-join is the pipe at both sides of it; of one whose cut-out was withdrawn there is none. */
  private async openRejoins(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const [rejoins, cutOuts] = await Promise.all([this.rejoins.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt)]);
    return rejoins.flatMap((row): Found[] => {
      const words = openOfRejoin(row);
      const cut = cutOuts.find(({ id }) => id === row.cutOutId);
      const footage = cut === undefined ? [] : intervalsOf(jointOf(cut.span).subtract(IntervalSet.of(cut.span)));
      return words === null ? [] : [{ what: 'rejoin', record: linkTo('rejoin', row, row.procedure), words, row, footage, about: null }];
    });
  }

  private async openRepairs(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const changed = await this.histories.changed(stringId, asKnownAt);
    const states = await this.reinspections.statesOf(stringId, changed, changed.repairs, asKnownAt);
    return changed.repairs.flatMap(({ row, record }, index): Found[] => {
      const state = states[index];
      if (state === undefined || state.isClosed) return [];
      return [{ what: 'repair', record, words: state.open.join('; ').slice(0, LONGEST_WORDS), row, footage: state.on, about: null }];
    });
  }

  /** Those that nobody lifted; of one of coils of which no pipe was made yet there is no footage. */
  private async openHolds(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const [segments, splices] = await Promise.all([this.segments.ofString(stringId, asKnownAt), this.splices.ofString(stringId, asKnownAt)]);
    const standing = await this.held.standing({ stringId, asKnownAt, segments, splices });
    return standing.map(({ hold: row, on }): Found => ({
      what: 'hold', record: linkTo('hold', row, HOLDS.label(row)), words: `held: ${row.cause}`.slice(0, LONGEST_WORDS), row, footage: intervalsOf(on), about: null,
    }));
  }

  private async openInspections(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const inspections = await this.inspections.notAccepted(stringId, asKnownAt);
    return inspections.map((row) => ({
      what: 'inspection', record: linkTo('inspection', row, `${row.kind}: ${row.characteristic}`), words: openOfInspection(row), row, footage: [row.span], about: null,
    }));
  }

  /** @param open what else is open */
  private async handedOver(stringId: string, open: readonly Found[], asKnownAt: string | null): Promise<Found[]> {
    const handovers = await this.handovers.ofString(stringId, asKnownAt);
    const acceptances = await this.acceptances.ofHandovers(handovers.map(({ id }) => id), asKnownAt);
    const names = await this.desk.namesOf([...acceptances.values()].map(({ doneBy }) => doneBy));
    const stillOpen = new Set(open.flatMap(({ record: { kind, id }, along = [id] }) => along.map((one) => keyOf({ kind, id: one }))));
    const isSettled = ({ about }: HandoverItem): boolean => about !== null && FOLLOWED.has(about.kind) && !stillOpen.has(keyOf(about));
    return handovers.flatMap((row) => {
      const acceptance = acceptances.get(row.id) ?? null;
      const takenOverBy = acceptance === null ? '' : (names.get(acceptance.doneBy) ?? acceptance.doneBy);
      const onward = { takenOverBy, isHandedOn: acceptance !== null && isHandedOn(row, acceptance.observedAt, handovers), isSettled };
      return openOfHandover(row, acceptance, onward).map(({ item: { about, footageMm }, words }): Found => ({
        what: 'handover-item', record: linkTo('handover', row, `of ${row.observedAt}`), words, row,
        footage: footageMm === null ? [] : [{ fromMm: footageMm, toMm: footageMm + 1 }], about,
      }));
    });
  }

  private async answers(found: readonly Found[], nonconformances: readonly Nonconformance[], asKnownAt: string | null): Promise<OpenItemAnswer[]> {
    const [names, about] = await Promise.all([
      this.desk.namesOf(found.map(({ row }) => row.doneBy)), this.records.links(found.flatMap((one) => one.about ?? []), asKnownAt),
    ]);
    return found.map(({ row, ...one }) => ({
      what: one.what, record: one.record, words: one.words, footage: one.footage, since: one.since ?? row.observedAt, doneBy: row.doneBy, doneByName: names.get(row.doneBy) ?? row.doneBy,
      nonconformances: one.what === 'nonconformance' ? [] : touching(one.footage, nonconformances), about: one.about === null ? null : (about.get(keyOf(one.about)) ?? null),
    })).sort(byAge);
  }
}

function openNonconformance(row: Nonconformance): Found {
  const footage = row.extent.map(({ fromMm, toMm }) => ({ fromMm, toMm }));
  return { what: 'nonconformance', record: linkOf(row), words: `${row.title} (${row.severity}, ${row.stage.replaceAll('-', ' ')})`, row, footage, about: null };
}

const linkOf = (row: Nonconformance): RecordLink => linkTo('nonconformance', row, labelOf(row.number));

function touching(footage: readonly IntervalAnswer[], nonconformances: readonly Nonconformance[]): RecordLink[] {
  const place = IntervalSet.from(footage);
  return nonconformances.filter(({ extent }) => place.overlaps(IntervalSet.from(extent))).map(linkOf);
}
